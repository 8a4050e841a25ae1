/** Derivatives by differences, for smooth functions whose variables are of order one (logs of parameters). */
import { at } from './columns.js';

/** Weights of the five-point stencils: offsets -2 to 2. */
const FIRST = [1 / 12, -8 / 12, 0, 8 / 12, -1 / 12];
const SECOND = [-1 / 12, 16 / 12, -30 / 12, 16 / 12, -1 / 12];

/** Gradient of f at x by fourth-order central differences; `steps[j]` is the step of variable j. */
export function differentiate(
  f: (x: readonly number[]) => number,
  x: readonly number[],
  steps: readonly number[],
): number[] {
  return x.map((_, j) => {
    const h = at(steps, j);
    let total = 0;
    for (let k = -2; k <= 2; k++) if (k !== 0) total += at(FIRST, k + 2) * f(moved(x, [[j, k * h]]));
    return total / h;
  });
}

/**
 * Second derivatives of f at x over the variables listed in `free`, row by row: fourth-order central differences, good to
 * about 1e-8 relative.
 */
export function differentiateTwice(
  f: (x: readonly number[]) => number,
  x: readonly number[],
  free: readonly number[] = x.map((_, j) => j),
  steps: readonly number[] = x.map(() => 4e-3),
): number[] {
  const size = free.length;
  const out = new Array<number>(size * size).fill(0);
  for (let p = 0; p < size; p++) {
    for (let q = p; q < size; q++) {
      const value = p === q ? along(f, x, at(free, p), steps) : across(f, x, at(free, p), at(free, q), steps);
      out[p * size + q] = value;
      out[q * size + p] = value;
    }
  }
  return out;
}

function along(
  f: (x: readonly number[]) => number,
  x: readonly number[],
  j: number,
  steps: readonly number[],
): number {
  const h = at(steps, j);
  let total = 0;
  for (let k = -2; k <= 2; k++) total += at(SECOND, k + 2) * f(moved(x, [[j, k * h]]));
  return total / (h * h);
}

function across(
  f: (x: readonly number[]) => number,
  x: readonly number[],
  i: number,
  j: number,
  steps: readonly number[],
): number {
  let total = 0;
  for (let k = -2; k <= 2; k++) {
    for (let l = -2; l <= 2; l++) {
      const weight = at(FIRST, k + 2) * at(FIRST, l + 2);
      if (weight !== 0) {
        total +=
          weight *
          f(
            moved(x, [
              [i, k * at(steps, i)],
              [j, l * at(steps, j)],
            ]),
          );
      }
    }
  }
  return total / (at(steps, i) * at(steps, j));
}

function moved(x: readonly number[], moves: [number, number][]): number[] {
  const copy = [...x];
  for (const [j, by] of moves) copy[j] = at(x, j) + by;
  return copy;
}
