/** Small symmetric matrices, row by row in one list. */
import { UsageError } from '../errors.js';
import { at } from './columns.js';

/** Cholesky factor L (lower, row by row) of a positive definite matrix, or null where it is not positive definite. */
export function cholesky(matrix: readonly number[], size: number): number[] | null {
  const out = new Array<number>(size * size).fill(0);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = at(matrix, i * size + j);
      for (let k = 0; k < j; k++) rest -= at(out, i * size + k) * at(out, j * size + k);
      if (i === j) {
        if (!(rest > 0)) return null;
        out[i * size + i] = Math.sqrt(rest);
      } else {
        out[i * size + j] = rest / at(out, j * size + j);
      }
    }
  }
  return out;
}

/** Inverse of a positive definite matrix. @throws UsageError where it is not positive definite. */
export function invertSymmetric(matrix: readonly number[], size: number): number[] {
  const factor = cholesky(matrix, size);
  if (factor === null) throw new UsageError('invertSymmetric', 'the matrix is not positive definite.');
  const out = new Array<number>(size * size).fill(0);
  for (let column = 0; column < size; column++) {
    const x = solveFactored(factor, size, column);
    for (let i = 0; i < size; i++) out[i * size + column] = at(x, i);
  }
  return out;
}

/** Solves L L' x = unit vector. */
function solveFactored(factor: readonly number[], size: number, column: number): number[] {
  const x = new Array<number>(size).fill(0);
  for (let i = 0; i < size; i++) {
    let rest = i === column ? 1 : 0;
    for (let k = 0; k < i; k++) rest -= at(factor, i * size + k) * at(x, k);
    x[i] = rest / at(factor, i * size + i);
  }
  for (let i = size - 1; i >= 0; i--) {
    let rest = at(x, i);
    for (let k = i + 1; k < size; k++) rest -= at(factor, k * size + i) * at(x, k);
    x[i] = rest / at(factor, i * size + i);
  }
  return x;
}

/** Product of two square matrices. */
export function multiply(a: readonly number[], b: readonly number[], size: number): number[] {
  return Array.from({ length: size * size }, (_, at0) => {
    const [i, j] = [Math.floor(at0 / size), at0 % size];
    let total = 0;
    for (let k = 0; k < size; k++) total += at(a, i * size + k) * at(b, k * size + j);
    return total;
  });
}
