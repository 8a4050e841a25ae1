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
  // The chance of k + 1 is that of k times (first + share k) / (k + 1).
  const first = plain ? mean : (mean * mean) / variance;
  const share = plain ? 0 : (variance - mean) / variance;
  const top = Math.max(0, Math.floor(plain ? mean : mean - variance / mean + 1));
  const largest = plain ? poissonPmf(top, mean) : negativeBinomialPmf(top, mean, variance);
  const pmf = (k: number): number => (plain ? poissonPmf(k, mean) : negativeBinomialPmf(k, mean, variance));
  return { ...tableLaw(mean, roomFilled(top, largest, first, share)), pmf };
}

/** Where chances are put until it is known how many there are. */
let room = new Float64Array(1024);

/** Puts the chances into `room`, and gives their number. */
function roomFilled(top: number, largest: number, first: number, share: number): number {
  const least = TINY * largest;
  let length = top;
  for (let chance = largest; chance > least; length++) {
    if (length >= room.length) room = wider(room, length);
    room[length] = chance;
    chance *= (first + share * length) / (length + 1);
  }
  let k = top - 1;
  for (let chance = largest; k >= 0; k--) {
    chance /= (first + share * k) / (k + 1);
    if (!(chance > least)) break;
    room[k] = chance;
  }
  room.fill(0, 0, k + 1);
  return length;
}

function wider(column: Float64Array, length: number): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(2 * length);
  larger.set(column);
  return larger;
}

/**
 * One column for all, since thousands of laws are made: element k the chance of k or more, from `sum` on E(D - k)+, the sum of the
 * chances of more than k, k + 1 ...
 */
function tableLaw(mean: number, length: number): Omit<CountDistribution, 'pmf'> {
  const sum = length + 1;
  const table = new Float64Array(2 * length + 2);
  let [tails, sums] = [0, 0];
  for (let k = length - 1; k >= 0; k--) {
    sums += tails;
    tails += floatAt(room, k);
    table[k] = tails;
    table[sum + k] = sums;
  }
  const all = tails;
  const above = (k: number): number => {
    const next = Math.floor(k) + 1;
    return next <= 0 ? 1 : next >= length ? 0 : floatAt(table, next) / all;
  };
  return {
    mean,
    cdf: (k) => (k < 0 ? 0 : 1 - above(k)),
    above,
    exceeding: (y) => (y >= length ? 0 : floatAt(table, sum + y) / all),
  };
}
