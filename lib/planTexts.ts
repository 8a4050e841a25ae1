/** Texts that the plan as a whole carries. */
import type { Fleet } from './fleet/types.js';

/** Carried by every report, notebook and the README. */
export const CAUTION =
  'These results support a decision and do not replace it. The maker’s limits on service life, pressure and ' +
  'temperature, local codes for pressure equipment, change control, and licensed or qualified practice come first. ' +
  'Before a valve is opened: isolate, depressurise, drain, cool and lock out, and prove that the pressure is gone. ' +
  'An interval beyond the longest life in the data is an extrapolation and is marked as one.';

/** What each file that may be missing switches off when it is. */
const SWITCHES: readonly [file: string, effect: string][] = [
  [
    'items.csv',
    'no items.csv: no stock table, no order list, and the price of a diaphragm counts as nothing',
  ],
  ['orders.csv', 'no orders.csv: nothing is taken to be on order'],
  ['lots.csv', 'no lots.csv: stock on hand is taken not to expire'],
  ['shutdowns.csv', 'no shutdowns.csv: work is listed by the month in which it is due, without crew hours'],
  ['readings.csv', 'no readings.csv: strokes and cycles are those of positions.csv where it gives them'],
  [
    'site.json',
    'no site.json: no prices of labour and downtime, no limits and no targets of the plant’s own',
  ],
];

/** One sentence per missing file. */
export function switchedOff(fleet: Fleet): string[] {
  return SWITCHES.filter(([file]) => !fleet.filesRead.includes(file)).map(([, effect]) => effect);
}
