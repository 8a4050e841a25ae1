/** Residuals of a regression: lives on the scale of their own cumulative hazard. */
import { columnOf } from '../../../numeric/columns.js';
import type { LifeSample } from '../../sampleTypes.js';
import { standardisedResiduals } from './standardisedResiduals.js';
import { standardLaw } from './standardLaw.js';
import type { RegressionFit } from './types.js';

/**
 * Each age of a life turned into its cumulative hazard under the fit, censoring and entry kept (Cox & Snell 1968). If the fit is
 * true these are lives from the exponential law of mean 1: draw their cumulative hazard against a line of slope 1, or fit them.
 */
export function coxSnell(fit: RegressionFit): LifeSample {
  const { sample } = fit;
  const law = standardLaw(fit.kind);
  const residuals = standardisedResiduals(fit);
  const hazard = (z: number): number => {
    if (z === -Infinity) return 0;
    // Above 0, since an exact age of 0 has no density.
    return z === Infinity ? z : Math.max(-law.logSurvival(z), Number.MIN_VALUE);
  };
  return {
    lower: columnOf(residuals.lower, hazard),
    upper: columnOf(residuals.upper, hazard),
    entry: columnOf(residuals.entry, hazard),
    count: sample.count.slice(),
    cluster: sample.cluster.slice(),
  };
}
