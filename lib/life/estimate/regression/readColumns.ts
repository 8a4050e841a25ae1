/** Covariates read once: texts as whole numbers, one for each level, so that what comes after compares no texts. */
import { UsageError } from '../../../errors.js';
import { floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { transformed } from './transformed.js';
import type { Covariate, Design, DesignColumn, Term } from './types.js';

export interface TextColumn {
  kind: 'levels';
  /** In the order of their first row. */
  names: string[];
  /** Which name each row has. */
  code: Int32Array;
}

export interface NumberColumn {
  kind: 'number';
  values: Float64Array;
  low: number;
  high: number;
}

export type ReadColumn = TextColumn | NumberColumn;

/** Columns by the name of their covariate. */
export type ReadColumns = ReadonlyMap<string, ReadColumn>;

/** A column as numbers, or null where a value is missing or of the wrong kind. */
export function readColumn(column: Covariate): ReadColumn | null {
  if (typeof column[0] === 'string') return readTexts(column as readonly string[]);
  return readNumbers(column as ArrayLike<number>);
}

function readTexts(column: readonly string[]): TextColumn | null {
  const known = new Map<string, number>();
  const names: string[] = [];
  const code = new Int32Array(column.length);
  for (let i = 0; i < code.length; i++) {
    const name: unknown = column[i];
    let found = known.get(name as string);
    if (found === undefined) {
      if (typeof name !== 'string' || name === '') return null;
      found = names.length;
      known.set(name, found);
      names.push(name);
    }
    code[i] = found;
  }
  return { kind: 'levels', names, code };
}

function readNumbers(column: ArrayLike<number>): NumberColumn | null {
  if (!(column instanceof Float64Array)) {
    for (let i = 0; i < column.length; i++) if (typeof column[i] !== 'number') return null;
  }
  const values = new Float64Array(column);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    const value = floatAt(values, i);
    // Neither NaN nor endless.
    if (!(value - value === 0)) return null;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return { kind: 'number', values, low, high };
}

/** Which of its levels each row has, in the order of the term. */
export function levelIndex(term: Term, columns: ReadColumns): Int32Array {
  const read = columns.get(term.name);
  if (term.kind !== 'levels' || read?.kind !== 'levels') {
    throw new UsageError('fitRegression', 'the covariate has no levels.', term.name);
  }
  const place = new Map(term.levels.map((name, l) => [name, l]));
  const order = Int32Array.from(read.names, (name) => place.get(name) ?? -1);
  const out = new Int32Array(read.code.length);
  for (let i = 0; i < out.length; i++) out[i] = wholeAt(order, wholeAt(read.code, i));
  return out;
}

/** Some columns of a design over the rows that were read. */
export function readMatrix(
  design: Design,
  columns: ReadColumns,
  rows: number,
  wanted: readonly DesignColumn[],
): Float64Array[] {
  const numbers = new Map<string, Float64Array>();
  const levels = new Map<string, Int32Array>();
  for (const term of design.terms) {
    if (term.kind === 'levels') levels.set(term.name, levelIndex(term, columns));
    else numbers.set(term.name, transformedColumn(term, columns));
  }
  return wanted.map(({ factors }) => {
    const out = new Float64Array(rows).fill(1);
    for (const { term, level } of factors) {
      const number = numbers.get(term);
      if (number !== undefined) multiplyBy(out, number);
      else {
        const known = itemAt(
          design.terms.filter(({ name }) => name === term),
          0,
        );
        const place = known.kind === 'levels' ? known.levels.indexOf(level ?? '') : -1;
        keepOnly(out, levels.get(term) as Int32Array, place);
      }
    }
    return out;
  });
}

function transformedColumn(term: Term, columns: ReadColumns): Float64Array {
  const read = columns.get(term.name);
  if (term.kind !== 'number' || read?.kind !== 'number') {
    throw new UsageError('fitRegression', 'the covariate has no numbers.', term.name);
  }
  if (term.transform === null) return read.values;
  return read.values.map((x) => transformed(term.transform, x));
}

function multiplyBy(out: Float64Array, column: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = floatAt(out, i) * floatAt(column, i);
}

function keepOnly(out: Float64Array, level: Int32Array, wanted: number): void {
  for (let i = 0; i < out.length; i++) if (wholeAt(level, i) !== wanted) out[i] = 0;
}
