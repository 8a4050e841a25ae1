/**
 * How many diaphragms one item needs in one month, given one draw of the life models: a sum of independent yes-or-no
 * events (lives that run today) and a Poisson number (later leaks), by grouped convolution (Hong 2013, from memory).
 */
import { floatAt } from '../numeric/columns.js';
import { convolve } from '../numeric/convolve.js';

/** Positions with chances below this (or above its opposite) are taken as one binomial of equal mean and variance. */
const SMALL = 0.05;
const NEGLIGIBLE = 1e-13;
/** Chances between, this close on the scale of log odds, are taken as equal, at their mean. */
const BINS_PER_LOG_ODDS = 6;
const HALF_BINS = Math.ceil(BINS_PER_LOG_ODDS * Math.log((1 - SMALL) / SMALL));

/** Chances of consecutive counts: element i is the chance of start + i. */
export interface CountLaw {
  start: number;
  chances: Float64Array;
}

/** Mean, variance and third central moment: they add up over independent parts. */
export interface Moments {
  mean: number;
  variance: number;
  third: number;
}

/** Positions with the same chance, and a Poisson number beside them. */
export interface Parts {
  /** chance[i] is the chance of each of positions[i] positions. */
  chance: Float64Array;
  positions: Float64Array;
  poisson: number;
}

export function momentsOf({ chance, positions, poisson }: Parts): Moments {
  let mean = poisson;
  let variance = poisson;
  let third = poisson;
  for (let i = 0; i < chance.length; i++) {
    const q = floatAt(chance, i);
    const spread = floatAt(positions, i) * q * (1 - q);
    mean += floatAt(positions, i) * q;
    variance += spread;
    third += spread * (1 - 2 * q);
  }
  return { mean, variance, third };
}

/** Positions gathered by chance. */
interface Gathered {
  /** Sums of the chances of small ones and of their squares; the same of what large ones lack to 1. */
  small: number;
  smallSquare: number;
  lack: number;
  lackSquare: number;
  large: number;
  /** Positions and sum of chances by bin of those between. */
  count: Float64Array;
  total: Float64Array;
}

/**
 * Distribution of the total of the parts by grouped convolution. Exact where positions share their chance; positions
 * with unlike chances are grouped so that the mean is kept exactly and the variance to some parts in a thousand.
 */
export function countLaw(parts: Parts): CountLaw {
  const { small, smallSquare, lack, lackSquare, large, count, total } = gathered(parts);
  let law = poissonLaw(parts.poisson);
  if (small > 0) law = sumOf(law, matchedLaw(small, smallSquare));
  for (let bin = 0; bin < count.length; bin++) {
    const n = floatAt(count, bin);
    if (n > 0) law = sumOf(law, binomialLaw(n, floatAt(total, bin) / n));
  }
  if (large > 0)
    law = sumOf(law, lack > 0 ? opposite(matchedLaw(lack, lackSquare), large) : certainly(large));
  return law;
}

const SCRATCH_COUNT = new Float64Array(2 * HALF_BINS + 1);
const SCRATCH_TOTAL = new Float64Array(2 * HALF_BINS + 1);

function gathered({ chance, positions }: Parts): Gathered {
  const count = SCRATCH_COUNT.fill(0);
  const total = SCRATCH_TOTAL.fill(0);
  let [small, smallSquare, lack, lackSquare, large] = [0, 0, 0, 0, 0];
  for (let i = 0; i < chance.length; i++) {
    const q = floatAt(chance, i);
    const n = floatAt(positions, i);
    if (q < SMALL) {
      small += n * q;
      smallSquare += n * q * q;
    } else if (q > 1 - SMALL) {
      large += n;
      lack += n * (1 - q);
      lackSquare += n * (1 - q) * (1 - q);
    } else {
      const bin = Math.round(BINS_PER_LOG_ODDS * Math.log(q / (1 - q))) + HALF_BINS;
      count[bin] = floatAt(count, bin) + n;
      total[bin] = floatAt(total, bin) + n * q;
    }
  }
  return { small, smallSquare, lack, lackSquare, large, count, total };
}

/** Binomial with the mean and variance of unlike small chances: n = sum² / squares, q = squares / sum. */
function matchedLaw(sum: number, squares: number): CountLaw {
  // Chances too small for their squares to count are a Poisson number.
  if (squares <= 1e-12 * sum) return poissonLaw(sum);
  const n = (sum * sum) / squares;
  const whole = Math.round(n);
  if (Math.abs(n - whole) < 1e-6 * n) return binomialLaw(whole, squares / sum);
  // The series of a broken n is cut where its terms turn negative: some parts in a million of a cubed small chance.
  const { start, chances } = binomialLaw(n, squares / sum);
  let all = 0;
  for (const chance of chances) all += chance;
  return { start, chances: scaled(chances, 1 / all) };
}

const ONE = Float64Array.of(1);
/** Where laws are built before they are cut to length; their variance is below the switch, so that they are short. */
let scratch: Float64Array = new Float64Array(256);

function poissonLaw(mean: number): CountLaw {
  if (mean <= 0) return { start: 0, chances: ONE };
  return grown(Math.exp(-mean), mean, (k) => mean / (k + 1));
}

/** Binomial by the ratio of neighbours, from the side where the count is small; n need not be whole at a small q. */
function binomialLaw(n: number, q: number): CountLaw {
  if (q > 0.5) return opposite(binomialLaw(n, 1 - q), n);
  const odds = q / (1 - q);
  return grown(Math.exp(n * Math.log1p(-q)), n * q, (k) => Math.max(0, ((n - k) / (k + 1)) * odds));
}

/** Chances from that of 0 on, each the one before times a ratio, until past the mean they no longer count. */
function grown(none: number, mean: number, ratio: (k: number) => number): CountLaw {
  let chance = none;
  let k = 0;
  while (chance >= NEGLIGIBLE || k <= mean) {
    if (k >= scratch.length) scratch = longer(scratch);
    scratch[k] = chance;
    chance *= ratio(k);
    k += 1;
  }
  let start = 0;
  while (start < k - 1 && floatAt(scratch, start) < NEGLIGIBLE) start++;
  return { start, chances: scratch.slice(start, k) };
}

function longer(column: Float64Array): Float64Array {
  const twice = new Float64Array(2 * column.length);
  twice.set(column);
  return twice;
}

function opposite(law: CountLaw, n: number): CountLaw {
  return { start: n - (law.start + law.chances.length - 1), chances: law.chances.slice().reverse() };
}

function certainly(n: number): CountLaw {
  return { start: n, chances: ONE };
}

function sumOf(a: CountLaw, b: CountLaw): CountLaw {
  const start = a.start + b.start;
  if (a.chances.length === 1) return { start, chances: scaled(b.chances, floatAt(a.chances, 0)) };
  if (b.chances.length === 1) return { start, chances: scaled(a.chances, floatAt(b.chances, 0)) };
  return trimmed(start, convolve(a.chances, b.chances));
}

function scaled(chances: Float64Array, by: number): Float64Array {
  return by === 1 ? chances : chances.map((chance) => chance * by);
}

function trimmed(start: number, chances: Float64Array): CountLaw {
  let low = 0;
  let high = chances.length;
  while (low < high - 1 && floatAt(chances, low) < NEGLIGIBLE) low++;
  while (high > low + 1 && floatAt(chances, high - 1) < NEGLIGIBLE) high--;
  return { start: start + low, chances: chances.subarray(low, high) };
}
