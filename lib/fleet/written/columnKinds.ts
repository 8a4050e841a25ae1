/** Which columns hold dates and which numbers; all others are words and stay as they are written. */

const DATES = [
  'in_service_since',
  'out_of_service_since',
  'fitted',
  'removed',
  'last_tight',
  'recorded',
  'date',
  'placed',
  'due',
  'cured',
  'use_by',
  'start',
  'end',
  'received',
];

const NUMBERS = [
  'size',
  'steam_cycles_per_week',
  'strokes_per_day',
  'hot_cleans_per_week',
  'accessories',
  'strokes',
  'steam_cycles',
  'hot_cleans',
  'price',
  'lead_time_days',
  'lead_time_sd_days',
  'pack',
  'min_order',
  'shelf_life_months',
  'shelf_life_left_at_receipt_months',
  'on_hand',
  'emergency_days',
  'emergency_extra_cost',
  'quantity',
  'crew_hours',
  'fitter_hours',
  'instrument_hours',
  'most_replacements',
  'most_lines',
  'used',
  'planned',
];

/** Periods `start..end`, several separated by a vertical bar. */
const PERIODS = ['idle'];

export type ColumnKind = 'date' | 'number' | 'periods' | 'words';

export function columnKind(column: string): ColumnKind {
  if (DATES.includes(column)) return 'date';
  if (NUMBERS.includes(column)) return 'number';
  return PERIODS.includes(column) ? 'periods' : 'words';
}
