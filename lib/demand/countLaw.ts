/**
 * How many diaphragms one item needs in one month, given one draw of the life models: a sum of independent yes-or-no
 * events (lives that run today) and a Poisson number (later leaks), by grouped convolution (Hong 2013, from memory).
 * A plan asks for a hundred thousand of these laws, so that they are built in columns that stay: a law is the first
 * `length` elements of its column, element i the chance of start + i.
 */
import { floatAt } from '../numeric/columns.js';
import { addConvolved } from '../numeric/convolve.js';

/** Positions with chances below this (or above its opposite) are taken as one binomial of equal mean and variance. */
const SMALL = 0.05;
const NEGLIGIBLE = 1e-13;
/** Up to so many positions of one chance are added one at a time, more of them as a binomial. */
const ONE_BY_ONE = 16;

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

/** A law being built. */
interface Draft {
  start: number;
  length: number;
  chances: Float64Array;
}

const WHOLE: Draft = { start: 0, length: 1, chances: new Float64Array(256) };
const PART: Draft = { start: 0, length: 1, chances: new Float64Array(256) };
const SPARE: Draft = { start: 0, length: 1, chances: new Float64Array(256) };

/**
 * Distribution of the total of the parts: exact but for chances below 0.05 and above 0.95, which are taken together so
 * that their mean and variance are kept.
 */
export function countLaw({ chance, positions, poisson }: Parts): CountLaw {
  let small = 0;
  let smallSquare = 0;
  let lack = 0;
  let lackSquare = 0;
  let large = 0;
  setPoisson(WHOLE, poisson);
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
    } else addAlike(n, q);
  }
  if (small > 0) {
    setMatched(PART, small, smallSquare);
    addPart();
  }
  if (lack > 0) {
    setMatched(PART, lack, lackSquare);
    turnRound(PART, large);
    addPart();
  } else WHOLE.start += large;
  return { start: WHOLE.start, chances: WHOLE.chances.slice(0, WHOLE.length) };
}

/** Adds n positions with one chance. */
function addAlike(n: number, q: number): void {
  if (n > ONE_BY_ONE) {
    setBinomial(PART, n, q);
    addPart();
    return;
  }
  for (let i = 0; i < n; i++) addOne(WHOLE, q);
  trim(WHOLE);
}

function addOne(law: Draft, q: number): void {
  makeRoom(law, law.length + 1);
  const { chances, length } = law;
  chances[length] = q * floatAt(chances, length - 1);
  for (let k = length - 1; k > 0; k--) {
    chances[k] = (1 - q) * floatAt(chances, k) + q * floatAt(chances, k - 1);
  }
  chances[0] = (1 - q) * floatAt(chances, 0);
  law.length = length + 1;
}

/** Adds PART to WHOLE. */
function addPart(): void {
  const length = WHOLE.length + PART.length - 1;
  makeRoom(SPARE, length);
  const sum = SPARE.chances.fill(0, 0, length);
  addConvolved(sum, WHOLE.chances, WHOLE.length, PART.chances, PART.length);
  SPARE.chances = WHOLE.chances;
  WHOLE.chances = sum;
  WHOLE.length = length;
  WHOLE.start += PART.start;
  trim(WHOLE);
}

/** Binomial with the mean and variance of unlike small chances: n = sum² / squares, q = squares / sum. */
function setMatched(law: Draft, sum: number, squares: number): void {
  // Chances too small for their squares to count are a Poisson number.
  if (squares <= 1e-12 * sum) {
    setPoisson(law, sum);
    return;
  }
  const n = (sum * sum) / squares;
  const whole = Math.round(n);
  if (Math.abs(n - whole) < 1e-6 * n) {
    setBinomial(law, whole, squares / sum);
    return;
  }
  // The series of a broken n is cut where its terms turn negative: some parts in a million of a cubed small chance.
  setBinomial(law, n, squares / sum);
  const { chances, length } = law;
  let all = 0;
  for (let k = 0; k < length; k++) all += floatAt(chances, k);
  for (let k = 0; k < length; k++) chances[k] = floatAt(chances, k) / all;
}

function setPoisson(law: Draft, mean: number): void {
  grow(law, Math.exp(-mean), mean, { of: mean, perCount: 0 });
}

/** Binomial by the ratio of neighbours, from the side where the count is small; n need not be whole at a small q. */
function setBinomial(law: Draft, n: number, q: number): void {
  if (q > 0.5) {
    setBinomial(law, n, 1 - q);
    turnRound(law, n);
    return;
  }
  const odds = q / (1 - q);
  grow(law, Math.exp(n * Math.log1p(-q)), n * q, { of: n * odds, perCount: -odds });
}

/**
 * Chances from that of 0 on, until past the mean they no longer count. In both laws the chance of k + 1 is that of k
 * times (of + perCount k) / (k + 1), where that is above 0 (Panjer 1981, from memory).
 */
function grow(
  law: Draft,
  none: number,
  mean: number,
  { of, perCount }: { of: number; perCount: number },
): void {
  let chance = none;
  let k = 0;
  while (k === 0 || chance >= NEGLIGIBLE || k <= mean) {
    if (k >= law.chances.length) makeRoom(law, k + 1);
    law.chances[k] = chance;
    chance *= Math.max(0, of + perCount * k) / (k + 1);
    k += 1;
  }
  law.start = 0;
  law.length = k;
  trim(law);
}

/** Counts what does not happen among n. */
function turnRound(law: Draft, n: number): void {
  law.start = n - (law.start + law.length - 1);
  law.chances.subarray(0, law.length).reverse();
}

/** Leaves out what does not count at either end. */
function trim(law: Draft): void {
  const { chances } = law;
  let low = 0;
  while (low < law.length - 1 && floatAt(chances, low) < NEGLIGIBLE) low++;
  while (law.length > low + 1 && floatAt(chances, law.length - 1) < NEGLIGIBLE) law.length -= 1;
  if (low === 0) return;
  chances.copyWithin(0, low, law.length);
  law.start += low;
  law.length -= low;
}

function makeRoom(law: Draft, length: number): void {
  if (length <= law.chances.length) return;
  const wider = new Float64Array(2 * length);
  wider.set(law.chances);
  law.chances = wider;
}
