/** A Weibull fitted again and again to samples drawn from it: one climb from the law they came from, not one from each of several starts. */
import type { WeibullModel } from '../../model.js';
import type { LifeSample } from '../../sampleTypes.js';
import { maximiseWeibull } from './maximiseWeibull.js';
import { prepareRows } from './prepareRows.js';

/** Shapes apart by more than this factor are looked into by the slow road: there may be a second top. */
const NEAR = 2;

/**
 * Best shape and scale beside the law's own fitting faults, from the law as the start; null where that leads far away or nowhere, and the
 * slow road (`fitLife`) is to be taken. Precondition: the shape can be estimated, and the law has no failure-free time.
 */
export function nearbyRefit(law: WeibullModel): (sample: LifeSample) => WeibullModel | null {
  return (sample) => {
    const { shape, scale, converged } = maximiseWeibull(prepareRows(sample, law.fault), { start: law });
    if (!converged || shape > NEAR * law.shape || shape < law.shape / NEAR) return null;
    return { ...law, shape, scale };
  };
}
