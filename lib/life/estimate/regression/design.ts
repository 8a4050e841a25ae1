/** Covariates to columns: what each coefficient multiplies, by name. */
import { UsageError } from '../../../errors.js';
import { floatAt, itemAt } from '../../../numeric/columns.js';
import { ownOf } from './ownOf.js';
import { inOrder, type ReadColumn, type ReadColumns } from './readColumns.js';
import { requireCovariates } from './requireCovariates.js';
import { transformed } from './transformed.js';
import type {
  Covariate,
  Covariates,
  Design,
  DesignColumn,
  LevelTerm,
  RegressionOptions,
  Term,
} from './types.js';

/**
 * Reads covariates of as many rows as the sample has. Levels are put in sorted order, so that the reference does not depend on
 * the order of rows.
 * @throws UsageError as `requireCovariates`, and for interactions, transforms, references or shapes of covariates that are not there
 */
export function readDesign(
  covariates: Covariates,
  rows: number,
  options: RegressionOptions,
): { design: Design; columns: ReadColumns } {
  const read = requireCovariates(covariates, rows, options);
  const terms = [...read].map(([name, column]) => termOf(name, column, options));
  const find = (name: string): Term => termNamed(terms, name);
  const pairs = (options.interactions ?? []).flatMap(([a, b]) =>
    columnsOf(find(a)).flatMap((left) => columnsOf(find(b)).map((right) => product(left, right))),
  );
  const shapeBy = [...(options.shapeBy ?? [])];
  const design: Design = {
    terms,
    columns: [...terms.flatMap(columnsOf), ...pairs],
    shapeBy,
    shapeGroups: shapeBy.length === 0 ? [''] : [...new Set(shapeLabels(shapeBy, covariates, rows))].sort(),
  };
  for (const term of terms) {
    const column = read.get(term.name);
    if (term.kind === 'levels' && column?.kind === 'levels') {
      read.set(term.name, inOrder(column, term.levels));
    }
  }
  return { design, columns: read };
}

/** The columns of a design for any rows of covariates that it knows. */
export function designMatrix(design: Design, covariates: Covariates, rows: number): Float64Array[] {
  return design.columns.map(({ factors }) => {
    const out = new Float64Array(rows).fill(1);
    for (const { term, level } of factors) {
      const values = covariates[term] as Covariate;
      const value = readerOf(termNamed(design.terms, term), level);
      for (let i = 0; i < rows; i++) out[i] = floatAt(out, i) * value(values[i]);
    }
    return out;
  });
}

/** Which of the design's spreads each row has. */
export function shapeIndex(design: Design, covariates: Covariates, rows: number): Int32Array {
  if (design.shapeBy.length === 0) return new Int32Array(rows);
  const labels = shapeLabels(design.shapeBy, covariates, rows);
  const index = new Map(design.shapeGroups.map((name, i) => [name, i]));
  return Int32Array.from(labels, (label) => index.get(label) ?? -1);
}

/** A list of more than 32 million numbers is no longer one block of memory. */
const MOST_COEFFICIENTS = 5500;

/**
 * Names of all coefficients in their order.
 * @throws UsageError for two of one name, and for more than 5500
 */
export function coefficientNames(design: Design, exponential: boolean): string[] {
  const spreads = design.shapeGroups.map((group) => (group === '' ? 'logSigma' : `logSigma:${group}`));
  const names = ['intercept', ...design.columns.map(({ name }) => name), ...(exponential ? [] : spreads)];
  if (names.length > MOST_COEFFICIENTS) {
    const rule = `${names.length} coefficients are too many: their covariance would have ${names.length ** 2} numbers. At most ${MOST_COEFFICIENTS}; join levels.`;
    throw new UsageError('fitRegression', rule);
  }
  const known = new Set<string>();
  for (const name of names) {
    if (known.has(name)) {
      const rule = 'two coefficients would have one name: give the covariate another name.';
      throw new UsageError('fitRegression', rule, name);
    }
    known.add(name);
  }
  return names;
}

export function termNamed(terms: readonly Term[], name: string): Term {
  const found = terms.find((term) => term.name === name);
  if (found !== undefined) return found;
  const rule = `there is no covariate of that name; there are ${terms.map((t) => t.name).join(', ')}.`;
  throw new UsageError('fitRegression', rule, name);
}

function termOf(name: string, column: ReadColumn, options: RegressionOptions): Term {
  if (column.kind === 'levels') {
    const levels = [...column.names].sort();
    return { kind: 'levels', name, levels: referenceFirst(name, levels, ownOf(options.reference, name)) };
  }
  const { low, high } = column;
  return { kind: 'number', name, transform: ownOf(options.transforms, name) ?? null, low, high };
}

function referenceFirst(name: string, levels: string[], reference: string | undefined): string[] {
  if (reference === undefined) return levels;
  if (levels.includes(reference)) return [reference, ...levels.filter((level) => level !== reference)];
  const rule = `the reference of ${name} must be one of its levels: ${levels.join(', ')}.`;
  throw new UsageError('fitRegression', rule, reference);
}

function columnsOf(term: Term): DesignColumn[] {
  const { name } = term;
  if (term.kind === 'number') return [{ name, factors: [{ term: name, level: null }] }];
  return term.levels.slice(1).map((level) => ({
    name: `${name}=${level}`,
    factors: [{ term: name, level }],
  }));
}

function product(a: DesignColumn, b: DesignColumn): DesignColumn {
  return { name: `${a.name}:${b.name}`, factors: [...a.factors, ...b.factors] };
}

function readerOf(term: Term, level: string | null): (value: number | string | undefined) => number {
  if (term.kind === 'levels') return (value) => (value === level ? 1 : 0);
  return (value) => transformed(term.transform, value as number);
}

/** 'material=EPDM' of each row, several joined by a comma; empty without groups. */
function shapeLabels(shapeBy: readonly string[], covariates: Covariates, rows: number): string[] {
  const columns = shapeBy.map((name) => covariates[name] as readonly string[]);
  return Array.from({ length: rows }, (_, i) =>
    shapeBy.map((name, k) => `${name}=${itemAt(columns[k] as readonly string[], i)}`).join(','),
  );
}

/** Levels of a term that has levels. */
export function isLevelTerm(term: Term): term is LevelTerm {
  return term.kind === 'levels';
}
