/** The last digits of a maximum, and the information there. */
import { at } from '../../numeric/columns.js';
import { differentiate, differentiateTwice } from '../../numeric/differentiate.js';
import { cholesky, invertSymmetric, solveCholesky } from '../../numeric/matrix.js';

export interface Sharpened {
  at: number[];
  /** Inverse of the second derivatives of the target, row by row. */
  covariance: number[];
  /** False where the target is not bowl-shaped there, so that nothing was sharpened. */
  converged: boolean;
  iterations: number;
}

/**
 * Newton steps with derivatives by fourth-order differences, from a start close to the least value of `target`: turns the eight
 * digits of a search without derivatives into about eleven. `stepsAt` gives steps natural to the place, well inside the domain.
 */
export function sharpen(
  target: (x: readonly number[]) => number,
  start: readonly number[],
  stepsAt: (x: readonly number[]) => number[],
): Sharpened {
  let x = [...start];
  let iterations = 0;
  for (; iterations < 12; iterations++) {
    const steps = stepsAt(x);
    const gradient = differentiate(target, x, smaller(steps, 0.2));
    const factor = factorAt(target, x, steps);
    if (factor === null || !gradient.every(Number.isFinite)) return failed(x, iterations);
    const move = solveCholesky(factor, gradient);
    const next = x.map((value, i) => value - at(move, i));
    if (!Number.isFinite(target(next))) return failed(x, iterations);
    x = next;
    if (move.every((by, i) => Math.abs(by) < 1e-8 * at(steps, i))) break;
  }
  const second = differentiateTwice(target, x, undefined, stepsAt(x));
  if (!second.every(Number.isFinite) || cholesky(second, x.length) === null) return failed(x, iterations);
  return { at: x, covariance: invertSymmetric(second, x.length), converged: true, iterations };
}

function factorAt(
  target: (x: readonly number[]) => number,
  x: readonly number[],
  steps: readonly number[],
): number[] | null {
  const second = differentiateTwice(target, x, undefined, steps);
  return second.every(Number.isFinite) ? cholesky(second, x.length) : null;
}

function smaller(steps: readonly number[], by: number): number[] {
  return steps.map((step) => by * step);
}

function failed(x: number[], iterations: number): Sharpened {
  return { at: x, covariance: [], converged: false, iterations };
}
