/** The records that a group's own law was fitted to, with how long each life could have been watched. */
import type { Fleet } from '../fleet/types.js';
import { at, columnOf, floatAt } from '../numeric/columns.js';
import type { CellFit } from './fitCell.js';
import { ageInDays, type History, isRemoval } from './history.js';
import type { WearRecords } from './types.js';

/** A life still running is watched up to its age; one that ended could have been watched up to the day of the data. */
export function wearRecords(fleet: Fleet, history: History, fit: CellFit): WearRecords {
  const closing = columnOf(fit.cell.rows, (row) => {
    const life = at(history.life, row);
    const age = floatAt(history.age, row);
    if (!isRemoval(fleet, life)) return age;
    const pace = age / ageInDays(history, row);
    const open = pace * (fleet.site.dataUntil - floatAt(fleet.lives.fitted, life));
    return Number.isNaN(open) ? Infinity : Math.max(open, age);
  });
  return { sample: fit.wearSample, fault: fit.hiddenFault, closing };
}
