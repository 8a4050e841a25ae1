/** Replacement for a chance of holding tight, whatever it costs. */
import { UsageError } from '../../errors.js';
import { conditionalSurvival, lawOf } from '../../life/distribution/functions.js';
import type { LifeModel } from '../../life/model.js';
import { columnOf, floatAt } from '../../numeric/columns.js';
import { findRoot } from '../../numeric/roots.js';
import { aboveZero } from '../knownCycle.js';

export interface HoldingAim {
  /** Chance of holding that is asked for, above 0 and at most 1. */
  target: number;
  /** Time over which it has to hold, in the model's unit of age, such as that between two shutdowns. */
  window?: number;
}

export interface ChosenHoldingAge {
  /** Longest age that a fresh one reaches with at least the target chance; null where none above 0 does. */
  age: number | null;
  /** With a window: which ages are fit to begin it. */
  overWindow: HoldingWindow | null;
}

export interface HoldingWindow {
  /** Chance that a fresh one holds over the window. */
  fresh: number;
  freshMeets: boolean;
  /** Ages in place from which it holds with at least the target chance: stretches in order; an end of null is never reached. */
  ages: [number, number | null][];
  /**
   * From this age on a fresh one is the likelier to hold over the window; younger ones are better left in place, or no
   * worse. Null where no age is. 0: any age is.
   */
  replaceFrom: number | null;
}

/**
 * Longest age at which survival still meets a target, fitting faults included. Beware of that question where fittings can be
 * faulty: each replacement is a new chance of a fault, so that a short age asked for by a high target makes more leaks, not
 * fewer. What a group of positions needs is a chance to hold over a window, until the next shutdown: give `window`, and see which
 * ages in place meet the target, whether a fresh diaphragm does, and from which age on a fresh one is the safer.
 * @throws UsageError for a target outside (0, 1] or a window that is not above 0
 */
export function chooseHoldingAge(model: LifeModel, { target, window }: HoldingAim): ChosenHoldingAge {
  if (!(target > 0 && target <= 1)) {
    throw new UsageError('chooseHoldingAge', 'the target must be a chance above 0 and at most 1.', target);
  }
  const law = lawOf(model);
  const held = -Math.log(target);
  const age = law.cumulativeHazard(model, 0) > held ? 0 : law.ageAtHazard(model, held);
  return {
    age: age > 0 ? age : null,
    overWindow: window === undefined ? null : overWindow(model, target, window),
  };
}

/** Differences of chances this small are none. */
const NONE = 1e-12;
const STEPS = 600;
/** Ages are looked at until exp of minus this are left. */
const OLDEST = 100;

function overWindow(model: LifeModel, target: number, window: number): HoldingWindow {
  aboveZero('chooseHoldingAge', 'the window', window);
  const holds = (age: number): number => conditionalSurvival(model, age + window, age);
  const fresh = holds(0);
  const ages = startingAges(model, window);
  const noWorse = stretches((age) => holds(age) - fresh + NONE, ages);
  const last = noWorse.at(-1)?.[1] ?? null;
  return {
    fresh,
    freshMeets: fresh >= target,
    ages: stretches((age) => holds(age) - target, ages),
    replaceFrom: last !== null && last <= floatAt(ages, 1) ? 0 : last,
  };
}

/** New, and by even steps of log age to where hardly any is left. */
function startingAges(model: LifeModel, window: number): Float64Array {
  const law = lawOf(model);
  const high = Math.log(law.ageAtHazard(model, law.cumulativeHazard(model, 0) + OLDEST));
  const low = Math.min(Math.log(window), high) - Math.log(1e5);
  return columnOf({ length: STEPS + 1 }, (_, i) =>
    i === 0 ? 0 : Math.exp(low + ((high - low) * i) / STEPS),
  );
}

/** Where a function is at or above 0 on a row of ages: its ends by roots, null where it lasts to the end of the row. */
function stretches(above: (age: number) => number, ages: Float64Array): [number, number | null][] {
  const found: [number, number | null][] = [];
  const values = columnOf(ages, above);
  let start = floatAt(values, 0) >= 0 ? 0 : null;
  for (let i = 1; i < ages.length; i++) {
    const isIn = floatAt(values, i) >= 0;
    if (isIn === (start !== null)) continue;
    const { root } = findRoot(above, floatAt(ages, i - 1), floatAt(ages, i), { relative: 1e-13 });
    if (start === null) start = root;
    else {
      found.push([start, root]);
      start = null;
    }
  }
  return start === null ? found : [...found, [start, null]];
}
