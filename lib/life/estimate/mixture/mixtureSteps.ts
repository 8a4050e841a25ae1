/** Expectation and maximisation for two Weibull parts. */
import { columnOf, floatAt, sum } from '../../../numeric/columns.js';
import type { WeibullModel } from '../../model.js';
import { isFailure, ownClusters } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { maximiseWeibull } from '../weibull/maximiseWeibull.js';
import { prepareRows, rowLogLikelihood } from '../weibull/weibullLikelihood.js';

interface Part {
  shape: number;
  scale: number;
}

export interface TwoParts {
  /** Share of part `one`. */
  share: number;
  one: Part;
  other: Part;
}

export interface MixtureEnd {
  /** Null where a part shrank onto one age or vanished on the way. */
  parts: TwoParts | null;
  /** Failures that each part accounts for. */
  failures: [number, number];
  iterations: number;
}

/** Newton's method does the rest. */
const MOST_STEPS = 150;
const SMALL_STEP = 1e-6;

/** Steps from a chance that each row is of part one until they move little. Precondition: a merged sample without unknown causes. */
export function climbMixture(rows: LifeSample, chances: Float64Array): MixtureEnd {
  const watched = withUnseen(rows);
  let chance: Float64Array = Float64Array.from(
    { length: watched.lower.length },
    (_, i) => chances[i % rows.lower.length] as number,
  );
  let weight: Float64Array = Float64Array.from(watched.count);
  for (let i = rows.lower.length; i < weight.length; i++) weight[i] = 0;
  let last: TwoParts | null = null;
  for (let iteration = 1; iteration <= MOST_STEPS; iteration++) {
    const parts = partsFrom(watched, weight, chance, last);
    const failures = failuresOf(rows, chance);
    if (parts === null) return { parts: null, failures, iterations: iteration };
    if (last !== null && isClose(parts, last)) return { parts, failures, iterations: iteration };
    chance = chancesOf(watched, parts);
    weight = weightsOf(rows, watched, parts);
    last = parts;
  }
  return { parts: last, failures: failuresOf(rows, chance), iterations: MOST_STEPS };
}

/**
 * The rows as if all were watched from new, and behind them, for each row with late entry, the lives like it that failed before
 * they could be watched: failed in (0, entry].
 */
function withUnseen(rows: LifeSample): LifeSample {
  const late = Array.from(rows.entry.keys()).filter((i) => floatAt(rows.entry, i) > 0);
  const join = (first: Float64Array, more: Float64Array): Float64Array => Float64Array.of(...first, ...more);
  const start = rows.lower.map((t, i) => Math.max(t, floatAt(rows.entry, i)));
  const size = rows.lower.length + late.length;
  return {
    lower: join(start, new Float64Array(late.length)),
    upper: join(
      rows.upper,
      columnOf(late, (i) => floatAt(rows.entry, i)),
    ),
    entry: new Float64Array(size),
    count: join(
      rows.count,
      columnOf(late, (i) => floatAt(rows.count, i)),
    ),
    cluster: ownClusters(size),
  };
}

/** Maximisation: share and each part's Weibull from rows weighted by their chances. */
function partsFrom(
  rows: LifeSample,
  weight: Float64Array,
  chance: Float64Array,
  last: TwoParts | null,
): TwoParts | null {
  const mine = weight.map((w, i) => w * floatAt(chance, i));
  const theirs = weight.map((w, i) => w * (1 - floatAt(chance, i)));
  const one = weibullFrom(rows, mine, last?.one);
  const other = weibullFrom(rows, theirs, last?.other);
  const share = sum(mine) / sum(weight);
  return one === null || other === null ? null : { share, one, other };
}

function weibullFrom(rows: LifeSample, count: Float64Array, start: Part | undefined): Part | null {
  const kept = Array.from(count.keys()).filter((i) => floatAt(count, i) > 1e-12);
  const column = (from: Float64Array): Float64Array => columnOf(kept, (i) => floatAt(from, i));
  const part = {
    lower: column(rows.lower),
    upper: column(rows.upper),
    entry: column(rows.entry),
    count: column(count),
    cluster: ownClusters(kept.length),
  };
  if (!part.upper.some((t) => t < Infinity)) return null;
  const prepared = prepareRows(part);
  const near = start === undefined ? undefined : maximiseWeibull(prepared, { start });
  const top = near?.converged ? near : maximiseWeibull(prepared);
  return top.converged && top.shape < 1e4 ? { shape: top.shape, scale: top.scale } : null;
}

/** Expectation: the chance that each row is of part one. */
function chancesOf(rows: LifeSample, { share, one, other }: TwoParts): Float64Array {
  const [first, second] = [weibull(one), weibull(other)];
  return rows.lower.map((_, i) => {
    const log = rowLogLikelihood(rows, i, second) - rowLogLikelihood(rows, i, first);
    return Number.isNaN(log) ? share : share / (share + (1 - share) * Math.exp(log));
  });
}

/** Lives seen, and for each seen after a late entry those that must have failed before: chance to fail by it over chance not to. */
function weightsOf(rows: LifeSample, watched: LifeSample, { share, one, other }: TwoParts): Float64Array {
  const [first, second] = [weibull(one), weibull(other)];
  const failed = (model: WeibullModel, t: number): number => -Math.expm1(-((t / model.scale) ** model.shape));
  return watched.count.map((count, i) => {
    if (i < rows.lower.length) return count;
    const t = floatAt(watched.upper, i);
    const before = share * failed(first, t) + (1 - share) * failed(second, t);
    return (count * before) / Math.max(1 - before, 1e-12);
  });
}

function failuresOf(rows: LifeSample, chance: Float64Array): [number, number] {
  let [mine, theirs] = [0, 0];
  for (let i = 0; i < rows.lower.length; i++) {
    if (!isFailure(rows, i)) continue;
    mine += floatAt(rows.count, i) * floatAt(chance, i);
    theirs += floatAt(rows.count, i) * (1 - floatAt(chance, i));
  }
  return [mine, theirs];
}

function weibull({ shape, scale }: Part): WeibullModel {
  return { kind: 'weibull', shape, scale };
}

function isClose(parts: TwoParts, last: TwoParts): boolean {
  const near = (a: number, b: number): boolean => Math.abs(Math.log(a / b)) < SMALL_STEP;
  const same = (a: Part, b: Part): boolean => near(a.shape, b.shape) && near(a.scale, b.scale);
  return near(parts.share, last.share) && same(parts.one, last.one) && same(parts.other, last.other);
}
