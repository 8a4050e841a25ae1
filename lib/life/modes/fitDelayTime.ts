/** The fit of two steps, damage first and then a leak (delayTime.ts), with bounds. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, itemAt } from '../../numeric/columns.js';
import { localPrecision } from '../../numeric/localWords.js';
import { minimiseSimplex, minimiseSmooth } from '../../numeric/minimise.js';
import { findRoot } from '../../numeric/roots.js';
import { chiSquareQuantile } from '../../numeric/special.js';
import { type DelayTimeRow, type DelayTimeState, delayTimeLikelihood } from '../estimate/delayTime.js';
import type { Parameter } from '../estimate/fitTypes.js';
import type { WeibullModel } from '../model.js';
import type { Bounds } from '../sampleTypes.js';
import { climbToSummit } from './summit.js';

export interface DelayTimeFit {
  /** Age at damage. */
  damage: WeibullModel;
  /** Mean of the exponential delay from damage to leak, in the unit of age. */
  delay: number;
  logLikelihood: number;
  /** logShape, logScale, logDelay. */
  parameters: Parameter[];
  /** Covariance of `parameters`, row by row in one list. */
  covariance: number[];
  /** Lives that leaked; that were found damaged without a leak; that were found sound. */
  leaked: number;
  damaged: number;
  sound: number;
  /** As given. */
  rows: readonly DelayTimeRow[];
  warnings: Warning[];
}

export interface DelayTimeBounds {
  /** Of the age at damage. */
  shape: Bounds;
  scale: Bounds;
  /** Of the mean delay. */
  delay: Bounds;
}

/** So many of each kind let the two steps be told apart (METHODS 1.3). */
const NEEDED = 5;
/** Steps to the oldest age: the density of damage is then good to six digits. */
const STEPS = 1000;
const STATES: readonly DelayTimeState[] = ['leaked', 'damaged', 'damaged or leaked', 'sound', 'not leaked'];
const FARTHEST = 12;
/** Standard error of log delay from which on 90 % bounds are a factor of ten apart. */
const LOOSE = 0.7;

/**
 * Fits the age at damage (Weibull) and the delay from damage to leak (exponential) together, from lives that leaked, were taken out
 * damaged, or were found sound (delay-time model, Christer & Waller 1984, from memory). Taking damage found at removals as all
 * there is makes lives look wrong where some of it had leaked before: damage hides among the leaks.
 *
 * @throws UsageError with fewer than 5 lives leaked, 5 damaged without a leak or 5 not leaked and not damaged, for ages that are
 * no numbers above 0 and above their entry (rows named from 1), and a likelihood without a top
 */
export function fitDelayTime(rows: readonly DelayTimeRow[]): DelayTimeFit {
  rows.forEach(requireRow);
  const count = (...states: DelayTimeState[]): number =>
    rows.filter(({ state }) => states.includes(state)).length;
  const counts = { leaked: count('leaked'), damaged: count('damaged'), sound: count('sound') };
  requireEnough(counts.leaked, counts.damaged, count('sound', 'not leaked'));
  const { unit, scaled, likelihood } = inUnits(rows);
  const top = topOf(likelihood, targetOf(delayTimeLikelihood(scaled)), counts);
  const logUnit = Math.log(unit);
  const parameters = NAMES.map((name, i) => ({
    name,
    estimate: at(top.at, i) + (i === 0 ? 0 : logUnit),
    standardError: Math.sqrt(at(top.covariance, 4 * i)),
  }));
  const value = (i: number): number => Math.exp(itemAt(parameters, i).estimate);
  return {
    damage: { kind: 'weibull', shape: value(0), scale: value(1) },
    delay: value(2),
    // The density of a leak is per unit of age.
    logLikelihood: likelihood(top.at) - counts.leaked * logUnit,
    parameters,
    covariance: top.covariance,
    ...counts,
    rows,
    warnings: warningsOf(itemAt(parameters, 2), counts),
  };
}

/**
 * Two-sided bounds of shape, scale and mean delay by profile likelihood, lives independent of each other. Ends that do not exist
 * are 0 and Infinity.
 * @throws UsageError for a level not between 0 and 1
 */
export function delayTimeBounds(fit: DelayTimeFit, options: { level?: number } = {}): DelayTimeBounds {
  const { level = 0.9 } = options;
  if (!(level > 0 && level < 1)) {
    throw new UsageError('delayTimeBounds', 'level must be between 0 and 1.', level);
  }
  const { unit, likelihood } = inUnits(fit.rows);
  const shift = [0, Math.log(unit), Math.log(unit)];
  const top = fit.parameters.map(({ estimate }, i) => estimate - at(shift, i));
  const se = fit.parameters.map(({ standardError }) => standardError);
  const drop = 0.5 * chiSquareQuantile(level, 1);
  const of = (i: number): Bounds => boundsOf(likelihood, top, i, se, drop, at(shift, i));
  return { shape: of(0), scale: of(1), delay: of(2) };
}

const NAMES = ['logShape', 'logScale', 'logDelay'];

/** Ages in units of the oldest, so that starts and limits are of order one. */
function inUnits(rows: readonly DelayTimeRow[]): {
  unit: number;
  scaled: DelayTimeRow[];
  likelihood: Target;
} {
  const unit = rows.reduce((most, { age }) => Math.max(most, age), 0);
  const scaled = rows.map((row) => ({ ...row, age: row.age / unit, entry: row.entry / unit }));
  return { unit, scaled, likelihood: targetOf(delayTimeLikelihood(scaled, STEPS)) };
}

type Target = (x: readonly number[]) => number;

function targetOf(likelihood: (shape: number, scale: number, delay: number) => number): Target {
  return (x) => {
    if (x.some((value) => !(Math.abs(value) < FARTHEST))) return Number.NEGATIVE_INFINITY;
    const value = likelihood(Math.exp(at(x, 0)), Math.exp(at(x, 1)), Math.exp(at(x, 2)));
    return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
  };
}

/** Best of several starts by a likelihood of fewer steps, then the top of the other; ages are in units of the oldest. */
function topOf(
  likelihood: Target,
  coarse: Target,
  { leaked, damaged }: { leaked: number; damaged: number },
): { at: number[]; covariance: number[] } {
  const cost: Target = (x) => Math.min(-coarse(x), 1e300);
  const starts = [0.1, 0.4].flatMap((delay) =>
    [1.2, 3].map((shape) => [Math.log(shape), 0, Math.log(delay)]),
  );
  const ends = starts.map((start) =>
    minimiseSimplex(cost, start, { step: 0.3, tolerance: 1e-7, maxIterations: 200 }),
  );
  const best = ends.reduce((one, other) => (other.value < one.value ? other : one));
  const units = [leaked + damaged, leaked + damaged, Math.min(leaked, damaged)].map((n) => 1 / Math.sqrt(n));
  const top = climbToSummit(likelihood, best.at, units);
  const near = top.at.every((value, i) => Math.abs(value - at(best.at, i)) < 0.5);
  if (top.converged && near) return top;
  const rule = 'no best parameters were found: damage and delay cannot be told apart in these lives.';
  throw new UsageError('fitDelayTime', rule);
}

/** Where the profile of parameter i has fallen by `drop`, the other two at their best for each value. */
function boundsOf(
  likelihood: Target,
  top: readonly number[],
  i: number,
  se: readonly number[],
  drop: number,
  shift: number,
): Bounds {
  const highest = likelihood(top);
  const others = [0, 1, 2].filter((j) => j !== i);
  let last = top;
  const above = (value: number): number => {
    const place = (x: readonly number[]): number[] => {
      const full = [value, value, value];
      others.forEach((j, k) => {
        full[j] = at(x, k);
      });
      return full;
    };
    const start = others.map((j) => at(last, j));
    const cost = (x: readonly number[]): number => Math.min(-likelihood(place(x)), 1e300);
    const steps = others.map((j) => 0.02 * at(se, j));
    const near = minimiseSmooth(cost, start, steps, 1e-6);
    const best = near.converged ? near : minimiseSimplex(cost, start, { step: 0.1, tolerance: 1e-10 });
    last = place(best.at);
    return drop - (highest + best.value);
  };
  const end = (direction: 1 | -1): number => {
    last = top;
    let near = at(top, i);
    for (let stride = 1.5 * at(se, i); Math.abs(near + direction * stride) < FARTHEST; stride *= 1.5) {
      const far = near + direction * stride;
      if (above(far) < 0)
        return findRoot(above, Math.min(near, far), Math.max(near, far), { absolute: 1e-7 }).root;
      near = far;
    }
    return direction * Infinity;
  };
  const back = (x: number): number => Math.exp(x + shift);
  return { estimate: back(at(top, i)), low: back(end(-1)), high: back(end(1)) };
}

function requireRow({ state, age, entry }: DelayTimeRow, i: number): void {
  const fail = (rule: string, value: unknown): never => {
    throw new UsageError('fitDelayTime', `row ${i + 1}: ${rule}`, value);
  };
  if (!STATES.includes(state)) fail(`state must be one of ${STATES.join(', ')}.`, state);
  if (!(entry >= 0 && entry < Infinity)) fail('entry must be a finite age at or above 0.', entry);
  if (!(age > entry && age < Infinity)) fail('age must be finite, above 0 and above entry.', age);
}

function requireEnough(leaked: number, damaged: number, unharmed: number): void {
  const fewest = Math.min(leaked, damaged, unharmed);
  if (fewest >= NEEDED) return;
  throw new UsageError(
    'fitDelayTime',
    `at least ${NEEDED} lives each must have leaked, have been damaged without a leak, and have done neither. With fewer leaks or damages fit the one that there is by fitLife.`,
    `${leaked}, ${damaged} and ${unharmed}`,
  );
}

function warningsOf(
  { estimate, standardError }: Parameter,
  { leaked, damaged }: { leaked: number; damaged: number },
): Warning[] {
  if (standardError < LOOSE) return [];
  const [low, high] = [-1.645, 1.645].map((z) => localPrecision(Math.exp(estimate + z * standardError), 2));
  return [
    {
      code: 'delay-loose',
      text: `From ${leaked} leaks and ${damaged} found damaged the mean delay may be anything from about ${low} to ${high}.`,
      todo: 'Record what is found at each removal; do not time inspections by this delay.',
    },
  ];
}
