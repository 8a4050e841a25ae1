/**
 * Columns of a design made ready for the search: numbers standardised, and the levels of the largest factor as locations instead of
 * columns of zeros and ones. A row then has one location, which costs the same for 400 levels as for none, and what is left of the
 * information beside its diagonal is a narrow border (an arrow).
 */
import { at, itemAt } from '../../../numeric/columns.js';
import { designMatrix } from './design.js';
import { type Standardised, standardise } from './rows.js';
import type { Covariates, Design, DesignColumn, LevelTerm } from './types.js';

/** Fewer levels go as columns like all others. */
const FEWEST_LEVELS = 5;

export interface Arranged {
  factor: { level: Int32Array; levels: number };
  standard: Standardised;
  /** The matrix, row by row, that takes theta to the coefficients of the columns as given. */
  back: number[];
}

/** `size`: how many coefficients there are, spreads included. `apart` false: all levels go as columns. */
export function arrange(
  design: Design,
  covariates: Covariates,
  count: Float64Array,
  size: number,
  apart = true,
): Arranged {
  const rows = count.length;
  const term = apart ? largestFactor(design) : null;
  const dense = design.columns.filter((column) => !isLevelOf(column, term));
  const standard = standardise(designMatrix(design, covariates, rows, dense), count);
  const factor = term === null ? { level: new Int32Array(rows), levels: 1 } : levelsOf(term, covariates);
  return { factor, standard, back: backward(design, term, standard, factor.levels, size) };
}

function largestFactor({ terms }: Design): LevelTerm | null {
  let best: LevelTerm | null = null;
  for (const term of terms) {
    if (term.kind !== 'levels' || term.levels.length < FEWEST_LEVELS) continue;
    if (best === null || term.levels.length > best.levels.length) best = term;
  }
  return best;
}

function isLevelOf({ factors }: DesignColumn, term: LevelTerm | null): boolean {
  return term !== null && factors.length === 1 && itemAt(factors, 0).term === term.name;
}

function levelsOf(term: LevelTerm, covariates: Covariates): Arranged['factor'] {
  const index = new Map(term.levels.map((name, l) => [name, l]));
  const column = covariates[term.name] as readonly string[];
  const level = new Int32Array(column.length);
  for (let i = 0; i < level.length; i++) level[i] = index.get(itemAt(column, i)) ?? -1;
  return { level, levels: term.levels.length };
}

/** Theta has the locations of the levels (the first is the reference) in front, then slopes of standardised columns, then spreads. */
function backward(
  design: Design,
  term: LevelTerm | null,
  { mean, sd }: Standardised,
  levels: number,
  size: number,
): number[] {
  const out = new Array<number>(size * size).fill(0);
  const set = (row: number, column: number, value: number): void => {
    out[row * size + column] = value;
  };
  set(0, 0, 1);
  let [level, slope] = [1, 0];
  // The levels of the arranged factor stand in order among the columns, whatever stands between.
  design.columns.forEach((column, j) => {
    if (isLevelOf(column, term)) {
      set(j + 1, level, 1);
      set(j + 1, 0, -1);
      level += 1;
      return;
    }
    set(j + 1, levels + slope, 1 / at(sd, slope));
    set(0, levels + slope, -at(mean, slope) / at(sd, slope));
    slope += 1;
  });
  for (let k = design.columns.length + 1; k < size; k++) set(k, k, 1);
  return out;
}
