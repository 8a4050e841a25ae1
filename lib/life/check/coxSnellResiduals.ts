/** Lives on the axis of their own fit, where all laws look alike (Cox & Snell 1968). */
import { at, columnOf, floatAt } from '../../numeric/columns.js';
import { lawOf } from '../distribution/functions.js';
import { requireKnownCauses } from '../empirical/atRisk.js';
import type { LifeFit } from '../estimate/fitTypes.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { type ObservedCurve, observedCurve } from './observedCurve.js';

export interface CoxSnell {
  /** H(lower), H(upper), H(entry) under the fit, row by row: if the law is right a sample of exponential lives with mean 1. */
  residuals: LifeSample;
  /** Nelson-Aalen cumulative hazard of the residuals at each of them: close to the residual itself if the law is right. */
  residual: Float64Array;
  cumulativeHazard: Float64Array;
  /**
   * Slope of the cumulative hazard against the residual: over all of them, up to the middle step, and from there on; about 1 if the
   * law is right. A best fit has about 1 over all of them in any case: it is early and late that tell.
   */
  slope: CoxSnellSlope;
}

/** Each null where the stretch has no failures. */
export interface CoxSnellSlope {
  whole: number | null;
  /** Below 1: fewer early failures than the law says. */
  early: number | null;
  late: number | null;
}

/**
 * Residuals of a fit, as a sample to which `kaplanMeier`, `nelsonAalen` and `turnbull` apply. All kinds of rows; the sample may be another one than
 * the fit was made from.
 * @throws UsageError for ends of unknown cause, and for a fit without failures, which has no law
 */
export function coxSnellResiduals(sample: LifeSample, fit: LifeFit): CoxSnell {
  requireKnownCauses(sample, 'coxSnellResiduals');
  const residuals = residualSample(sample, fit);
  const failed = residuals.upper.some((upper) => upper !== Infinity);
  if (!failed) {
    const none = new Float64Array(0);
    return {
      residuals,
      residual: none,
      cumulativeHazard: none,
      slope: { whole: null, early: null, late: null },
    };
  }
  const curve = observedCurve(residuals);
  return { residuals, residual: curve.to, cumulativeHazard: curve.cumulativeHazard, slope: slopesOf(curve) };
}

/** Rounding may bring a residual down to 0 or to its entry: it then goes up by the least there is. */
function residualSample(sample: LifeSample, fit: LifeFit): LifeSample {
  const law = lawOf(fit.model);
  const hazard = (age: number): number => Math.min(law.cumulativeHazard(fit.model, age), Number.MAX_VALUE);
  const entry = sample.entry.map(hazard);
  const upper = columnOf(sample.upper, (age, i) => {
    if (age === Infinity) return Infinity;
    return Math.max(hazard(age), floatAt(entry, i) * (1 + Number.EPSILON), Number.MIN_VALUE);
  });
  const lower = columnOf(sample.lower, (age, i) => {
    const exact = isFailure(sample, i) && age === floatAt(sample.upper, i);
    return exact ? floatAt(upper, i) : Math.min(hazard(age), floatAt(upper, i));
  });
  return { lower, upper, entry, count: sample.count.slice(), cluster: sample.cluster.slice() };
}

/** Failures over the residual time that was at risk of them: the slope in which each stretch counts by the lives in it. */
function slopesOf(curve: ObservedCurve): CoxSnellSlope {
  const steps = curve.to.length;
  const middle = (steps + 1) >> 1;
  const slope = (first: number, end: number): number | null => {
    let [failed, time] = [0, 0];
    for (let j = first; j < end; j++) {
      const before =
        j === 0 ? [0, curve.start] : [floatAt(curve.cumulativeHazard, j - 1), floatAt(curve.to, j - 1)];
      const risk = floatAt(curve.atRisk, j);
      failed += risk * (floatAt(curve.cumulativeHazard, j) - at(before, 0));
      time += risk * (floatAt(curve.to, j) - at(before, 1));
    }
    return time > 0 && Number.isFinite(failed / time) ? failed / time : null;
  };
  return { whole: slope(0, steps), early: slope(0, middle), late: slope(middle, steps) };
}
