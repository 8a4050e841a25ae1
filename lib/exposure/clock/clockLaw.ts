/** The law of life on one clock, with bounds. */

import { quantile } from '../../life/distribution/functions.js';
import { zOf } from '../../life/empirical/kaplanMeier.js';
import { lifeBounds } from '../../life/estimate/bounds/bounds.js';
import { fitLife } from '../../life/estimate/fit.js';
import { scoresOnScale } from '../../life/estimate/regression/ageScale.js';
import { sandwich } from '../../life/estimate/regression/covariance.js';
import type { RegressionKind } from '../../life/estimate/regression/types.js';
import type { FittedModel } from '../../life/model.js';
import { hasClusters } from '../../life/sample.js';
import type { Bounds, LifeSample } from '../../life/sampleTypes.js';
import { invertArrow } from '../../numeric/arrow.js';
import { at, floatAt } from '../../numeric/columns.js';
import { type Clock, type ClockMaximum, weightOf } from './fitClock.js';
import type { ClockLaw } from './types.js';

/** Of a clock without a weight: as `fitLife` and `lifeBounds` on its ages. */
export function lawOnClock(sample: LifeSample, kind: RegressionKind, level: number): ClockLaw {
  const fit = fitLife(sample, { kind });
  const bounds = (of: 'shape' | { quantile: number }): Bounds => {
    const { estimate, low, high } = lifeBounds(fit, { of, level });
    return { estimate, low, high };
  };
  return {
    model: fit.model,
    shape: kind === 'weibull' || kind === 'loglogistic' ? bounds('shape') : null,
    tenth: bounds({ quantile: 0.1 }),
    half: bounds({ quantile: 0.5 }),
    weight: null,
    level,
  };
}

/**
 * Of a combination: normal bounds of logarithms, under the covariance that counts the weight as estimated (by position where one has
 * several lives).
 */
export function lawOfCombination(
  sample: LifeSample,
  kind: RegressionKind,
  clock: Clock,
  top: ClockMaximum,
  level: number,
): ClockLaw {
  const z = zOf('chooseClock', level);
  const size = top.theta.length;
  const plain = invertArrow(top.information);
  const used = hasClusters(sample)
    ? sandwich(scoresOnScale(clock.problem, top.theta), plain, size, sample)
    : plain;
  const bounds = (log: number, direction: readonly number[]): Bounds => {
    let variance = 0;
    direction.forEach((x, i) => {
      direction.forEach((y, j) => {
        variance += x * y * at(used, i * size + j);
      });
    });
    const width = z * Math.sqrt(Math.max(variance, 0));
    return { estimate: Math.exp(log), low: Math.exp(log - width), high: Math.exp(log + width) };
  };
  const [mu, tau] = [at(top.theta, 0), size > 2 ? at(top.theta, 2) : 0];
  const model = modelAt(kind, mu, Math.exp(tau));
  const ageBounds = (p: number): Bounds => {
    const log = Math.log(quantile(model, p));
    return bounds(log, size > 2 ? [1, 0, log - mu] : [1, 0]);
  };
  const shaped = size > 2 && kind !== 'lognormal';
  const shape = shaped ? bounds(-tau, [0, 0, -1]) : null;
  const weight = bounds(Math.log(weightOf(clock, top.theta)), size > 2 ? [0, 1, 0] : [0, 1]);
  return { model, shape, tenth: ageBounds(0.1), half: ageBounds(0.5), weight, level };
}

function modelAt(kind: RegressionKind, mu: number, sigma: number): FittedModel {
  if (kind === 'lognormal') return { kind, mu, sigma };
  return kind === 'exponential'
    ? { kind, scale: Math.exp(mu) }
    : { kind, shape: 1 / sigma, scale: Math.exp(mu) };
}

/** Lives in the ages of a clock; the counts of lives and their positions stay. */
export function onClock(
  sample: LifeSample,
  { lower, upper, entry }: Pick<LifeSample, 'lower' | 'upper' | 'entry'>,
): LifeSample {
  // A life last seen before its count began tells nothing on this clock; its lower age stays 0.
  return { ...sample, lower, upper: upper.map((age, i) => Math.max(age, floatAt(lower, i))), entry };
}
