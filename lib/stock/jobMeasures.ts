/** Jobs that take several pieces: what they find on the shelf, and how far below the reorder point they push. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import type { CountDistribution } from './leadTimeDemand.js';

/** What a job takes: atLeast[j] = chance of j pieces or more; atLeast[0] = 1. */
export interface JobTail {
  atLeast: Float64Array;
  mean: number;
}

/** Tail of the sizes of jobs. Throws UsageError where no job takes any piece. */
export function checkedSizes(sizes: ArrayLike<number>): JobTail {
  const atLeast = new Float64Array(sizes.length + 1);
  let mean = 0;
  for (let v = sizes.length - 1; v >= 0; v--) {
    atLeast[v] = floatAt(atLeast, v + 1) + at(sizes, v);
    if (v > 0) mean += floatAt(atLeast, v);
  }
  if (!(mean > 0)) throw new UsageError('stockMeasures', 'some job must take a piece.', mean);
  return { atLeast, mean };
}

/**
 * Share of pieces handed out at once where a job finds y - D on the shelf: E min(X, (y - D)+) / E X, in which the j-th
 * piece of a job is handed out where D <= y - j. Mean over positions.
 */
export function jobsFilled(law: CountDistribution, job: JobTail, point: number, quantity: number): number {
  let filled = 0;
  for (let y = point + quantity; y > point; y--) {
    for (let j = 1; j < job.atLeast.length && j <= y; j++) {
      filled += floatAt(job.atLeast, j) * law.cdf(y - j);
    }
  }
  return Math.min(1, filled / (quantity * job.mean));
}

/**
 * Mean of f over the position just before an order is placed: point less the undershoot. A job takes the position from y to
 * point - u with the chance of its size y - point + u, y spread evenly over point + 1 to point + quantity.
 */
export function jobsPoint(
  { atLeast }: JobTail,
  point: number,
  quantity: number,
  f: (position: number) => number,
): number {
  let [total, weights] = [0, 0];
  for (let u = 0; u + 1 < atLeast.length; u++) {
    const to = Math.min(atLeast.length - 1, u + quantity + 1);
    const weight = floatAt(atLeast, u + 1) - floatAt(atLeast, to);
    weights += weight;
    total += weight * f(point - u);
  }
  return total / weights;
}
