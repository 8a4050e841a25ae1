/** Bounds by the normal approximation on the free axis (delta method; Meeker & Escobar 1998 ch. 8). */
import { at } from '../../../numeric/columns.js';
import { differentiate } from '../../../numeric/differentiate.js';
import { normalQuantile } from '../../../numeric/special.js';
import { modelFromParameters, parameterSteps } from '../coordinates.js';
import type { LifeFit } from '../fitTypes.js';
import type { FreeBounds, Tails } from './boundsTypes.js';
import type { Quantity } from './quantity.js';

export function normalBounds(
  fit: LifeFit,
  quantity: Quantity,
  tails: Tails,
  covariance: readonly number[],
): FreeBounds {
  const middle = quantity.free(fit.model);
  const se = Math.sqrt(freeVariance(fit, quantity, covariance));
  return {
    low: middle + se * normalQuantile(tails.below),
    high: middle - se * normalQuantile(tails.above),
  };
}

/** Variance of the quantity on its free axis under a covariance of the fit's parameters. */
export function freeVariance(fit: LifeFit, quantity: Quantity, covariance: readonly number[]): number {
  const here = fit.parameters.map(({ estimate }) => estimate);
  // Steps follow the standard errors, so that extreme shapes and scales are differenced where they vary.
  const most = parameterSteps(fit, 1e-3);
  const steps = fit.parameters.map(({ standardError }, i) => Math.min(at(most, i), 0.01 * standardError));
  const slope = differentiate((x) => quantity.free(modelFromParameters(fit, x)), here, steps);
  const size = here.length;
  let total = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) total += at(slope, i) * at(covariance, i * size + j) * at(slope, j);
  }
  return Math.max(total, 0);
}
