/** One clock: the best law of lives on it, its likelihood told in days. */

import {
  type AgeScale,
  END_ENTRY,
  END_LOWER,
  maximiseOnScale,
  type ScaleProblem,
  valuesOnScale,
} from '../../life/estimate/regression/ageScale.js';
import { EXACT, prepareRegression, SOUND } from '../../life/estimate/regression/rows.js';
import { standardLaw } from '../../life/estimate/regression/standardLaw.js';
import { startAt } from '../../life/estimate/regression/start.js';
import type { RegressionKind } from '../../life/estimate/regression/types.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { type Arrow, emptyArrow } from '../../numeric/arrow.js';
import { at, floatAt } from '../../numeric/columns.js';
import { quickTheta } from './quickTheta.js';
import type { ClockEnds, KnownClocks } from './readClocks.js';
import { DAYS } from './types.js';

/** A candidate: counts alone, or days plus a weight times counts. */
export interface Clock {
  name: string;
  parts: readonly string[];
  problem: ScaleProblem;
  /** Days per count at which both halves of a combination are about equal; the scale's parameter is the log of the weight over it. */
  unit: number;
  /** Why no law fits at all; empty otherwise. */
  impossible: string;
  /** Where a search for theta begins. */
  starts(): number[][];
  /** Ages on the first part, and on the second of a combination. */
  ends: ClockEnds;
  more: ClockEnds | null;
}

export interface ClockMaximum {
  theta: number[];
  /** Log-likelihood of the lives in days. */
  value: number;
  information: Arrow;
  /** Parameters counted in the AIC: those of the law, the weight of a combination, and what was estimated for its counts. */
  parameters: number;
  /** Log-likelihood of each row as one life, where it is known already. */
  each?: Float64Array;
}

/** Days, each exposure, and days plus each exposure. */
export function candidates(known: KnownClocks, kind: RegressionKind, combinations: boolean): Clock[] {
  const single = [[DAYS, known.days] as const, ...known.exposures].map(([name, ends]) =>
    clockOf(known.sample, kind, [name], ends, null),
  );
  if (!combinations) return single;
  const both = [...known.exposures].map(([name, ends]) =>
    clockOf(known.sample, kind, [DAYS, name], known.days, ends),
  );
  return [...single, ...both];
}

/** Null where there is no best law: a weight that runs away says that one half of a combination does without the other. */
export function fitClock(
  clock: Clock,
  count: Float64Array,
  starts: readonly number[][],
): ClockMaximum | null {
  if (clock.impossible !== '') return null;
  const problem = { ...clock.problem, count };
  let best: ClockMaximum | null = null;
  for (const start of starts) {
    const { theta, value, information, converged } = maximiseOnScale(problem, start);
    if (converged && (best === null || value > best.value)) {
      best = { theta, value, information, parameters: theta.length + estimatedOf(clock) };
    }
  }
  return best;
}

/** As `fitClock` for a Weibull law, by the quick search; the information is not looked at. */
export function quickClock(clock: Clock): ClockMaximum | null {
  if (clock.impossible !== '') return null;
  const { problem, ends, more, unit } = clock;
  const theta = quickTheta(problem.kind, problem.count, ends, more, unit);
  if (theta === null) return null;
  const each = valuesOnScale(problem, theta);
  let value = 0;
  for (let i = 0; i < each.length; i++) value += floatAt(problem.count, i) * floatAt(each, i);
  const parameters = theta.length + estimatedOf(clock);
  return Number.isFinite(value) ? { theta, value, information: emptyArrow(0, 0), parameters, each } : null;
}

function estimatedOf({ ends, more }: Clock): number {
  return ends.estimated + (more?.estimated ?? 0);
}

/** Days per count. Precondition: a combination. */
export function weightOf({ unit }: Clock, theta: readonly number[]): number {
  return unit * Math.exp(at(theta, 1));
}

function clockOf(
  sample: LifeSample,
  kind: RegressionKind,
  parts: readonly string[],
  ends: ClockEnds,
  more: ClockEnds | null,
): Clock {
  const law = standardLaw(kind);
  const spreads = kind === 'exponential' ? 0 : 1;
  const group = new Int32Array(sample.lower.length);
  const { kind: kinds } = prepareRegression(sample, [], group);
  const late = Uint8Array.from(sample.entry, (entry) => (entry > 0 ? 1 : 0));
  const unit = more === null ? 1 : evenWeight(more, ends);
  const scale = more === null ? singleScale(ends) : joinedScale(ends, more, unit);
  const problem = { law, scale, kind: kinds, late, count: sample.count, spreads };
  const impossible = more === null ? neverFails(kinds, ends) : '';
  const starts = (): number[][] => {
    const rows = prepareRegression({ ...sample, ...agesOf(ends) }, [], group);
    const [mu = 0, ...rest] = startAt({ law, rows, spreads });
    const middle = mu + rows.centre;
    return more === null
      ? [[middle, ...rest]]
      : [-2, 0, 2].map((log) => [middle + Math.log1p(Math.exp(log)), log, ...rest]);
  };
  return { name: parts.join(' and '), parts, problem, unit, impossible, starts, ends, more };
}

function agesOf({ lower, upper, entry }: ClockEnds): Pick<LifeSample, 'lower' | 'upper' | 'entry'> {
  return { lower, upper, entry };
}

function neverFails(kinds: Uint8Array, { lower, upper, rate }: ClockEnds): string {
  for (let i = 0; i < kinds.length; i++) {
    if (at(kinds, i) === SOUND) continue;
    const still = at(kinds, i) === EXACT ? floatAt(rate, i) === 0 : floatAt(upper, i) <= floatAt(lower, i);
    if (floatAt(upper, i) === 0 || still) return 'a life failed while this clock stood still';
  }
  return '';
}

/** Mean ratio of the two on the log scale, over lives where both have begun. */
function evenWeight(more: ClockEnds, days: ClockEnds): number {
  let [total, n] = [0, 0];
  for (let i = 0; i < days.lower.length; i++) {
    const ratio = endAt(days, i, lastEnd(days, i)) / endAt(more, i, lastEnd(days, i));
    if (!(ratio > 0 && ratio < Infinity)) continue;
    total += Math.log(ratio);
    n += 1;
  }
  return n === 0 ? 1 : Math.exp(total / n);
}

const END_UPPER = 1;

/** The end at which a life was last seen. */
export function lastEnd({ upper }: ClockEnds, i: number): number {
  return floatAt(upper, i) === Infinity ? END_LOWER : END_UPPER;
}

export function endAt({ lower, upper, entry }: ClockEnds, i: number, end: number): number {
  if (end === END_ENTRY) return floatAt(entry, i);
  return floatAt(end === END_LOWER ? lower : upper, i);
}

function singleScale(ends: ClockEnds): AgeScale {
  return {
    size: 0,
    logAge: (i, end, _, out) => {
      out.value = Math.log(endAt(ends, i, end));
    },
    logRate: (i, _, out) => {
      out.value = Math.log(floatAt(ends.rate, i));
    },
  };
}

/** z = days + weight times counts: its logarithm has the share of the counts as slope by the log of the weight. */
function joinedScale(days: ClockEnds, more: ClockEnds, unit: number): AgeScale {
  const log = (
    first: number,
    second: number,
    out: { value: number; slope: Float64Array; bend: Float64Array },
  ): void => {
    const total = first + second;
    const share = total > 0 ? second / total : 0;
    out.value = Math.log(total);
    out.slope[0] = share;
    out.bend[0] = share * (1 - share);
  };
  return {
    size: 1,
    logAge: (i, end, b, out) =>
      log(endAt(days, i, end), unit * Math.exp(floatAt(b, 0)) * endAt(more, i, end), out),
    logRate: (i, b, out) => log(1, unit * Math.exp(floatAt(b, 0)) * floatAt(more.rate, i), out),
  };
}
