/**
 * Renewals over all draws of a posterior at once, on an even grid of times: what block replacement of a group asks for. The
 * renewal equation is solved with the increments of M put at the middle of each step (Xie 1989, from memory):
 *
 *     M(i) = F(i) + sum over j up to i of [M(j) - M(j - 1)] F(i - j + 1/2)
 *
 * The chance F of a life up to a time may bend as it likes, as no density is asked for.
 */
import type { LifeDraws } from '../../life/sampleTypes.js';
import { floatAt } from '../../numeric/columns.js';

/** Counts of lives that ended, by a leak or an opening, up to step * 1, 2 ... of every draw. */
export interface DrawRenewals {
  step: number;
  steps: number;
  /** Renewals of draw d by time i * step are count[d * (steps + 1) + i]; 0 at i = 0. */
  count: Float64Array;
}

/** Trusts its draws. An error of about (step / time)² of the count, far less than draws are apart. */
export function drawRenewals(
  draws: LifeDraws,
  openingsPerDay: number,
  step: number,
  steps: number,
): DrawRenewals {
  const halves = halfSteps(draws, openingsPerDay, step, steps);
  const row = steps + 1;
  const count = new Float64Array(draws.shape.length * row);
  const atHalf = new Float64Array(steps);
  const grown = new Float64Array(row);
  for (let d = 0; d < draws.shape.length; d++) {
    const ended = halves.endedOf(d);
    for (let i = 0; i < steps; i++) atHalf[i] = floatAt(ended, 2 * i + 1);
    const first = floatAt(atHalf, 0);
    let before = 0;
    for (let i = 1; i <= steps; i++) {
      let total = floatAt(ended, 2 * i) - before * first;
      for (let j = 1; j < i; j++) total += floatAt(grown, j) * floatAt(atHalf, i - j);
      const now = total / (1 - first);
      grown[i] = now - before;
      count[d * row + i] = now;
      before = now;
    }
  }
  return { step, steps, count };
}

/** Renewals of draw d by a time within the grid, by the parabola through the three points round it. */
export function renewalsAt({ step, steps, count }: DrawRenewals, d: number, time: number): number {
  const middle = Math.min(steps - 1, Math.max(1, Math.round(time / step)));
  const x = time / step - middle;
  const at = d * (steps + 1) + middle;
  const [left, here, right] = [floatAt(count, at - 1), floatAt(count, at), floatAt(count, at + 1)];
  return here + 0.5 * x * (right - left) + 0.5 * x * x * (left - 2 * here + right);
}

/** Chance that a life has ended by each half step, for one draw after the other in one column. */
function halfSteps(
  { shape, scale, share, faultShape, faultScale }: LifeDraws,
  openingsPerDay: number,
  step: number,
  steps: number,
): { endedOf(d: number): Float64Array } {
  const size = 2 * steps + 1;
  const logTime = new Float64Array(size);
  const faultLeaked = new Float64Array(size);
  const opened = new Float64Array(size);
  for (let i = 1; i < size; i++) {
    const time = 0.5 * step * i;
    logTime[i] = Math.log(time);
    faultLeaked[i] = -Math.expm1(-((time / faultScale) ** faultShape));
    opened[i] = openingsPerDay * time;
  }
  const ended = new Float64Array(size);
  const endedOf = (d: number): Float64Array => {
    const [b, logScale, p] = [floatAt(shape, d), Math.log(floatAt(scale, d)), floatAt(share, d)];
    for (let i = 1; i < size; i++) {
      const hazard = Math.exp(b * (floatAt(logTime, i) - logScale)) + floatAt(opened, i);
      ended[i] = 1 - Math.exp(-hazard) * (1 - p * floatAt(faultLeaked, i));
    }
    return ended;
  };
  return { endedOf };
}
