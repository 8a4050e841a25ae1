/**
 * Columns of a design made ready for the search: numbers standardised, and the levels of the largest factor as locations instead of
 * columns of zeros and ones. A row then has one location, which costs the same for 400 levels as for none, and what is left of the
 * information beside its diagonal is a narrow border (an arrow).
 */
import { at, itemAt } from '../../../numeric/columns.js';
import { levelIndex, type ReadColumns, readMatrix } from './readColumns.js';
import { type Standardised, standardise } from './rows.js';
import type { Design, DesignColumn, LevelTerm } from './types.js';

/** Fewer levels go as columns like all others. */
const FEWEST_LEVELS = 5;

export interface Arranged {
  /** `name` is null where all levels are columns. */
  factor: { name: string | null; level: Int32Array; levels: number };
  /** Names of the columns beside the factor. */
  beside: string[];
  standard: Standardised;
  /** How each coefficient of the columns as given comes from theta. */
  back: Combination[];
  /** The coefficient that each place of theta stands for. */
  named: Int32Array;
}

/** A sum of a few places of theta, times a number each. */
export interface Combination {
  places: number[];
  shares: number[];
}

/** `size`: how many coefficients there are, spreads included. `apart` false: all levels go as columns. */
export function arrange(
  design: Design,
  columns: ReadColumns,
  count: Float64Array,
  size: number,
  apart = true,
): Arranged {
  const rows = count.length;
  const term = apart ? largestFactor(design) : null;
  const dense = design.columns.filter((column) => !isLevelOf(column, term));
  const standard = standardise(readMatrix(design, columns, rows, dense), count);
  const level = term === null ? new Int32Array(rows) : levelIndex(term, columns);
  const factor = { name: term?.name ?? null, level, levels: term?.levels.length ?? 1 };
  const beside = dense.map(({ name }) => name);
  return { factor, beside, standard, ...backward(design, term, standard, factor.levels, size) };
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

/** Theta has the locations of the levels (the first is the reference) in front, then slopes of standardised columns, then spreads. */
function backward(
  design: Design,
  term: LevelTerm | null,
  { mean, sd }: Standardised,
  levels: number,
  size: number,
): Pick<Arranged, 'back' | 'named'> {
  const intercept: Combination = { places: [0], shares: [1] };
  const back = [intercept];
  const named = new Int32Array(size);
  let [level, slope] = [1, 0];
  // The levels of the arranged factor stand in order among the columns, whatever stands between.
  design.columns.forEach((column, j) => {
    if (isLevelOf(column, term)) {
      named[level] = j + 1;
      back.push({ places: [0, level], shares: [-1, 1] });
      level += 1;
      return;
    }
    named[levels + slope] = j + 1;
    back.push({ places: [levels + slope], shares: [1 / at(sd, slope)] });
    intercept.places.push(levels + slope);
    intercept.shares.push(-at(mean, slope) / at(sd, slope));
    slope += 1;
  });
  for (let k = design.columns.length + 1; k < size; k++) {
    named[k] = k;
    back.push({ places: [k], shares: [1] });
  }
  return { back, named };
}
