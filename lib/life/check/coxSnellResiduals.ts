/** Lives on the axis of their own fit, where all laws look alike (Cox & Snell 1968). */
import { columnOf, floatAt } from '../../numeric/columns.js';
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
  /** Slope of the cumulative hazard against the residual: over all of them, up to the middle failure, and from there on; 1 if the law is right. */
  slope: CoxSnellSlope;
}

/** NaN-free: null where there are no failures on that stretch, or none apart from each other. */
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

function slopesOf(curve: ObservedCurve): CoxSnellSlope {
  const last = curve.to.length - 1;
  if (last < 0) return { whole: null, early: null, late: null };
  const middle = last >> 1;
  const slope = (from: number, to: number): number | null => {
    const start = from < 0 ? curve.start : floatAt(curve.to, from);
    const rise = floatAt(curve.cumulativeHazard, to) - (from < 0 ? 0 : floatAt(curve.cumulativeHazard, from));
    const width = floatAt(curve.to, to) - start;
    return width > 0 ? rise / width : null;
  };
  return { whole: throughOrigin(curve), early: slope(-1, middle), late: slope(middle, last) };
}

/** Least squares through the origin; the residuals are already in the units of the hazard, so no weights are needed. */
function throughOrigin(curve: ObservedCurve): number | null {
  let [products, squares] = [0, 0];
  for (let j = 0; j < curve.to.length; j++) {
    const x = floatAt(curve.to, j) - curve.start;
    products += x * floatAt(curve.cumulativeHazard, j);
    squares += x * x;
  }
  return squares > 0 ? products / squares : null;
}
