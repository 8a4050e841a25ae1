/** The files of a fleet folder and the columns they may have, in the order of the documentation. */

export const CSV_COLUMNS = {
  'positions.csv': {
    needed: ['position', 'size'],
    other: [
      'line',
      'location',
      'duty',
      'criticality',
      'steam_cycles_per_week',
      'strokes_per_day',
      'hot_cleans_per_week',
      'steam_temperature_c',
      'steam_hold_minutes',
      'hot_clean_temperature_c',
      'hot_clean_hold_minutes',
      'service_temperature_c',
      'accessories',
      'material_next',
      'in_service_since',
      'out_of_service_since',
      'idle',
    ],
  },
  'lives.csv': {
    needed: ['position', 'material'],
    other: ['size', 'lot', 'fitted', 'removed', 'reason', 'finding', 'last_tight', 'fitted_by', 'recorded'],
  },
  'work-orders.csv': {
    needed: ['position', 'date', 'work'],
    other: ['material', 'size', 'lot', 'reason', 'finding', 'order', 'done_by', 'recorded'],
  },
  'readings.csv': {
    needed: ['position', 'date'],
    other: ['strokes', 'steam_cycles', 'hot_cleans'],
  },
  'items.csv': {
    needed: ['item', 'material', 'size'],
    other: [
      'price',
      'price_breaks',
      'lead_time_days',
      'lead_time_sd_days',
      'pack',
      'min_order',
      'shelf_life_months',
      'shelf_life_left_at_receipt_months',
      'on_hand',
      'emergency_days',
      'emergency_extra_cost',
      'approved_substitute',
    ],
  },
  'orders.csv': { needed: ['item', 'quantity'], other: ['placed', 'due', 'received'] },
  'lots.csv': { needed: ['item', 'lot', 'quantity'], other: ['cured', 'use_by'] },
  'monthly-use.csv': { needed: ['item', 'month', 'used'], other: ['planned'] },
  'shutdowns.csv': {
    needed: ['name', 'start', 'end'],
    other: [
      'crew_hours',
      'fitter_hours',
      'instrument_hours',
      'most_replacements',
      'most_lines',
      'must',
      'not_on',
      'lines',
      'stop_for',
    ],
  },
} as const satisfies Record<string, { needed: readonly string[]; other: readonly string[] }>;

export type CsvFile = keyof typeof CSV_COLUMNS;

export const CSV_FILES = Object.keys(CSV_COLUMNS) as CsvFile[];
export const SITE_FILE = 'site.json';
/** What the first cell of an example row begins with: such a row is never data. */
export const EXAMPLE_MARK = 'EXAMPLE ';
/** Without this and one of the two shapes of history there is nothing to plan. */
export const POSITIONS_FILE = 'positions.csv';
export const HISTORY_FILES = ['lives.csv', 'work-orders.csv'] as const satisfies readonly CsvFile[];
export type HistoryFile = (typeof HISTORY_FILES)[number];

/** A needed file that is not there; null where none is missing. */
export function missingNeeded(isThere: (file: CsvFile) => boolean): CsvFile | null {
  if (!isThere(POSITIONS_FILE)) return POSITIONS_FILE;
  return HISTORY_FILES.some(isThere) ? null : HISTORY_FILES[0];
}

/** A history may have either of two shapes. */
export function orOrders(file: CsvFile): string {
  return file === HISTORY_FILES[0]
    ? ` A table with one row per work order is named ${HISTORY_FILES[1]}.`
    : '';
}

/** The table that a file holds: lives of lives.csv. */
export function tableName(file: CsvFile): string {
  return file.replace(/\.csv$/, '');
}

/** All columns of a file, needed ones first. */
export function columnsOf(file: CsvFile): string[] {
  return [...CSV_COLUMNS[file].needed, ...CSV_COLUMNS[file].other];
}
