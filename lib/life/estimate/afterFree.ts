/** A sample as it looks from the end of a failure-free time. */
import { columnOf, floatAt } from '../../numeric/columns.js';
import { isFailure, otherHazardOf, ownClusters } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { logOneMinusExp } from './weibull/weibullLikelihood.js';

/**
 * The same lives with ages counted from `failureFree`. Lives over by then say nothing about what follows and are left out; those
 * of unknown cause among them were ended by what else there is, whose log likelihood is `constant`. Precondition: no life that is
 * known to have failed ended by then. May have no rows.
 */
export function afterFree(sample: LifeSample, failureFree: number): { rows: LifeSample; constant: number } {
  const kept: number[] = [];
  let constant = 0;
  for (let i = 0; i < sample.lower.length; i++) {
    const end = isFailure(sample, i) ? floatAt(sample.upper, i) : floatAt(sample.lower, i);
    if (end > failureFree) kept.push(i);
    else if (isFailure(sample, i)) constant += floatAt(sample.count, i) * logOther(sample, i);
  }
  const later = (column: Float64Array): Float64Array =>
    columnOf(kept, (i) => Math.max(0, floatAt(column, i) - failureFree));
  const rows = {
    lower: later(sample.lower),
    upper: later(sample.upper),
    entry: later(sample.entry),
    count: columnOf(kept, (i) => floatAt(sample.count, i)),
    cluster: ownClusters(kept.length),
    otherHazard: sample.otherHazard && columnOf(kept, (i) => otherHazardOf(sample, i)),
  };
  return { rows, constant };
}

/** Age at which the first life known to have failed had failed at the latest; Infinity where no cause is known. */
export function firstFailure(sample: LifeSample): number {
  let first = Infinity;
  for (let i = 0; i < sample.upper.length; i++) {
    if (otherHazardOf(sample, i) === 0) first = Math.min(first, floatAt(sample.upper, i));
  }
  return first;
}

function logOther(sample: LifeSample, i: number): number {
  const other = otherHazardOf(sample, i);
  const start = Math.max(floatAt(sample.lower, i), floatAt(sample.entry, i));
  return floatAt(sample.upper, i) === start ? Math.log(other) : logOneMinusExp(other);
}
