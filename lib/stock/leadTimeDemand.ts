/** Laws of the number of pieces asked for during a lead time. */
import { compoundLaw } from '../demand/compoundLaw.js';
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import {
  betaCdf,
  gammaP,
  negativeBinomialCdf,
  negativeBinomialPmf,
  poissonCdf,
  poissonPmf,
} from '../numeric/special.js';

/**
 * Demand over the lead time, in pieces. `compound`: a Poisson number of jobs (mean `jobs`; negative binomial where
 * `jobsVariance` is above it), sizes[v] the chance that a job takes v pieces. The others ask for one piece at a time.
 */
export type LeadTimeDemand =
  | { kind: 'poisson'; mean: number }
  | { kind: 'negativeBinomial'; mean: number; variance: number }
  | { kind: 'empirical'; pmf: ArrayLike<number> }
  | { kind: 'compound'; jobs: number; jobsVariance?: number; sizes: ArrayLike<number> };

/** Of these, the laws of pieces asked for one at a time, by mean and variance. */
export type CountLaw = Extract<LeadTimeDemand, { mean: number }>;

export interface CountDistribution {
  mean: number;
  pmf: (k: number) => number;
  /** Chance of k or fewer. */
  cdf: (k: number) => number;
  /** Chance of more than k, exact where it is tiny. */
  above: (k: number) => number;
  /** Mean of what is asked for above a whole y at or above 0, where it is at hand without summing. */
  exceeding?: (y: number) => number;
}

/** How far the chances of an empirical law may be from adding up to 1. */
const SUM_TOLERANCE = 1e-9;

/** Checks a law and lays it out as functions. Throws UsageError on means, variances or chances that make no sense. */
export function countDistribution(where: string, demand: LeadTimeDemand): CountDistribution {
  if (demand.kind === 'empirical') return empirical(where, demand.pmf);
  if (demand.kind === 'compound') return empirical(where, compoundLaw(demand));
  const { mean } = demand;
  if (!(mean >= 0) || mean === Infinity) {
    throw new UsageError(where, 'mean must be at or above 0, and finite.', mean);
  }
  if (demand.kind === 'poisson') return poisson(mean);
  const { variance } = demand;
  if (!(variance >= mean * (1 - 1e-12)) || variance === Infinity) {
    throw new UsageError(where, 'variance must be at or above the mean, and finite.', variance);
  }
  // Below this mean the square of the mean has no digits left; nothing is ever asked for.
  const plain = variance <= mean * (1 + 1e-9) || mean < 1e-100;
  return plain ? poisson(mean) : negativeBinomial(mean, variance);
}

function poisson(mean: number): CountDistribution {
  return {
    mean,
    pmf: (k) => poissonPmf(k, mean),
    cdf: (k) => poissonCdf(k, mean),
    above: (k) => (k < 0 ? 1 : mean === 0 ? 0 : gammaP(Math.floor(k) + 1, mean)),
  };
}

function negativeBinomial(mean: number, variance: number): CountDistribution {
  const size = (mean * mean) / (variance - mean);
  return {
    mean,
    pmf: (k) => negativeBinomialPmf(k, mean, variance),
    cdf: (k) => negativeBinomialCdf(k, mean, variance),
    above: (k) => (k < 0 ? 1 : betaCdf(1 - mean / variance, Math.floor(k) + 1, size)),
  };
}

function empirical(where: string, pmf: ArrayLike<number>): CountDistribution {
  let total = 0;
  let mean = 0;
  for (let k = 0; k < pmf.length; k++) {
    const chance = at(pmf, k);
    if (!(chance >= 0)) throw new UsageError(where, `pmf[${k}] must be a chance at or above 0.`, chance);
    total += chance;
    mean += k * chance;
  }
  if (Math.abs(total - 1) > SUM_TOLERANCE) {
    throw new UsageError(where, 'the chances of pmf must add up to 1.', total);
  }
  const tails = new Float64Array(pmf.length + 1);
  for (let k = pmf.length - 1; k >= 0; k--) tails[k] = floatAt(tails, k + 1) + at(pmf, k);
  const above = (k: number): number => {
    const next = Math.floor(k) + 1;
    return next <= 0 ? 1 : next >= pmf.length ? 0 : floatAt(tails, next);
  };
  return {
    mean,
    pmf: (k) => (Number.isInteger(k) && k >= 0 && k < pmf.length ? at(pmf, k) : 0),
    cdf: (k) => (k < 0 ? 0 : 1 - above(k)),
    above,
  };
}

/** Smallest whole k at or above `from` that satisfies a condition which, once true, stays true. */
export function smallestWhole(holds: (k: number) => boolean, from: number, guess: number): number {
  let high = Math.max(from, Math.floor(guess));
  let low = from - 1;
  for (let stride = 1; !holds(high); stride *= 2) {
    low = high;
    high += stride;
    if (high > 1e12) throw new UsageError('smallestWhole', 'no number below 1e12 is enough.');
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
