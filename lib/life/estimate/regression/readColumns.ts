/** Covariates read once: texts as whole numbers, one for each level, so that what comes after compares no texts. */
import { UsageError } from '../../../errors.js';
import { floatAt, wholeAt } from '../../../numeric/columns.js';
import { transformed } from './transformed.js';
import type { Covariate, Design, DesignColumn, LevelTerm, Term } from './types.js';

export interface TextColumn {
  kind: 'levels';
  /** Every name once, in any order until a design orders them as its term. */
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

/** So many rows are looked at for names before all are read. */
const ROWS_TO_LOOK = 1000;

/** Names of the first rows come in sorted order, so that most columns have the order of their design at once. */
function readTexts(column: readonly string[]): TextColumn | null {
  const names = [...new Set(column.slice(0, ROWS_TO_LOOK))];
  if (!names.every((name) => typeof name === 'string' && name !== '')) return null;
  names.sort();
  const known = new Map(names.map((name, l) => [name, l]));
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
    const value = values[i] as number;
    // Neither NaN nor endless.
    if (!(value - value === 0)) return null;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return { kind: 'number', values, low, high };
}

/** A column of texts with its names in another order. */
export function inOrder({ names, code }: TextColumn, levels: string[]): TextColumn {
  if (levels.every((name, l) => name === names[l])) return { kind: 'levels', names: levels, code };
  const place = new Map(levels.map((name, l) => [name, l]));
  const order = Int32Array.from(names, (name) => place.get(name) ?? -1);
  const out = new Int32Array(code.length);
  for (let i = 0; i < out.length; i++) out[i] = order[code[i] as number] as number;
  return { kind: 'levels', names: levels, code: out };
}

/** Which of its levels each row has. Precondition: columns of the design of the term. */
export function levelIndex(term: LevelTerm, columns: ReadColumns): Int32Array {
  const read = columns.get(term.name);
  if (read?.kind === 'levels') return read.code;
  throw new UsageError('fitRegression', 'the covariate has no levels.', term.name);
}

/** Some columns of a design over the rows that were read. */
export function readMatrix(
  design: Design,
  columns: ReadColumns,
  rows: number,
  wanted: readonly DesignColumn[],
): Float64Array[] {
  const terms = new Map(design.terms.map((term) => [term.name, term]));
  return wanted.map(({ factors }) => {
    const parts = factors.map(({ term, level }) => partOf(terms.get(term) as Term, level, columns, rows));
    const [first = new Float64Array(rows), ...others] = parts;
    return others.length === 0 ? first : others.reduce(product, first);
  });
}

function partOf(term: Term, level: string | null, columns: ReadColumns, rows: number): Float64Array {
  if (term.kind === 'number') return transformedColumn(term, columns);
  const out = new Float64Array(rows);
  const wanted = term.levels.indexOf(level ?? '');
  const code = levelIndex(term, columns);
  for (let i = 0; i < rows; i++) if (wholeAt(code, i) === wanted) out[i] = 1;
  return out;
}

function product(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = floatAt(a, i) * floatAt(b, i);
  return out;
}

function transformedColumn(term: Term, columns: ReadColumns): Float64Array {
  const read = columns.get(term.name);
  if (term.kind !== 'number' || read?.kind !== 'number') {
    throw new UsageError('fitRegression', 'the covariate has no numbers.', term.name);
  }
  if (term.transform === null) return read.values;
  return read.values.map((x) => transformed(term.transform, x));
}
