/**
 * How far a fitted law lies from what was observed: the statistic of Anderson & Darling (1952) carried to watched lives. With u the
 * fitted chance of failing by an age, F the observed share failed and w the share of lives under watch at that age,
 *
 *     A² = lives · integral of w (F - u)² / [u (1 - u)] du
 *
 * over the range observed. Without censoring and entry it is the classical A², the tails included.
 */
import { floatAt } from '../../numeric/columns.js';
import { lawOf } from '../distribution/functions.js';
import type { LifeModel } from '../model.js';
import type { ObservedCurve } from './observedCurve.js';

/** Precondition: the curve has a step. @param lives weight of the whole, so that complete samples give the classical value */
export function distance(curve: ObservedCurve, model: LifeModel, lives: number): number {
  const law = lawOf(model);
  const before = law.cumulativeHazard(model, curve.start);
  // An age that the law takes for impossible still gives a number.
  const hazardAt = (age: number): number =>
    Math.min(Math.max(0, law.cumulativeHazard(model, age) - before), 1e300);
  let total = 0;
  let [h, share] = [0, 0];
  const steps = curve.to.length;
  for (let j = 0; j < steps; j++) {
    const [from, to] = [hazardAt(floatAt(curve.from, j)), hazardAt(floatAt(curve.to, j))];
    const next = 1 - floatAt(curve.survival, j);
    const w = floatAt(curve.watched, j);
    total += w * (stretch(h, from, share, share) + stretch(from, to, share, next));
    [h, share] = [to, next];
  }
  const known = share === 1 ? Infinity : Math.max(h, hazardAt(curve.end));
  return (
    lives * (total + (steps === 0 ? 1 : floatAt(curve.watched, steps - 1)) * stretch(h, known, share, share))
  );
}

/**
 * Integral of (F - u)² / [u (1 - u)] over u from 1 - exp(-low) to 1 - exp(-high), F going straight from one share to the other: with
 * F - u = a + b u it is a² log u - (a + b)² log(1 - u) - b² u between the ends.
 */
function stretch(low: number, high: number, shareLow: number, shareHigh: number): number {
  if (!(high > low)) return 0;
  const [from, to] = [-Math.expm1(-low), -Math.expm1(-high)];
  const width = Math.exp(-low) * -Math.expm1(low - high);
  if (!(width > 0)) return 0;
  const slope = shareHigh === shareLow ? -1 : (shareHigh - shareLow) / width - 1;
  const level = shareHigh === shareLow ? shareLow : shareLow - (1 + slope) * from;
  // The share that has not failed less the fitted one, at u = 1.
  const end = slope === -1 ? shareLow - 1 : level + slope;
  const first = level === 0 ? 0 : level * level * (Math.log(to) - Math.log(Math.max(from, Number.MIN_VALUE)));
  const second = end === 0 ? 0 : end * end * (high - low);
  return Math.max(0, first + second - slope * slope * width);
}
