/** The forecast of one item as functions of time, for netting and the reorder point. */
import { FIRST_YEAR_DAYS } from '../demand/itemPath.js';
import type { ItemDemand } from '../demand/types.js';
import { at, floatAt } from '../numeric/columns.js';
import {
  negativeBinomialCdf,
  negativeBinomialPmf,
  negativeBinomialQuantile,
  poissonCdf,
  poissonPmf,
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

/**
 * Chance of 0, and what gives the others: the chance of k + 1 is that of k times (first + share k) / (k + 1). Negative binomial, Poisson
 * at a variance of the mean.
 */
function steps(mean: number, variance: number): { none: number; first: number; share: number } {
  if (variance <= mean * (1 + 1e-9)) return { none: Math.exp(-mean), first: mean, share: 0 };
  const size = (mean * mean) / (variance - mean);
  const none = Math.exp(size * Math.log(mean / variance));
  return { none, first: (mean * mean) / variance, share: (variance - mean) / variance };
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
  const { none, first, share } = steps(mean, variance);
  let chance = none;
  let below = 0;
  for (let k = 0; k < least && chance > 0; k++) {
    below += chance;
    chance *= (first + share * k) / (k + 1);
  }
  return Math.max(0, 1 - below);
}

/** Quantile of a count by its mean and variance: negative binomial, Poisson where the variance is not above the mean. */
export function countQuantile(p: number, mean: number, variance: number): number {
  if (mean <= 0 || p <= 0) return 0;
  if (mean > FEW || p > 1 - 1e-9) {
    return quantileByWalk(p, mean, variance) ?? exactQuantile(p, mean, variance);
  }
  return walked(p, 0, steps(mean, variance).none, mean, variance);
}

/** Adds up chances from that of a number on. */
function walked(p: number, start: number, chanceOfStart: number, mean: number, variance: number): number {
  const { first, share } = steps(mean, variance);
  let chance = chanceOfStart;
  let k = start;
  for (let all = chance; all < p; k++) {
    chance *= (first + share * k) / (k + 1);
    all += chance;
  }
  return k;
}

function exactQuantile(p: number, mean: number, variance: number): number {
  return variance > mean ? negativeBinomialQuantile(p, mean, variance) : poissonQuantile(p, mean);
}

/** What is so many standard deviations below the mean weighs nothing beside these chances. */
const FAR = 12;
const LEAST_CHANCE = 1e-6;
const LONGEST_WALK = 20_000;

/** Adds up chances from far below the mean on; null where that is too long a way, or the chance it starts from too small a number. */
function quantileByWalk(p: number, mean: number, variance: number): number | null {
  const way = FAR * Math.sqrt(Math.max(mean, variance));
  if (p < LEAST_CHANCE || p > 1 - 1e-9 || way > LONGEST_WALK) return null;
  const k = Math.max(0, Math.floor(mean - way));
  const plain = variance <= mean * (1 + 1e-9);
  const chance = plain ? poissonPmf(k, mean) : negativeBinomialPmf(k, mean, variance);
  return chance < 1e-290 ? null : walked(p, k, chance, mean, variance);
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
