/** The work of one replacement, by craft, from the tasks at a position. */
import type { Money, Position, Spread } from '../fleet/types.js';
import { addSpreads, NOTHING, scaleSpread } from './spread.js';

export interface ReplacementWork {
  /** Fitting and every re-tightening. */
  fitterHours: Spread;
  /** Recalibration of accessories. */
  instrumentHours: Spread;
  /** What is done, in order. */
  tasks: string[];
}

/**
 * Times a fitted diaphragm is re-tightened: once before start-up, and once more after the first steam cycle. Left out
 * only where the position is known not to be steamed; where nothing is said about steam, the second one is counted.
 */
export function retightenings(position: Position): 1 | 2 {
  return position.steamCyclesPerWeek === 0 ? 1 : 2;
}

/** Hours and tasks of one replacement at a position. An hour setting that is not given counts as nothing. */
export function replacementWork(money: Money, position: Position): ReplacementWork {
  const times = retightenings(position);
  const tasks = ['replace', 're-tighten before start-up'];
  if (times === 2) tasks.push('re-tighten after first steam cycle');
  if (position.accessories > 0) {
    tasks.push(
      `recalibrate ${position.accessories} ${position.accessories === 1 ? 'accessory' : 'accessories'}`,
    );
  }
  return {
    fitterHours: addSpreads(
      money.fittingHours ?? NOTHING,
      scaleSpread(money.retightenHours ?? NOTHING, times),
    ),
    instrumentHours: scaleSpread(money.recalibrationHoursPerAccessory ?? NOTHING, position.accessories),
    tasks,
  };
}
