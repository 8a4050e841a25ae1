/** A negative binomial or Poisson law as a table: many times faster than the incomplete beta function where all of it is asked for. */
import { floatAt } from '../numeric/columns.js';
import { negativeBinomialPmf, poissonPmf } from '../numeric/special.js';
import type { CountDistribution, CountLaw } from './leadTimeDemand.js';
import { countDistribution } from './leadTimeDemand.js';

/** Chances below this share of the largest are left out. */
const TINY = 1e-18;
/** A longer table is not made; the law is used as it is. */
const MOST = 4e6;

/** Chances go outwards from the likeliest number, each from the one before; what is left out weighs less than 1e-15. */
export function countTable(demand: CountLaw): CountDistribution {
  const { mean } = demand;
  const variance = demand.kind === 'poisson' ? mean : demand.variance;
  if (!(mean > 1e-100) || mean + 60 * Math.sqrt(variance) + variance / mean > MOST) {
    return countDistribution('countTable', demand);
  }
  const plain = variance <= mean * (1 + 1e-9);
  const size = plain ? Infinity : (mean * mean) / (variance - mean);
  const share = 1 - mean / variance;
  const ratio = (k: number): number => (plain ? mean / (k + 1) : (share * (size + k)) / (k + 1));
  const top = Math.max(0, Math.floor(plain ? mean : mean - variance / mean + 1));
  const largest = plain ? poissonPmf(top, mean) : negativeBinomialPmf(top, mean, variance);
  const above: number[] = [];
  for (let k = top, chance = largest; chance > TINY * largest; k++) {
    above.push(chance);
    chance *= ratio(k);
  }
  const chances = new Float64Array(top + above.length);
  chances.set(above, top);
  for (let k = top - 1, chance = largest; k >= 0 && chance > TINY * largest; k--) {
    chance /= ratio(k);
    chances[k] = chance;
  }
  return tableLaw(mean, chances);
}

function tableLaw(mean: number, chances: Float64Array): CountDistribution {
  const tails = new Float64Array(chances.length + 1);
  for (let k = chances.length - 1; k >= 0; k--) tails[k] = floatAt(tails, k + 1) + floatAt(chances, k);
  const all = floatAt(tails, 0);
  const above = (k: number): number => {
    const next = Math.floor(k) + 1;
    return next <= 0 ? 1 : next >= chances.length ? 0 : floatAt(tails, next) / all;
  };
  return {
    mean,
    pmf: (k) => (Number.isInteger(k) && k >= 0 && k < chances.length ? floatAt(chances, k) / all : 0),
    cdf: (k) => (k < 0 ? 0 : 1 - above(k)),
    above,
  };
}
