/** The best coefficients of log age, and the likelihood with its derivatives that they are searched on. */
import { emptyArrow } from '../../../numeric/arrow.js';
import { floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { hazardRows } from './hazardRows.js';
import { evaluateHazard } from './hazardSums.js';
import { climb, type Evaluation, type Maximum, type Target } from './newton.js';
import { type RegressionRows, stride, thinned } from './rows.js';
import { rowTerms } from './rowTerms.js';
import { isSmallestValue, type StandardLaw } from './standardLaw.js';
import { startAt } from './start.js';

/** What is searched over. `spreads` is 0 where sigma is fixed at 1. */
export interface Problem {
  law: StandardLaw;
  rows: RegressionRows;
  spreads: number;
  /** Largest values of the columns, without sign: with them a search over many rows ends at five digits of the information. */
  reach?: readonly number[];
}

/** Of many rows: standard errors to five digits, where chance leaves them two, save a pass over all rows. */
const NEAR = 1e-5;
/** What some of the rows say is this far from what all say anyhow. */
const ROUGHLY = 0.1;

/**
 * Theta is a location for each level, slopes of the standardised columns, log spreads. Precondition: merged rows of standardised,
 * independent columns, at least one failure.
 */
export function maximiseRegression(problem: Problem): Maximum {
  const { rows, spreads, reach } = problem;
  const every = stride(rows.kind.length, rows.levels);
  const evaluation = evaluationOf(problem);
  if (every === 1) return climb({ evaluate: evaluation, start: startAt(problem), spreads });
  const start = roughly(problem, every) ?? startAt(problem);
  if (reach === undefined) return climb({ evaluate: evaluation, start, spreads });
  const all = new Float64Array(start.length).fill(1);
  all.set(reach, rows.levels);
  return climb({ evaluate: evaluation, start, spreads, near: NEAR, reach: all });
}

/** The best coefficients of every so-many-th row, from a start by a quarter of them, or null where these do not hold them. */
function roughly(problem: Problem, every: number): number[] | null {
  const fewer = { ...problem, rows: thinned(problem.rows, every) };
  const start = startAt({ ...problem, rows: thinned(fewer.rows, 4) });
  const top = climb({ evaluate: evaluationOf(fewer), start, spreads: problem.spreads, near: ROUGHLY });
  return top.converged ? top.theta : null;
}

function evaluationOf(problem: Problem): Target['evaluate'] {
  const { law, rows, spreads } = problem;
  const terms = isSmallestValue(law) && spreads < 2 ? hazardRows(rows) : null;
  if (terms === null) return (theta) => evaluate(problem, theta);
  return (theta) => evaluateHazard(terms, theta, spreads);
}

/** Log-likelihood of log age less its centre, with score and information. */
function evaluate({ law, rows, spreads }: Problem, point: readonly number[]): Evaluation {
  const { levels } = rows;
  const columns = rows.x.length;
  const size = levels + columns + spreads;
  const theta = Float64Array.from(point);
  const sigmas = theta.subarray(levels + columns).map(Math.exp);
  const gradient = new Float64Array(size);
  const information = emptyArrow(levels, size - levels);
  const { diagonal, border, core, rest } = information;
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
    diagonal[level] = floatAt(diagonal, level) - second;
    for (let j = 0; j < columns; j++) {
      gradient[levels + j] = floatAt(gradient, levels + j) + first * floatAt(x, j);
      const bent = second * floatAt(x, j);
      border[j * levels + level] = floatAt(border, j * levels + level) - bent;
      for (let k = 0; k <= j; k++) {
        core[j * rest + k] = floatAt(core, j * rest + k) - bent * floatAt(x, k);
      }
    }
    if (spreads > 0) {
      const row = columns + group;
      const mixed = count * floatAt(terms, 4);
      gradient[levels + row] = floatAt(gradient, levels + row) + count * floatAt(terms, 2);
      border[row * levels + level] = floatAt(border, row * levels + level) - mixed;
      for (let j = 0; j < columns; j++) {
        core[row * rest + j] = floatAt(core, row * rest + j) - mixed * floatAt(x, j);
      }
      core[row * rest + row] = floatAt(core, row * rest + row) - count * floatAt(terms, 5);
    }
  }
  return { value: Number.isNaN(value) ? -Infinity : value, theta: point, gradient, information };
}
