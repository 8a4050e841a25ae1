/**
 * The likelihood of lives whose ages are told on a scale with parameters of its own: log z(age) = mu + sigma times an error, where z
 * depends on b. METHODS 1.2 on z; an exact failure also has the rate of z at its age, so that likelihoods of different scales
 * compare (Oakes 1995; Duchesne & Lawless 2000; from memory). All derivatives by the chain rule.
 */
import { at, floatAt } from '../../../numeric/columns.js';
import type { RowScore } from './covariance.js';
import { climb, type Evaluation, type Maximum } from './newton.js';
import { BETWEEN, EXACT, SOUND } from './rows.js';
import type { StandardLaw } from './standardLaw.js';

/** A value with its slopes by the parameters of the scale (`slope[j]`) and its bends (`bend[j * size + k]`). */
export interface Bent {
  value: number;
  slope: Float64Array;
  bend: Float64Array;
}

export const END_LOWER = 0;
export const END_UPPER = 1;
export const END_ENTRY = 2;

/** How ages become z. */
export interface AgeScale {
  /** Parameters of the scale; they stand in theta between mu and log sigma. */
  size: number;
  /** log z at an end of row i: its last age seen sound (at the entry at least), its failure age, its entry. -Infinity at age 0. */
  logAge(i: number, end: number, b: Float64Array, out: Bent): void;
  /** log of the rate of z at the failure age of exact row i. */
  logRate(i: number, b: Float64Array, out: Bent): void;
}

export interface ScaleProblem {
  law: StandardLaw;
  scale: AgeScale;
  /** EXACT, SOUND or BETWEEN; whether the row was watched late; how many lives it is. */
  kind: Uint8Array;
  late: Uint8Array;
  count: Float64Array;
  /** 1, or 0 where sigma is fixed at 1. */
  spreads: number;
}

/** Theta is mu, the parameters of the scale, log sigma. */
export function maximiseOnScale(problem: ScaleProblem, start: readonly number[]): Maximum {
  const row = rowReader(problem);
  const evaluate = (theta: readonly number[]): Evaluation => evaluateOnScale(problem, row, theta);
  return climb({ evaluate, start, spreads: problem.spreads });
}

/** Scores of the rows at theta. */
export function scoresOnScale(problem: ScaleProblem, theta: readonly number[]): RowScore {
  const row = rowReader(problem);
  return (i, out) => {
    row.read(i, Float64Array.from(theta));
    out.set(row.score);
  };
}

function evaluateOnScale(
  { kind, count }: ScaleProblem,
  row: RowReader,
  point: readonly number[],
): Evaluation {
  const theta = Float64Array.from(point);
  const gradient = new Float64Array(theta.length);
  const information = new Float64Array(theta.length ** 2);
  let value = 0;
  for (let i = 0; i < kind.length; i++) {
    const weight = floatAt(count, i);
    if (weight === 0) continue;
    value += weight * row.read(i, theta);
    for (let j = 0; j < gradient.length; j++) {
      gradient[j] = floatAt(gradient, j) + weight * floatAt(row.score, j);
    }
    for (let k = 0; k < information.length; k++) {
      information[k] = floatAt(information, k) - weight * floatAt(row.bends, k);
    }
  }
  const broken = Number.isNaN(value) || !gradient.every(Number.isFinite);
  return { value: broken ? -Infinity : value, gradient: [...gradient], information: [...information] };
}

interface RowReader {
  /** Log-likelihood of row i; fills score and bends. */
  read(i: number, theta: Float64Array): number;
  score: Float64Array;
  bends: Float64Array;
}

/** One row at a time into the same columns. */
function rowReader({ law, scale, kind, late, spreads }: ScaleProblem): RowReader {
  const size = scale.size + 1 + spreads;
  const tau = size - 1;
  const score = new Float64Array(size);
  const bends = new Float64Array(size * size);
  const ends = [bent(scale.size), bent(scale.size)] as const;
  const three = new Float64Array(3);
  const u = new Float64Array(size);
  let sigma = 1;

  /** Adds a term with the derivatives first and second by z-score (log age - mu) / sigma of an end. */
  const add = (end: Bent, z: number, first: number, second: number): void => {
    u[0] = -1 / sigma;
    for (let j = 0; j < scale.size; j++) u[j + 1] = floatAt(end.slope, j) / sigma;
    if (spreads > 0) u[tau] = -z;
    for (let j = 0; j < size; j++) {
      score[j] = floatAt(score, j) + first * floatAt(u, j);
      for (let k = 0; k < size; k++) {
        const isScale = j > 0 && k > 0 && j <= scale.size && k <= scale.size;
        let bend = isScale ? floatAt(end.bend, (j - 1) * scale.size + k - 1) / sigma : 0;
        if (spreads > 0 && (j === tau || k === tau)) bend = -floatAt(u, j === tau ? k : j);
        const here = j * size + k;
        bends[here] = floatAt(bends, here) + second * floatAt(u, j) * floatAt(u, k) + first * bend;
      }
    }
  };
  /** Adds a multiple of a value that depends on the scale only. */
  const addScale = (part: Bent, times: number): void => {
    for (let j = 0; j < scale.size; j++) {
      score[j + 1] = floatAt(score, j + 1) + times * floatAt(part.slope, j);
      for (let k = 0; k < scale.size; k++) {
        const here = (j + 1) * size + k + 1;
        bends[here] = floatAt(bends, here) + times * floatAt(part.bend, j * scale.size + k);
      }
    }
  };
  const exact = (i: number, mu: number, b: Float64Array): number => {
    scale.logAge(i, END_UPPER, b, ends[0]);
    const { value } = ends[0];
    const z = (value - mu) / sigma;
    law.point(z, three);
    add(ends[0], z, floatAt(three, 1), floatAt(three, 2));
    addScale(ends[0], -1);
    scale.logRate(i, b, ends[1]);
    addScale(ends[1], 1);
    if (spreads > 0) score[tau] = floatAt(score, tau) - 1;
    return floatAt(three, 0) - Math.log(sigma) - value + ends[1].value;
  };
  const between = (i: number, mu: number, b: Float64Array): number => {
    scale.logAge(i, END_LOWER, b, ends[0]);
    scale.logAge(i, END_UPPER, b, ends[1]);
    const [low, high] = [(ends[0].value - mu) / sigma, (ends[1].value - mu) / sigma];
    const log = law.logBetween(low, high);
    if (low !== -Infinity) {
      const density = Math.exp(law.logDensity(low) - log);
      add(ends[0], low, -density, -density * law.slope(low));
    }
    const density = Math.exp(law.logDensity(high) - log);
    add(ends[1], high, density, density * law.slope(high));
    // What is left of the second derivative of a logarithm: less the outer product of the score so far.
    for (let j = 0; j < size; j++) {
      for (let k = 0; k < size; k++) {
        bends[j * size + k] = floatAt(bends, j * size + k) - floatAt(score, j) * floatAt(score, k);
      }
    }
    return log;
  };
  const tail = (i: number, end: number, sign: number, mu: number, b: Float64Array): number => {
    scale.logAge(i, end, b, ends[0]);
    if (ends[0].value === -Infinity) return 0;
    const z = (ends[0].value - mu) / sigma;
    law.tail(z, three);
    add(ends[0], z, sign * floatAt(three, 1), sign * floatAt(three, 2));
    return sign * floatAt(three, 0);
  };
  const read = (i: number, theta: Float64Array): number => {
    score.fill(0);
    bends.fill(0);
    sigma = spreads > 0 ? Math.exp(floatAt(theta, tau)) : 1;
    const mu = floatAt(theta, 0);
    const b = theta.subarray(1, 1 + scale.size);
    let value = 0;
    if (at(kind, i) === EXACT) value = exact(i, mu, b);
    else if (at(kind, i) === BETWEEN) value = between(i, mu, b);
    else if (at(kind, i) === SOUND) value = tail(i, END_LOWER, 1, mu, b);
    return at(late, i) === 1 ? value + tail(i, END_ENTRY, -1, mu, b) : value;
  };
  return { read, score, bends };
}

function bent(size: number): Bent {
  return { value: 0, slope: new Float64Array(size), bend: new Float64Array(size * size) };
}
