/** Plotting positions: which share of all lives a failure stands for on probability paper. */
import { UsageError } from '../../errors.js';
import { floatAt, sum } from '../../numeric/columns.js';
import { findRoot, findRootBySlope } from '../../numeric/roots.js';
import { betaCdf, logGamma } from '../../numeric/special.js';
import type { LifeSample } from '../sampleTypes.js';
import { requireKnownCauses, riskTable } from './atRisk.js';

/**
 * 'exact': median of the beta distribution of the order statistic. 'benard': its approximation (i - 0.3) / (n + 0.4).
 * 'hazen': (i - 0.5) / n, the middle of the step (Hazen 1914, from memory). 'mean': i / (n + 1), the mean of that beta distribution.
 */
export type RankKind = 'exact' | 'benard' | 'hazen' | 'mean';

/** Columns by distinct age at failure, ascending; empty without failures. */
export interface FailureRanks {
  /** In the unit of the sample. */
  age: Float64Array;
  /** Failures at that age, weights included. */
  failed: Float64Array;
  /** Adjusted rank: mean order number among all lives, from 1 to `lives`; not whole with censored lives or ties. */
  order: Float64Array;
  /** Plotting position, between 0 and 1: share of lives that fail at or before that age. */
  rank: Float64Array;
  /** Lives in the sample, censored ones and weights included. */
  lives: number;
}

/**
 * Plotting positions of failures among right-censored lives. Each failure adds (n + 1 - order before) / (1 + lives that reached
 * its age) to the order number of the failure before it, so that censored lives share out what they might have been
 * (Johnson's adjusted ranks; Abernethy, The New Weibull Handbook, ch. 2, and IEC 61649, from memory). Failures come before
 * lives censored at the same age.
 *
 * Ties: failures at one age, in one row or several, are one point at the mean of their order numbers, and `failed` is
 * its weight. So rows may be split or merged without any effect.
 *
 * @param kind 'exact' by default
 * @throws UsageError for a kind that is none, and for rows that have no order number: failures inside an interval, delayed
 * entry, and ends of unknown cause (the first such row is named, from 1)
 */
export function failureRanks(sample: LifeSample, kind: RankKind = 'exact'): FailureRanks {
  return ranksOf(sample, kind, 'failureRanks');
}

/** As `failureRanks`, for a caller of another name. */
export function ranksOf(sample: LifeSample, kind: RankKind, where: string): FailureRanks {
  if (!Object.hasOwn(POSITIONS, kind)) {
    throw new UsageError(where, 'ranks must be exact, benard, hazen or mean.', kind);
  }
  requireOrdered(sample, where);
  const { age, failed, atRisk } = riskTable(sample, where);
  const lives = sum(sample.count);
  const order = orderNumbers(failed, atRisk, lives);
  const rank = order.map((i) => POSITIONS[kind](i, lives));
  return { age, failed, order, rank, lives };
}

const POSITIONS: Record<RankKind, (i: number, n: number) => number> = {
  exact: medianRank,
  benard: benardRank,
  hazen: (i, n) => (i - 0.5) / n,
  mean: (i, n) => i / (n + 1),
};

/** Mean order numbers of the failures at each age. */
function orderNumbers(failed: Float64Array, atRisk: Float64Array, lives: number): Float64Array {
  const order = new Float64Array(failed.length);
  let before = 0;
  for (let k = 0; k < order.length; k++) {
    const d = floatAt(failed, k);
    // Failures that follow each other with none censored between add the same each.
    const step = (lives + 1 - before) / (1 + floatAt(atRisk, k));
    order[k] = before + (step * (d + 1)) / 2;
    before += step * d;
  }
  return order;
}

/**
 * Median of the share of lives that fail before the i-th of n: of the beta distribution (i, n - i + 1). The order number i need
 * not be whole. Good to 1e-12 up to a million lives.
 * @throws UsageError for i not from 0.5 to n + 0.5
 */
export function medianRank(i: number, n: number): number {
  requireOrder('medianRank', i, n);
  // The smaller half, so that a rank near 1 is as good as its mirror image near 0.
  return 2 * i > n + 1 ? 1 - lowerMedian(n + 1 - i, i) : lowerMedian(i, n + 1 - i);
}

/**
 * The share of lives that fail before the i-th of n stays below `rankQuantile(i, n, p)` with chance p: quantile of the beta
 * distribution (i, n - i + 1), so that p = 0.05 and 0.95 give the 5 % and 95 % ranks (Johnson 1951, from memory). Also an exact
 * bound of a share: of n lives with r failures the upper bound is `rankQuantile(r + 1, n, level)`, the lower
 * `rankQuantile(r, n, 1 - level)` (Clopper & Pearson 1934). Small ranks keep their digits.
 * @throws UsageError for i not from 0.5 to n + 0.5, and p not between 0 and 1
 */
export function rankQuantile(i: number, n: number, p: number): number {
  requireOrder('rankQuantile', i, n);
  if (!(p > 0 && p < 1)) throw new UsageError('rankQuantile', 'p must be between 0 and 1.', p);
  const other = n + 1 - i;
  if (i === 1) return -Math.expm1(Math.log1p(-p) / other);
  if (other === 1) return p ** (1 / i);
  const { root } = findRoot((x) => betaCdf(x, i, other) - p, 0, 1, { ends: [-p, 1 - p] });
  return root;
}

/**
 * Benard's approximation to the median rank, (i - 0.3) / (n + 0.4): for whole i off by 0.00125 at most,
 * with eight lives, and by less the more lives there are (Benard & Bos-Levenbach 1953, from memory; the distance measured).
 * @throws UsageError for i not from 0.5 to n + 0.5
 */
export function benardRank(i: number, n: number): number {
  requireOrder('benardRank', i, n);
  return (i - 0.3) / (n + 0.4);
}

/** Median of beta (a, b), a <= b: never above the mean, from which Newton's method goes down to it. */
function lowerMedian(a: number, b: number): number {
  if (a === b) return 0.5;
  if (a === 1) return -Math.expm1(-Math.LN2 / b);
  const logBeta = logGamma(a) + logGamma(b) - logGamma(a + b);
  const density = (x: number): number => Math.exp((a - 1) * Math.log(x) + (b - 1) * Math.log1p(-x) - logBeta);
  const excess = (x: number, out: { slope: number }): number => {
    out.slope = density(x);
    return betaCdf(x, a, b) - 0.5;
  };
  return findRootBySlope(excess, 0, a / (a + b), { relative: 1e-14 }).root;
}

/** Order numbers lie between half a life and n and a half; the sums behind them may be off by rounding. */
function requireOrder(where: string, i: number, n: number): void {
  const rounding = 1e-9 * n;
  if (!(n > 0 && n < Infinity && i >= 0.5 - rounding && i <= n + 0.5 + rounding)) {
    const rule = 'the order number must be from 0.5 to n + 0.5, and n finite and above 0.';
    throw new UsageError(where, rule, `${i} of ${n}`);
  }
}

function requireOrdered(sample: LifeSample, where: string): void {
  requireKnownCauses(sample, where);
  for (let i = 0; i < sample.lower.length; i++) {
    const [lower, upper] = [floatAt(sample.lower, i), floatAt(sample.upper, i)];
    if (upper !== Infinity && upper !== lower) {
      const rule = `row ${i + 1} failed inside an interval, so it has no rank; use turnbull for a curve or fitLife (maximum likelihood) for a model.`;
      throw new UsageError(where, rule, `${lower} to ${upper}`);
    }
    const entry = floatAt(sample.entry, i);
    if (entry > 0) {
      const rule = `row ${i + 1} came under watch late, so it has no rank; use kaplanMeier for a curve or fitLife (maximum likelihood) for a model.`;
      throw new UsageError(where, rule, `entry ${entry}`);
    }
  }
}
