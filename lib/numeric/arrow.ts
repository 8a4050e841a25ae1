/**
 * Symmetric matrices with a diagonal block in front and a narrow border, as a factor of many levels makes them: what a square matrix of
 * 5000 places costs in hours takes an instant. The arithmetic is that of `matrix.ts`, with the zeros left out.
 */
import { UsageError } from '../errors.js';
import { floatAt } from './columns.js';

export interface Arrow {
  /** So many leading places meet each other only on the diagonal. */
  levels: number;
  /** How many places there are besides. */
  rest: number;
  /** Diagonal of the leading places. */
  diagonal: Float64Array;
  /** Row j: entries of place levels + j with the leading places. */
  border: Float64Array;
  /** The places besides among themselves, row by row; the lower half counts. */
  core: Float64Array;
}

export function emptyArrow(levels: number, rest: number): Arrow {
  return {
    levels,
    rest,
    diagonal: new Float64Array(levels),
    border: new Float64Array(levels * rest),
    core: new Float64Array(rest * rest),
  };
}

/** A full square matrix, row by row, as an arrow without leading places. */
export function coreOnly(core: Float64Array, rest: number): Arrow {
  return { ...emptyArrow(0, rest), core };
}

/** Its Cholesky factor L (lower), an arrow as well, or null where it is not positive definite. `damping` raises the diagonal by a share. */
export function arrowCholesky({ levels, rest, ...matrix }: Arrow, damping = 0): Arrow | null {
  const out = emptyArrow(levels, rest);
  const { diagonal, border, core } = out;
  for (let l = 0; l < levels; l++) {
    const value = raised(floatAt(matrix.diagonal, l), damping);
    if (!(value > 0)) return null;
    diagonal[l] = Math.sqrt(value);
  }
  for (let i = 0; i < rest; i++) {
    const row = i * levels;
    for (let l = 0; l < levels; l++) border[row + l] = floatAt(matrix.border, row + l) / floatAt(diagonal, l);
    for (let j = 0; j <= i; j++) {
      let left = floatAt(matrix.core, i * rest + j);
      if (i === j) left = raised(left, damping);
      for (let l = 0; l < levels; l++) left -= floatAt(border, row + l) * floatAt(border, j * levels + l);
      for (let k = 0; k < j; k++) left -= floatAt(core, i * rest + k) * floatAt(core, j * rest + k);
      if (i === j && !(left > 0)) return null;
      core[i * rest + j] = i === j ? Math.sqrt(left) : left / floatAt(core, j * rest + j);
    }
  }
  return out;
}

function raised(value: number, damping: number): number {
  return damping === 0 ? value : value + damping * (Math.abs(value) + 1e-12);
}

/** Solves L L' x = right, with L from `arrowCholesky`. */
export function solveArrow(factor: Arrow, right: ArrayLike<number>): Float64Array {
  const { levels, rest, diagonal, border, core } = factor;
  const x = Float64Array.from(right);
  for (let l = 0; l < levels; l++) x[l] = floatAt(x, l) / floatAt(diagonal, l);
  for (let i = 0; i < rest; i++) {
    let left = floatAt(x, levels + i);
    for (let l = 0; l < levels; l++) left -= floatAt(border, i * levels + l) * floatAt(x, l);
    for (let k = 0; k < i; k++) left -= floatAt(core, i * rest + k) * floatAt(x, levels + k);
    x[levels + i] = left / floatAt(core, i * rest + i);
  }
  for (let i = rest - 1; i >= 0; i--) {
    let left = floatAt(x, levels + i);
    for (let k = i + 1; k < rest; k++) left -= floatAt(core, k * rest + i) * floatAt(x, levels + k);
    x[levels + i] = left / floatAt(core, i * rest + i);
  }
  for (let l = 0; l < levels; l++) {
    let left = floatAt(x, l);
    for (let i = 0; i < rest; i++) left -= floatAt(border, i * levels + l) * floatAt(x, levels + i);
    x[l] = left / floatAt(diagonal, l);
  }
  return x;
}

/**
 * Inverse, all of it, row by row: the inverse C of the Schur complement, -w C beside it and 1 / diagonal + w C w' in front, where w is
 * border' over diagonal.
 * @throws UsageError where it is not positive definite
 */
export function invertArrow(arrow: Arrow): number[] {
  const factor = arrowCholesky(arrow);
  if (factor === null) throw new UsageError('invertArrow', 'the matrix is not positive definite.');
  const { levels, rest } = arrow;
  const size = levels + rest;
  // A list of doubles from the first entry on.
  const out = new Array<number>(size * size).fill(0.5).fill(0);
  const unit = new Float64Array(size);
  const beside: Float64Array[] = [];
  for (let j = 0; j < rest; j++) {
    unit[levels + j] = 1;
    const column = solveArrow(factor, unit);
    unit[levels + j] = 0;
    beside.push(column);
    for (let i = 0; i < size; i++) {
      out[i * size + levels + j] = floatAt(column, i);
      out[(levels + j) * size + i] = floatAt(column, i);
    }
  }
  const row = new Float64Array(levels);
  for (let l = 0; l < levels; l++) {
    row.fill(0);
    for (let j = 0; j < rest; j++) {
      const share = floatAt(arrow.border, j * levels + l) / floatAt(arrow.diagonal, l);
      const column = beside[j] as Float64Array;
      for (let k = 0; k <= l; k++) row[k] = floatAt(row, k) - share * floatAt(column, k);
    }
    row[l] = floatAt(row, l) + 1 / floatAt(arrow.diagonal, l);
    for (let k = 0; k <= l; k++) {
      out[l * size + k] = floatAt(row, k);
      out[k * size + l] = floatAt(row, k);
    }
  }
  return out;
}
