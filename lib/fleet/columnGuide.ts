/** What each column of the fleet folder means, with its unit and an example: the README's tables and the empty folder are made of it. */
import type { CsvFile } from './columnNames.js';
import { HEAT_GUIDE } from './heat/heatGuide.js';

export interface ColumnGuide {
  meaning: string;
  /** Unit, or kind of text. */
  unit: string;
  example: string;
}

export interface TableGuide {
  about: string;
  columns: Readonly<Record<string, ColumnGuide>>;
}

export const COLUMN_GUIDE: Readonly<Record<CsvFile, TableGuide>> = {
  'positions.csv': {
    about: 'one row per valve',
    columns: {
      position: { meaning: 'the tag of the valve', unit: 'text', example: 'BR2-V104' },
      line: {
        meaning: 'the line that stops when the valve is opened',
        unit: 'text',
        example: 'Bioreactor 2',
      },
      location: {
        meaning: 'where in the plant; pick lists are sorted by line, location and position',
        unit: 'text',
        example: 'hall 2, level 1',
      },
      size: { meaning: 'nominal diameter DN', unit: 'mm', example: '25' },
      duty: { meaning: "what it does, in the plant's own words", unit: 'text', example: 'bioreactor' },
      criticality: {
        meaning: 'low, normal, high or safety; empty counts as normal',
        unit: 'word',
        example: 'high',
      },
      steam_cycles_per_week: {
        meaning: 'sterilisations in place with steam',
        unit: 'per week',
        example: '2',
      },
      strokes_per_day: { meaning: 'openings and closings', unit: 'per day', example: '40' },
      hot_cleans_per_week: { meaning: 'hot cleanings in place', unit: 'per week', example: '5' },
      ...HEAT_GUIDE,
      accessories: {
        meaning:
          'how many things must be recalibrated after a replacement (stroke limiter, position feedback, positioner)',
        unit: 'number',
        example: '2',
      },
      material_next: {
        meaning: 'what will be fitted next, if not the material that is in it now',
        unit: 'text',
        example: 'PTFE-faced EPDM',
      },
      in_service_since: { meaning: 'first day of service', unit: 'date', example: '2018-03-01' },
      out_of_service_since: {
        meaning: 'day it was or will be taken out of service for good',
        unit: 'date',
        example: '2024-05-31',
      },
      idle: {
        meaning:
          'times out of use, start..end, several separated by a vertical bar; a clamped diaphragm goes on ageing meanwhile',
        unit: 'dates',
        example: '2020-04-01..2020-09-30',
      },
    },
  },
  'lives.csv': {
    about: 'one row per diaphragm',
    columns: {
      position: { meaning: 'where it was fitted', unit: 'text', example: 'BR2-V104' },
      material: { meaning: 'of the diaphragm', unit: 'text', example: 'EPDM' },
      size: { meaning: 'nominal diameter DN, if not that of the position', unit: 'mm', example: '25' },
      lot: { meaning: "the maker's lot", unit: 'text', example: 'L2231' },
      fitted: {
        meaning:
          'day fitted; a life whose day is not known is set aside from fitting and still counts as demand',
        unit: 'date',
        example: '2023-02-14',
      },
      removed: { meaning: 'day taken out; empty = still running', unit: 'date', example: '2024-02-11' },
      reason: {
        meaning: 'leak, failed_test, condition, scheduled, opened, retired or unknown',
        unit: 'word',
        example: 'scheduled',
      },
      finding: {
        meaning: 'what it looked like: sound, worn, cracked, torn, swollen, creased, hardened or unknown',
        unit: 'word',
        example: 'worn',
      },
      last_tight: { meaning: 'last day on which a test found it tight', unit: 'date', example: '2024-01-15' },
      fitted_by: { meaning: 'who fitted it: a name, a number or a crew', unit: 'text', example: 'crew 3' },
      recorded: { meaning: 'day on which the row was written', unit: 'date', example: '2024-02-12' },
    },
  },
  'work-orders.csv': {
    about: 'one row per work order, in place of lives.csv or to go on from it',
    columns: {
      position: { meaning: 'where the work was done', unit: 'text', example: 'BR2-V104' },
      date: { meaning: 'day of the work', unit: 'date', example: '2024-02-11' },
      work: {
        meaning:
          'replaced, opened (for other work: the diaphragm is replaced all the same), fitted (where none was), removed (taken out of service), retightened, inspected (from outside), tested (found tight), calibrated or cancelled',
        unit: 'word',
        example: 'replaced',
      },
      material: {
        meaning: 'of the diaphragm that was fitted; empty = as before in this position',
        unit: 'text',
        example: 'EPDM',
      },
      size: { meaning: 'nominal diameter DN, if not that of the position', unit: 'mm', example: '25' },
      lot: { meaning: "the maker's lot of the diaphragm that was fitted", unit: 'text', example: 'L2231' },
      reason: {
        meaning: 'why the diaphragm before it was taken out, in the words of lives.csv',
        unit: 'word',
        example: 'scheduled',
      },
      finding: {
        meaning: 'what the diaphragm taken out looked like, in the words of lives.csv',
        unit: 'word',
        example: 'worn',
      },
      order: {
        meaning: 'number of the order; lines of one number within three days are one job',
        unit: 'text',
        example: '4711023',
      },
      done_by: { meaning: 'who did it: a name, a number or a crew', unit: 'text', example: 'crew 3' },
      recorded: { meaning: 'day on which the row was written', unit: 'date', example: '2024-02-12' },
    },
  },
  'readings.csv': {
    about: 'counters',
    columns: {
      position: { meaning: 'whose counter', unit: 'text', example: 'BR2-V104' },
      date: { meaning: 'day of the reading', unit: 'date', example: '2024-06-30' },
      strokes: { meaning: 'counter that adds up', unit: 'number', example: '41250' },
      steam_cycles: { meaning: 'counter that adds up', unit: 'number', example: '312' },
      hot_cleans: { meaning: 'counter that adds up', unit: 'number', example: '890' },
    },
  },
  'items.csv': {
    about: 'what stores keeps',
    columns: {
      item: { meaning: 'part number', unit: 'text', example: 'D-EP-025' },
      material: { meaning: 'one of those in lives.csv', unit: 'text', example: 'EPDM' },
      size: { meaning: 'nominal diameter DN', unit: 'mm', example: '25' },
      price: { meaning: 'of one diaphragm', unit: 'currency', example: '38.50' },
      price_breaks: {
        meaning:
          'price of each piece of larger orders: pieces, colon, price, several separated by a vertical bar',
        unit: 'currency',
        example: '50:36|200:33',
      },
      lead_time_days: { meaning: 'from order to shelf', unit: 'days', example: '45' },
      lead_time_sd_days: {
        meaning: 'how much that varies: its standard deviation; empty = a quarter of the lead time',
        unit: 'days',
        example: '12',
      },
      pack: { meaning: 'sold in packs of', unit: 'pieces', example: '5' },
      min_order: { meaning: 'least that can be ordered', unit: 'pieces', example: '10' },
      shelf_life_months: {
        meaning: 'from the cure date; empty = by its elastomer (see below)',
        unit: 'months',
        example: '84',
      },
      shelf_life_left_at_receipt_months: {
        meaning: 'what is left of it when it arrives',
        unit: 'months',
        example: '60',
      },
      on_hand: { meaning: 'on the shelf on the day of the data', unit: 'pieces', example: '14' },
      emergency_days: {
        meaning: 'how fast a hurried delivery is; empty = a quarter of the lead time',
        unit: 'days',
        example: '5',
      },
      emergency_extra_cost: { meaning: 'what it costs on top, per order', unit: 'currency', example: '250' },
      approved_substitute: { meaning: 'item that may be fitted instead', unit: 'text', example: 'D-PT-025' },
    },
  },
  'orders.csv': {
    about: 'what is already on order, and what has come',
    columns: {
      item: { meaning: 'part number', unit: 'text', example: 'D-EP-025' },
      quantity: {
        meaning: 'ordered and not yet received; of a past order: received',
        unit: 'pieces',
        example: '20',
      },
      placed: { meaning: 'day ordered', unit: 'date', example: '2025-11-03' },
      due: {
        meaning: 'day it should arrive; empty = day ordered and lead time',
        unit: 'date',
        example: '2026-01-10',
      },
      received: { meaning: 'day it came; empty = still on order', unit: 'date', example: '2025-12-19' },
    },
  },
  'lots.csv': {
    about: 'lots on the shelf',
    columns: {
      item: { meaning: 'part number', unit: 'text', example: 'D-EP-025' },
      lot: { meaning: "the maker's lot", unit: 'text', example: 'L2544' },
      quantity: { meaning: 'on the shelf', unit: 'pieces', example: '9' },
      cured: { meaning: 'cure date', unit: 'date', example: '2023-06-01' },
      use_by: {
        meaning: 'last day it may be fitted; empty = cure date and shelf life',
        unit: 'date',
        example: '2030-06-01',
      },
    },
  },
  'monthly-use.csv': {
    about: 'pieces taken from the shelf',
    columns: {
      item: { meaning: 'part number', unit: 'text', example: 'D-EP-025' },
      month: { meaning: 'as year and month', unit: 'month', example: '2025-11' },
      used: { meaning: 'taken in the month; empty for a month to come', unit: 'pieces', example: '4' },
      planned: {
        meaning:
          'of these, for planned work; for a month to come: what is planned, ordered for its first day',
        unit: 'pieces',
        example: '3',
      },
    },
  },
  'shutdowns.csv': {
    about: 'planned windows',
    columns: {
      name: { meaning: 'of the shutdown', unit: 'text', example: 'Spring 2026' },
      start: { meaning: 'first day', unit: 'date', example: '2026-04-06' },
      end: { meaning: 'last day', unit: 'date', example: '2026-04-12' },
      crew_hours: {
        meaning: 'hours the crew has for diaphragms; empty = no limit',
        unit: 'hours',
        example: '160',
      },
      fitter_hours: {
        meaning: 'of these, hours of fitters; empty = no limit of their own',
        unit: 'hours',
        example: '100',
      },
      instrument_hours: {
        meaning: 'of these, hours of instrument fitters; empty = no limit of their own',
        unit: 'hours',
        example: '40',
      },
      most_replacements: {
        meaning: 'most replacements in it; empty = no limit',
        unit: 'number',
        example: '60',
      },
      most_lines: {
        meaning: 'most lines that may be down in it; empty = no limit',
        unit: 'number',
        example: '2',
      },
      must: {
        meaning: 'positions that must be replaced in it, separated by a vertical bar',
        unit: 'text',
        example: 'BR2-V104|BR2-V107',
      },
      not_on: {
        meaning: 'positions and lines that must not be touched in it, separated by a vertical bar',
        unit: 'text',
        example: 'Bioreactor 2',
      },
      lines: {
        meaning: 'lines it covers, separated by a vertical bar; empty = all',
        unit: 'text',
        example: 'Bioreactor 1|Bioreactor 2',
      },
      stop_for: {
        meaning: 'replacements if the line stops for them, anyway (the default) if it stops in any case',
        unit: 'word',
        example: 'anyway',
      },
    },
  },
};
