/**
 * The likelihood of lives whose ages are told on a scale with parameters of its own: log z(age) = mu + sigma times an error, where z
 * depends on b. METHODS 1.2 on z; an exact failure also has the rate of z at its age, so that likelihoods of different scales
 * compare (Oakes 1995; Duchesne & Lawless 2000; from memory). All derivatives by the chain rule.
 */
import { coreOnly } from '../../../numeric/arrow.js';
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
  const evaluate = (theta: readonly number[]): Evaluation => evaluateOnScale(problem, theta);
  return climb({ evaluate, start, spreads: problem.spreads });
}

/** Log-likelihood of each row at theta, as one life. */
export function valuesOnScale(problem: ScaleProblem, theta: readonly number[]): Float64Array {
  const row = rowFor(problem, Float64Array.from(theta));
  return Float64Array.from(problem.kind, (_, i) => readRow(problem, row, i));
}

/** Scores of the rows at theta. */
export function scoresOnScale(problem: ScaleProblem, theta: readonly number[]): RowScore {
  const row = rowFor(problem, Float64Array.from(theta));
  return (i, out) => {
    readRow(problem, row, i);
    out.set(row.score);
  };
}

function evaluateOnScale(problem: ScaleProblem, point: readonly number[]): Evaluation {
  const { kind, count } = problem;
  const theta = Float64Array.from(point);
  const row = rowFor(problem, theta);
  const gradient = new Float64Array(theta.length);
  const information = new Float64Array(theta.length ** 2);
  let value = 0;
  for (let i = 0; i < kind.length; i++) {
    const weight = floatAt(count, i);
    if (weight === 0) continue;
    value += weight * readRow(problem, row, i);
    for (let j = 0; j < gradient.length; j++) {
      gradient[j] = floatAt(gradient, j) + weight * floatAt(row.score, j);
    }
    for (let k = 0; k < information.length; k++) {
      information[k] = floatAt(information, k) - weight * floatAt(row.bends, k);
    }
  }
  const broken = Number.isNaN(value) || !gradient.every(Number.isFinite);
  return {
    value: broken ? -Infinity : value,
    theta: point,
    gradient,
    information: coreOnly(information, theta.length),
  };
}

/** One row at a time, in columns that serve all rows. */
interface Row {
  score: Float64Array;
  bends: Float64Array;
  /** Two ends of the row, slopes of a z-score, three derivatives of a law. */
  ends: readonly [Bent, Bent];
  u: Float64Array;
  three: Float64Array;
  mu: number;
  sigma: number;
  b: Float64Array;
}

/** A row that is ready for theta. */
function rowFor({ scale, spreads }: ScaleProblem, theta: Float64Array): Row {
  const size = theta.length;
  return {
    score: new Float64Array(size),
    bends: new Float64Array(size * size),
    ends: [bent(scale.size), bent(scale.size)],
    u: new Float64Array(size),
    three: new Float64Array(3),
    mu: floatAt(theta, 0),
    sigma: spreads > 0 ? Math.exp(floatAt(theta, size - 1)) : 1,
    b: theta.subarray(1, 1 + scale.size),
  };
}

/** Log-likelihood of row i; fills score and bends. */
function readRow(problem: ScaleProblem, row: Row, i: number): number {
  row.score.fill(0);
  row.bends.fill(0);
  const kind = at(problem.kind, i);
  let value = 0;
  if (kind === EXACT) value = exact(problem, row, i);
  else if (kind === BETWEEN) value = between(problem, row, i);
  else if (kind === SOUND) value = tail(problem, row, i, END_LOWER, 1);
  return at(problem.late, i) === 1 ? value + tail(problem, row, i, END_ENTRY, -1) : value;
}

function exact({ law, scale, spreads }: ScaleProblem, row: Row, i: number): number {
  const { ends, three, mu, sigma, b, score } = row;
  scale.logAge(i, END_UPPER, b, ends[0]);
  const z = (ends[0].value - mu) / sigma;
  law.point(z, three);
  addEnd(row, scale.size, spreads, ends[0], z, floatAt(three, 1), floatAt(three, 2));
  addScale(row, scale.size, ends[0], -1);
  scale.logRate(i, b, ends[1]);
  addScale(row, scale.size, ends[1], 1);
  if (spreads > 0) score[score.length - 1] = floatAt(score, score.length - 1) - 1;
  return floatAt(three, 0) - Math.log(sigma) - ends[0].value + ends[1].value;
}

function between({ law, scale, spreads }: ScaleProblem, row: Row, i: number): number {
  const { ends, mu, sigma, b, score, bends } = row;
  scale.logAge(i, END_LOWER, b, ends[0]);
  scale.logAge(i, END_UPPER, b, ends[1]);
  const low = (ends[0].value - mu) / sigma;
  const high = (ends[1].value - mu) / sigma;
  const log = law.logBetween(low, high);
  if (low !== -Infinity) {
    const density = Math.exp(law.logDensity(low) - log);
    addEnd(row, scale.size, spreads, ends[0], low, -density, -density * law.slope(low));
  }
  const density = Math.exp(law.logDensity(high) - log);
  addEnd(row, scale.size, spreads, ends[1], high, density, density * law.slope(high));
  // What is left of the second derivative of a logarithm: less the outer product of the score so far.
  const size = score.length;
  for (let j = 0; j < size; j++) {
    for (let k = 0; k < size; k++) {
      bends[j * size + k] = floatAt(bends, j * size + k) - floatAt(score, j) * floatAt(score, k);
    }
  }
  return log;
}

/** Plus or minus the log survival at an end. */
function tail({ law, scale, spreads }: ScaleProblem, row: Row, i: number, end: number, sign: number): number {
  const { ends, three, mu, sigma, b } = row;
  scale.logAge(i, end, b, ends[0]);
  if (ends[0].value === -Infinity) return 0;
  const z = (ends[0].value - mu) / sigma;
  law.tail(z, three);
  addEnd(row, scale.size, spreads, ends[0], z, sign * floatAt(three, 1), sign * floatAt(three, 2));
  return sign * floatAt(three, 0);
}

/** Adds a term with the derivatives first and second by the z-score (log age - mu) / sigma of an end. */
function addEnd(
  { score, bends, u, sigma }: Row,
  parameters: number,
  spreads: number,
  end: Bent,
  z: number,
  first: number,
  second: number,
): void {
  const size = score.length;
  const tau = size - spreads;
  u[0] = -1 / sigma;
  for (let j = 0; j < parameters; j++) u[j + 1] = floatAt(end.slope, j) / sigma;
  if (spreads > 0) u[tau] = -z;
  for (let j = 0; j < size; j++) {
    score[j] = floatAt(score, j) + first * floatAt(u, j);
    for (let k = 0; k < size; k++) {
      let bend = 0;
      // By log sigma every slope of z turns into its opposite.
      if (k >= tau) bend = -floatAt(u, j);
      else if (j >= tau) bend = -floatAt(u, k);
      else if (j > 0 && k > 0) bend = floatAt(end.bend, (j - 1) * parameters + k - 1) / sigma;
      const here = j * size + k;
      bends[here] = floatAt(bends, here) + second * floatAt(u, j) * floatAt(u, k) + first * bend;
    }
  }
}

/** Adds a multiple of a value that depends on the scale only. */
function addScale({ score, bends }: Row, parameters: number, part: Bent, times: number): void {
  const size = score.length;
  for (let j = 0; j < parameters; j++) {
    score[j + 1] = floatAt(score, j + 1) + times * floatAt(part.slope, j);
    for (let k = 0; k < parameters; k++) {
      const here = (j + 1) * size + k + 1;
      bends[here] = floatAt(bends, here) + times * floatAt(part.bend, j * parameters + k);
    }
  }
}

function bent(size: number): Bent {
  return { value: 0, slope: new Float64Array(size), bend: new Float64Array(size * size) };
}
