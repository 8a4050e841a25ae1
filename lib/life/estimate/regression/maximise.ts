/** The best coefficients of log age, and the likelihood with its derivatives that they are searched on. */
import { floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { climb, type Evaluation, type Maximum } from './newton.js';
import { type RegressionRows, thinned } from './rows.js';
import { rowTerms } from './rowTerms.js';
import type { StandardLaw } from './standardLaw.js';
import { startAt } from './start.js';

/** What is searched over. `spreads` is 0 where sigma is fixed at 1. */
export interface Problem {
  law: StandardLaw;
  rows: RegressionRows;
  spreads: number;
}

/** From so many rows on the search starts where every so-many-th row has its best coefficients. */
const MANY_ROWS = 20_000;
const ROWS_TO_START = 4000;

/**
 * Theta is a location for each level, slopes of the standardised columns, log spreads. Precondition: merged rows of standardised,
 * independent columns, at least one failure.
 */
export function maximiseRegression(problem: Problem): Maximum {
  const start = roughly(problem) ?? startAt(problem);
  return climb({ evaluate: (theta) => evaluate(problem, theta), start, spreads: problem.spreads });
}

/** The best coefficients of some of the rows, or null where they are few or do not hold them. */
function roughly(problem: Problem): number[] | null {
  const { rows } = problem;
  if (rows.kind.length < MANY_ROWS) return null;
  const fewer = { ...problem, rows: thinned(rows, Math.ceil(rows.kind.length / ROWS_TO_START)) };
  const top = climb({
    evaluate: (theta) => evaluate(fewer, theta),
    start: startAt(fewer),
    spreads: problem.spreads,
  });
  return top.converged ? top.theta : null;
}

/** Log-likelihood of log age less its centre, with score and information. */
export function evaluate({ law, rows, spreads }: Problem, point: readonly number[]): Evaluation {
  const { levels } = rows;
  const columns = rows.x.length;
  const size = levels + columns + spreads;
  const theta = Float64Array.from(point);
  const sigmas = theta.subarray(levels + columns).map(Math.exp);
  const gradient = new Float64Array(size);
  const information = new Float64Array(size * size);
  const terms = new Float64Array(6);
  const x = new Float64Array(columns);
  let value = 0;
  for (let i = 0; i < rows.kind.length; i++) {
    const level = wholeAt(rows.level, i);
    let eta = floatAt(theta, level);
    for (let j = 0; j < columns; j++) {
      x[j] = floatAt(itemAt(rows.x, j), i);
      eta += floatAt(theta, levels + j) * floatAt(x, j);
    }
    const group = wholeAt(rows.group, i);
    rowTerms(law, rows, i, eta, spreads === 0 ? 1 : floatAt(sigmas, group), terms);
    const count = floatAt(rows.count, i);
    value += count * floatAt(terms, 0);
    const first = count * floatAt(terms, 1);
    const second = count * floatAt(terms, 3);
    gradient[level] = floatAt(gradient, level) + first;
    information[level * size + level] = floatAt(information, level * size + level) - second;
    for (let j = 0; j < columns; j++) {
      const place = levels + j;
      const row = place * size;
      gradient[place] = floatAt(gradient, place) + first * floatAt(x, j);
      const bent = second * floatAt(x, j);
      information[row + level] = floatAt(information, row + level) - bent;
      for (let k = 0; k <= j; k++) {
        information[row + levels + k] = floatAt(information, row + levels + k) - bent * floatAt(x, k);
      }
    }
    if (spreads > 0) {
      const place = levels + columns + group;
      const row = place * size;
      const mixed = count * floatAt(terms, 4);
      gradient[place] = floatAt(gradient, place) + count * floatAt(terms, 2);
      information[row + level] = floatAt(information, row + level) - mixed;
      for (let j = 0; j < columns; j++) {
        information[row + levels + j] = floatAt(information, row + levels + j) - mixed * floatAt(x, j);
      }
      information[row + place] = floatAt(information, row + place) - count * floatAt(terms, 5);
    }
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) information[j * size + i] = floatAt(information, i * size + j);
  }
  return {
    value: Number.isNaN(value) ? -Infinity : value,
    gradient: [...gradient],
    information: [...information],
  };
}
