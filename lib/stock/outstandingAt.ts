/** What is outstanding at a local store: on its way, or owed to it by the central one. */
import { floatAt } from '../numeric/columns.js';
import { convolve } from '../numeric/convolve.js';
import { thinned } from './centralBackorders.js';
import { countDistribution, type LeadTimeDemand } from './leadTimeDemand.js';

export type TwoLevelMethod = 'exact' | 'twoMoment' | 'oneMoment';

export interface Outstanding {
  law: LeadTimeDemand;
  mean: number;
  variance: number;
}

/**
 * Law of the pieces outstanding at a store with this share of all demand and so many pieces on their way on average, where `owed` holds the
 * chances of what the central store owes: exact, or by its first moments.
 */
export function outstandingAt(
  owed: Float64Array,
  share: number,
  onTheWay: number,
  method: TwoLevelMethod,
): Outstanding {
  const whole = momentsOf(owed);
  const mean = onTheWay + share * whole.mean;
  // Of a binomial part: share squared times the variance of the whole, plus share (1 - share) times its mean.
  const extra = share * share * (whole.variance - whole.mean);
  const variance = mean + Math.max(0, extra);
  const law: LeadTimeDemand =
    method === 'exact'
      ? exactLaw(owed, share, onTheWay)
      : method === 'oneMoment' || !(variance > mean)
        ? { kind: 'poisson', mean }
        : { kind: 'negativeBinomial', mean, variance };
  return { law, mean, variance };
}

function exactLaw(owed: Float64Array, share: number, onTheWay: number): LeadTimeDemand {
  return { kind: 'empirical', pmf: convolve(thinned(owed, share), poissonColumn(onTheWay)) };
}

function poissonColumn(mean: number): Float64Array {
  const law = countDistribution('twoLevelStock', { kind: 'poisson', mean });
  const chances = [law.pmf(0)];
  for (let k = 1; ; k++) {
    const chance = law.pmf(k);
    if (k > mean && chance < 1e-20) return Float64Array.from(chances);
    chances.push(chance);
  }
}

function momentsOf(chances: Float64Array): { mean: number; variance: number } {
  let mean = 0;
  for (let k = 1; k < chances.length; k++) mean += k * floatAt(chances, k);
  let variance = 0;
  for (let k = 0; k < chances.length; k++) variance += (k - mean) ** 2 * floatAt(chances, k);
  return { mean, variance };
}
