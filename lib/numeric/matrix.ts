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
    const x = solveCholesky(
      factor,
      Array.from({ length: size }, (_, i) => (i === column ? 1 : 0)),
    );
    for (let i = 0; i < size; i++) out[i * size + column] = at(x, i);
  }
  return out;
}

/** Solves L L' x = right, with L from `cholesky`. */
export function solveCholesky(factor: readonly number[], right: readonly number[]): number[] {
  const size = right.length;
  const x = new Array<number>(size).fill(0);
  for (let i = 0; i < size; i++) {
    let rest = at(right, i);
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

/** Solves a square system by elimination with row exchanges. @throws UsageError where the matrix is singular. */
export function solveLinear(matrix: readonly number[], right: readonly number[]): number[] {
  const size = right.length;
  const rows = Array.from({ length: size }, (_, i) => [
    ...matrix.slice(i * size, (i + 1) * size),
    at(right, i),
  ]);
  for (let column = 0; column < size; column++) {
    let best = column;
    for (let i = column + 1; i < size; i++) {
      if (Math.abs(at(rows[i] as number[], column)) > Math.abs(at(rows[best] as number[], column))) best = i;
    }
    [rows[column], rows[best]] = [rows[best] as number[], rows[column] as number[]];
    const pivot = rows[column] as number[];
    if (!(Math.abs(at(pivot, column)) > 0)) throw new UsageError('solveLinear', 'the matrix is singular.');
    for (let i = column + 1; i < size; i++) {
      const row = rows[i] as number[];
      const factor = at(row, column) / at(pivot, column);
      for (let j = column; j <= size; j++) row[j] = at(row, j) - factor * at(pivot, j);
    }
  }
  const x = new Array<number>(size).fill(0);
  for (let i = size - 1; i >= 0; i--) {
    const row = rows[i] as number[];
    let rest = at(row, size);
    for (let j = i + 1; j < size; j++) rest -= at(row, j) * at(x, j);
    x[i] = rest / at(row, i);
  }
  return x;
}
