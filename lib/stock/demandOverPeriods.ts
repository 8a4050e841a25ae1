/** From the demand of one period to that of several: periods are independent and alike. */
import { UsageError } from '../errors.js';
import { convolve } from '../numeric/convolve.js';
import type { LeadTimeDemand } from './leadTimeDemand.js';

/**
 * Demand over `periods` periods, whole or not: means, variances and jobs add up. An empirical law holds for whole periods
 * only, since it does not tell what happens within one. A negative binomial law stays one with the same share of variance
 * over mean (jobs of several pieces, in effect); a rate that is not known widens faster and is not meant here.
 * Throws UsageError where periods is below 0, not finite, or not whole for an empirical law.
 */
export function demandOverPeriods(where: string, demand: LeadTimeDemand, periods: number): LeadTimeDemand {
  if (!(periods >= 0 && Number.isFinite(periods))) {
    throw new UsageError(where, 'periods must be at or above 0, and finite.', periods);
  }
  switch (demand.kind) {
    case 'poisson':
      return { kind: 'poisson', mean: demand.mean * periods };
    case 'negativeBinomial':
      return {
        kind: 'negativeBinomial',
        mean: demand.mean * periods,
        variance: demand.variance * periods,
      };
    case 'compound': {
      const { jobs, jobsVariance = jobs, sizes } = demand;
      return { kind: 'compound', jobs: jobs * periods, jobsVariance: jobsVariance * periods, sizes };
    }
    case 'empirical':
      return { kind: 'empirical', pmf: summed(where, demand.pmf, periods) };
  }
}

/** Distribution of the sum of so many independent periods, by doubling. */
function summed(where: string, pmf: ArrayLike<number>, periods: number): Float64Array {
  if (!Number.isInteger(periods)) {
    throw new UsageError(where, 'periods must be whole numbers where demand is empirical.', periods);
  }
  let sum: Float64Array = Float64Array.of(1);
  let doubled: Float64Array = Float64Array.from(pmf);
  for (let left = periods; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) sum = convolve(sum, doubled);
    if (left > 1) doubled = convolve(doubled, doubled);
  }
  return sum;
}
