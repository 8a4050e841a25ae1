/** Lives with what is not known of them drawn by a law, so that they can be held against that law. */
import { quantile, survival } from '../life/distribution/index.js';
import type { WeibullModel } from '../life/model.js';
import { isFailure, otherHazardOf } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';
import type { RandomStream } from '../numeric/random.js';
import type { WearRecords } from './types.js';

/**
 * Draws whether a removal without a reason was a leak, by its chance given all else that may have ended the life, and on which day since the
 * last tight test a leak began. Under the law these are lives that can have come from it, and every leak is of one whole
 * day, as in the samples drawn from it. It leans a little towards the law: what is drawn agrees with it. A removal drawn as no leak is censored at its age.
 * @param model shape and scale of the wear-out beside the records' fitting faults
 */
export function completed(
  { sample, fault }: WearRecords,
  { shape, scale }: { shape: number; scale: number },
  random: RandomStream,
): LifeSample {
  const { otherHazard: _, ...known } = sample;
  const law: WeibullModel = { kind: 'weibull', shape, scale, fault };
  const [lower, upper] = [sample.lower.slice(), sample.upper.slice()];
  for (let i = 0; i < lower.length; i++) {
    if (!isFailure(sample, i)) continue;
    const from = Math.max(floatAt(lower, i), floatAt(sample.entry, i));
    const to = floatAt(upper, i);
    const other = otherHazardOf(sample, i);
    const left = survival(law, to);
    const leaked = survival(law, from) - left;
    // It leaked with this chance; sound up to the end, another cause ended it with the other (prepareRows.ts).
    if (other > 0 && random.uniform() * (leaked - left * Math.expm1(-other)) >= leaked) {
      lower[i] = Math.max(0.5 * (from + to), floatAt(sample.entry, i));
      upper[i] = Infinity;
    } else if (to - floatAt(lower, i) > 1) {
      const day = dayWithin(law, from, to, 1 - left - random.uniform() * leaked);
      [lower[i], upper[i]] = [day - 0.5, day + 0.5];
    }
  }
  return { ...known, lower, upper };
}

/** The whole day of the age that a share `failed` has leaked by, no day outside (from, to]. */
function dayWithin(law: WeibullModel, from: number, to: number, failed: number): number {
  const age = quantile(law, Math.min(1 - Number.EPSILON, Math.max(0, failed)));
  const first = Math.max(1, Math.ceil(from - 0.5 + 1e-9));
  return Math.min(Math.max(first, Math.round(age)), Math.max(first, Math.ceil(to - 0.5)));
}
