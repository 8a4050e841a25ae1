/** The forecast of one item as functions of time, for netting and the reorder point. */
import { FIRST_YEAR_DAYS } from '../demand/itemPath.js';
import type { ItemDemand } from '../demand/types.js';
import { at, floatAt } from '../numeric/columns.js';
import {
  negativeBinomialCdf,
  negativeBinomialQuantile,
  poissonCdf,
  poissonQuantile,
} from '../numeric/special.js';
import type { RandomDemand } from './reorderPoint.js';

export interface ItemNeed {
  demand: ItemDemand | null;
  /** What random demand is, in words. */
  randomName: string;
  /** Days that the forecast covers. */
  horizon: number;
  /** Mean rate over the first year. */
  random: RandomDemand;
  randomMean: (from: number, to: number) => number;
  /** Quantile of random demand in (from, to] with a delivery that is sure to sd days. */
  randomQuantile: (p: number, from: number, to: number, sdDays: number) => number;
  /** Chance that at least so many are asked for at random in (from, to]. */
  randomAtLeast: (pieces: number, from: number, to: number, sdDays: number) => number;
}

/** Planned need, leaks and openings of a year. */
export function neededPerYear(demand: ItemDemand | null): number {
  return demand === null ? 0 : demand.plannedPerYear + demand.leaksPerYear + demand.openingsPerYear;
}

export function itemNeed(demand: ItemDemand | null, randomName = 'leaks and openings'): ItemNeed {
  const length = demand?.randomPerStep.length ?? 0;
  const stepDays = demand?.stepDays ?? 1;
  const mean = runningTotal(demand?.randomPerStep ?? []);
  const sd = runningTotal(demand?.randomParameterSdPerStep ?? []);
  const chance = runningTotal(
    (demand?.randomVariancePerStep ?? []).map(
      (variance, k) => variance - at(demand?.randomParameterSdPerStep ?? [], k) ** 2,
    ),
  );
  const between = (column: Float64Array, from: number, to: number): number =>
    valueAt(column, to / stepDays) - valueAt(column, from / stepDays);
  const year = Math.max(1, Math.min(length * stepDays, FIRST_YEAR_DAYS));
  const random = {
    perDay: between(mean, 0, year) / year,
    variancePerDay: between(chance, 0, year) / year,
    rateSd: between(sd, 0, year) / year,
  };
  const varianceOf = (from: number, to: number, sdDays: number): number =>
    between(chance, from, to) + between(sd, from, to) ** 2 + (random.perDay * sdDays) ** 2;
  return {
    demand,
    randomName,
    horizon: length * stepDays,
    random,
    randomMean: (from, to) => between(mean, from, to),
    randomQuantile: (p, from, to, sdDays) =>
      countQuantile(p, between(mean, from, to), varianceOf(from, to, sdDays)),
    randomAtLeast: (pieces, from, to, sdDays) =>
      countAtLeast(pieces, between(mean, from, to), varianceOf(from, to, sdDays)),
  };
}

/**
 * Counts of a mean up to here are added up one by one, many times faster than by the incomplete beta function; beyond it the
 * chance of none could be too small a number to start from.
 */
const FEW = 600;

/** Chance of 0, and the ratio of the chance of k + 1 to that of k: negative binomial, Poisson at a variance of the mean. */
function steps(mean: number, variance: number): { none: number; ratio: (k: number) => number } {
  if (variance <= mean * (1 + 1e-9)) return { none: Math.exp(-mean), ratio: (k) => mean / (k + 1) };
  const size = (mean * mean) / (variance - mean);
  const share = 1 - mean / variance;
  return {
    none: Math.exp(size * Math.log(mean / variance)),
    ratio: (k) => (share * (size + k)) / (k + 1),
  };
}

/** Chance of a count at or above a number, by its mean and variance, as countQuantile. */
function countAtLeast(pieces: number, mean: number, variance: number): number {
  const least = Math.ceil(pieces - 1e-9);
  if (least <= 0) return 1;
  if (mean <= 0) return 0;
  if (mean > FEW) {
    return (
      1 - (variance > mean ? negativeBinomialCdf(least - 1, mean, variance) : poissonCdf(least - 1, mean))
    );
  }
  const { none, ratio } = steps(mean, variance);
  let chance = none;
  let below = 0;
  for (let k = 0; k < least && chance > 0; k++) {
    below += chance;
    chance *= ratio(k);
  }
  return Math.max(0, 1 - below);
}

/** Quantile of a count by its mean and variance: negative binomial, Poisson where the variance is not above the mean. */
export function countQuantile(p: number, mean: number, variance: number): number {
  if (mean <= 0 || p <= 0) return 0;
  if (mean > FEW || p > 1 - 1e-9) {
    return variance > mean ? negativeBinomialQuantile(p, mean, variance) : poissonQuantile(p, mean);
  }
  const { none, ratio } = steps(mean, variance);
  let chance = none;
  let k = 0;
  for (let all = none; all < p; k++) {
    chance *= ratio(k);
    all += chance;
  }
  return k;
}

function runningTotal(column: readonly number[]): Float64Array {
  const totals = new Float64Array(column.length + 1);
  for (let k = 0; k < column.length; k++) totals[k + 1] = floatAt(totals, k) + at(column, k);
  return totals;
}

/** Value of a running total between its steps; beyond the last step it goes on at its mean rate. */
function valueAt(totals: Float64Array, steps: number): number {
  const last = totals.length - 1;
  if (last <= 0 || steps <= 0) return 0;
  if (steps >= last) return floatAt(totals, last) * (steps / last);
  const i = Math.floor(steps);
  return floatAt(totals, i) + (steps - i) * (floatAt(totals, i + 1) - floatAt(totals, i));
}
