/** The forecast of one item as functions of time, for netting and the reorder point. */
import type { ItemDemand } from '../demand/types.js';
import { at, floatAt } from '../numeric/columns.js';
import { negativeBinomialQuantile, poissonQuantile } from '../numeric/special.js';
import type { RandomDemand } from './reorderPoint.js';

export interface ItemNeed {
  demand: ItemDemand | null;
  /** Days that the forecast covers. */
  horizon: number;
  /** Mean rate over the first year. */
  random: RandomDemand;
  randomMean: (from: number, to: number) => number;
  /** Quantile of random demand in (from, to] with a delivery that is sure to sd days. */
  randomQuantile: (p: number, from: number, to: number, sdDays: number) => number;
}

const FIRST_YEAR_DAYS = 365;

export function itemNeed(demand: ItemDemand | null): ItemNeed {
  const steps = demand?.randomPerStep.length ?? 0;
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
  const year = Math.max(1, Math.min(steps * stepDays, FIRST_YEAR_DAYS));
  const random = {
    perDay: between(mean, 0, year) / year,
    variancePerDay: between(chance, 0, year) / year,
    rateSd: between(sd, 0, year) / year,
  };
  return {
    demand,
    horizon: steps * stepDays,
    random,
    randomMean: (from, to) => between(mean, from, to),
    randomQuantile: (p, from, to, sdDays) => {
      const expected = between(mean, from, to);
      const shared = between(sd, from, to);
      const variance = between(chance, from, to) + shared * shared + (random.perDay * sdDays) ** 2;
      return countQuantile(p, expected, variance);
    },
  };
}

/** Quantile of a count by its mean and variance: negative binomial, Poisson where the variance is not above the mean. */
export function countQuantile(p: number, mean: number, variance: number): number {
  if (mean <= 0 || p <= 0) return 0;
  return variance > mean ? negativeBinomialQuantile(p, mean, variance) : poissonQuantile(p, mean);
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
