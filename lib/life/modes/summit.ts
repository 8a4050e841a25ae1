/** The top of a smooth log-likelihood of a few parameters from a start close by, with the covariance that its bend gives. */
import { at } from '../../numeric/columns.js';
import { differentiate, differentiateTwice } from '../../numeric/differentiate.js';
import { cholesky, invertSymmetric } from '../../numeric/matrix.js';
import { minimiseSmooth } from '../../numeric/minimise.js';

export interface Summit {
  at: number[];
  /** Row by row in one list; empty where the likelihood is not shaped like a hill at the place found. */
  covariance: number[];
  converged: boolean;
  reason: string;
}

/** Standard errors of the parameters: the units in which the likelihood bends. */
type Units = readonly number[];

/**
 * Precondition: `start` is close to the top, and `units` are near the standard errors there. Newton steps with derivatives by
 * differences, then some more with finer derivatives, which leave about nine digits.
 */
export function climbToSummit(
  logLikelihood: (x: readonly number[]) => number,
  start: readonly number[],
  units: Units,
): Summit {
  const cost = (x: readonly number[]): number => {
    const value = logLikelihood(x);
    return Number.isNaN(value) ? Infinity : -value;
  };
  const near = minimiseSmooth(
    cost,
    start,
    units.map((unit) => 0.02 * unit),
    1e-6,
  );
  const steps = units.map((unit) => 0.05 * unit);
  let x = near.at;
  let covariance: number[] = [];
  for (let turn = 0; turn < 4; turn++) {
    const bend = differentiateTwice(cost, x, undefined, steps);
    if (!bend.every(Number.isFinite) || cholesky(bend, x.length) === null) {
      const reason = 'the likelihood is not shaped like a hill at the place found';
      return { at: x, covariance: [], converged: false, reason };
    }
    covariance = invertSymmetric(bend, x.length);
    const slope = differentiate(cost, x, steps);
    const move = x.map((_, i) =>
      slope.reduce((total, by, j) => total + at(covariance, i * x.length + j) * by, 0),
    );
    x = x.map((value, i) => value - at(move, i));
    if (move.every((by, i) => Math.abs(by) < 1e-9 * at(units, i))) break;
  }
  return { at: x, covariance, converged: near.converged, reason: near.reason };
}
