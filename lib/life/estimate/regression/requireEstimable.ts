/** Which regressions the data cannot carry: said before the search, with what to do. */
import { UsageError } from '../../../errors.js';
import { arrowCholesky } from '../../../numeric/arrow.js';
import { at, byteAt, floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { cholesky, solveCholesky } from '../../../numeric/matrix.js';
import { count, listed } from '../../../numeric/words.js';
import type { Arranged } from './arrange.js';
import { isLevelTerm } from './design.js';
import { levelIndex, type ReadColumns, readMatrix } from './readColumns.js';
import { type Ages, SOUND, standardise, stride } from './rows.js';
import { normalMatrix } from './start.js';
import type { Design } from './types.js';

const WHERE = 'fitRegression';
/** A column whose variance is explained by others to all but this share follows from them, as far as doubles can tell. */
const COLLINEAR = 1e-11;

/**
 * @throws UsageError without failures, for more coefficients than the failures carry, for a level (or group with a spread of
 * its own) without a failure, and for columns that follow from others
 */
export function requireEstimable(
  { kind, count, failures }: Pick<Ages, 'kind' | 'count' | 'failures'>,
  columns: ReadColumns,
  design: Design,
  arranged: Arranged,
  failuresPerCoefficient: number,
): void {
  if (failures === 0) {
    throw new UsageError(WHERE, 'there are no failures, so no effect can be estimated. Wait for some.');
  }
  requireFailures(kind, columns, design);
  requireFew(design, failures, failuresPerCoefficient);
  requireApart(design, columns, count, arranged);
}

/** @throws UsageError for a column that follows from others */
export function requireApart(
  design: Design,
  read: ReadColumns,
  count: Float64Array,
  arranged: Arranged,
): void {
  if (areClearlyApart(arranged, count)) return;
  const dependent = firstDependent(arranged);
  if (dependent < 0) return;
  const { factor, beside } = arranged;
  if (factor.name !== null && design.columns.length > MOST_TO_NAME) {
    const others = dependent > 0 ? ' and columns before it' : '';
    const rule = `column ${itemAt(beside, dependent)} follows from the levels of ${factor.name}${others}: leave one of them out.`;
    throw new UsageError(WHERE, rule);
  }
  const { columns } = standardise(readMatrix(design, read, count.length, design.columns), count);
  requireIndependent(design, columns);
}

/** Far enough above COLLINEAR for one pass of projections to tell. */
const CLEARLY_APART = 1e-8;

/** With more columns than this the levels of a factor are not named one by one, which would take a column each. */
const MOST_TO_NAME = 60;

/** Sums of squares lose digits that columns have: only what is far above their rounding is told by them. */
const TOLD_BY_SQUARES = 1e-6;

/**
 * Whether levels and earlier columns leave a good share of each column, by the pivots of the sums of squares and products. What is left
 * over some rows is no more than what is left over all, so of many rows some are tried first.
 */
function areClearlyApart({ factor, standard }: Arranged, count: Float64Array): boolean {
  const apart = (every: number): boolean => {
    const root = arrowCholesky(normalMatrix({ ...factor, x: standard.columns, count }, every));
    if (root === null) return false;
    return standard.columns.every(
      (_, j) => floatAt(root.core, j * root.rest + j) ** 2 > TOLD_BY_SQUARES * at(standard.squares, j),
    );
  };
  const every = stride(count.length);
  return apart(every) || (every > 1 && apart(1));
}

/** The first column that keeps no share of its length once its level means and all columns before it are taken off (Gram-Schmidt), or -1. */
function firstDependent({ factor, standard }: Arranged): number {
  const rest: Float64Array[] = [];
  for (const [j, column] of standard.columns.entries()) {
    const left = lessLevelMeans(column, factor);
    for (const other of rest) {
      const share = dot(other, left) / dot(other, other);
      for (let i = 0; i < left.length; i++) left[i] = floatAt(left, i) - share * floatAt(other, i);
    }
    if (!(dot(left, left) > CLEARLY_APART * dot(column, column))) return j;
    rest.push(left);
  }
  return -1;
}

function lessLevelMeans(column: Float64Array, { level, levels }: Arranged['factor']): Float64Array {
  const total = new Float64Array(levels);
  const number = new Float64Array(levels);
  for (let i = 0; i < column.length; i++) {
    const l = at(level, i);
    total[l] = floatAt(total, l) + floatAt(column, i);
    number[l] = floatAt(number, l) + 1;
  }
  const out = new Float64Array(column.length);
  for (let i = 0; i < out.length; i++) {
    const l = at(level, i);
    out[i] = floatAt(column, i) - floatAt(total, l) / floatAt(number, l);
  }
  return out;
}

/** @throws UsageError for more coefficients than the failures carry */
export function requireFew(design: Design, failures: number, share: number): void {
  const asked = design.columns.length + design.shapeGroups.length - 1;
  const carried = share === 0 ? Infinity : Math.max(1, Math.floor(failures / share));
  if (asked <= carried) return;
  const rule = `${count(failures, 'failure')} ${failures === 1 ? 'carries' : 'carry'} ${count(carried, 'coefficient')} besides intercept and spread (one per ${share}). Leave some out, or set failuresPerCoefficient.`;
  throw new UsageError(WHERE, rule, `${asked} coefficients`);
}

function requireFailures(kind: Uint8Array, columns: ReadColumns, design: Design): void {
  for (const term of design.terms.filter(isLevelTerm)) {
    const level = levelIndex(term, columns);
    const failed = new Uint8Array(term.levels.length);
    let left = failed.length;
    for (let i = 0; i < level.length && left > 0; i++) {
      const l = wholeAt(level, i);
      if (byteAt(kind, i) === SOUND || byteAt(failed, l) === 1) continue;
      failed[l] = 1;
      left -= 1;
    }
    const without = term.levels.filter((_, l) => at(failed, l) === 0);
    if (without.length === 0) continue;
    const names = listed(without.map((name) => `${term.name}=${name}`));
    const todo = 'Join it with a like level, or leave its lives out.';
    throw new UsageError(WHERE, `no life with ${names} failed, so its effect is without limit. ${todo}`);
  }
}

/** Columns are centred and of standard deviation 1, or all 0 where they were constant. */
function requireIndependent(design: Design, columns: readonly Float64Array[]): void {
  for (let j = 0; j < columns.length; j++) {
    const { name } = itemAt(design.columns, j);
    if (itemAt(columns, j).every((x) => x === 0)) {
      throw new UsageError(WHERE, `column ${name} is the same in every row: leave it out.`);
    }
    const others = explaining(columns, j);
    if (others === null) continue;
    const names = listed(others.map((k) => itemAt(design.columns, k).name));
    throw new UsageError(WHERE, `column ${name} follows from ${names}: leave one of them out.`);
  }
}

/** The earlier columns that column j is a sum of, or null where it is not. Precondition: the earlier ones are independent. */
function explaining(columns: readonly Float64Array[], j: number): number[] | null {
  if (j === 0) return null;
  const right = columns.slice(0, j).map((column) => dot(column, itemAt(columns, j)));
  const gram = columns.slice(0, j).flatMap((a) => columns.slice(0, j).map((b) => dot(a, b)));
  const factor = cholesky(gram, j);
  if (factor === null) return null;
  const share = solveCholesky(factor, right);
  const residual = itemAt(columns, j).slice();
  for (let k = 0; k < j; k++) {
    for (let i = 0; i < residual.length; i++) {
      residual[i] = floatAt(residual, i) - at(share, k) * floatAt(itemAt(columns, k), i);
    }
  }
  if (dot(residual, residual) > COLLINEAR * dot(itemAt(columns, j), itemAt(columns, j))) return null;
  return Array.from(share.keys()).filter((k) => Math.abs(at(share, k)) > 1e-5);
}

function dot(a: Float64Array, b: Float64Array): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += floatAt(a, i) * floatAt(b, i);
  return total;
}
