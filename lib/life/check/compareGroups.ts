/** Whether groups of lives share a shape, a scale, or both: likelihood-ratio tests (Meeker & Escobar 1998 ch. 8; Lawless 2003 ch. 5). */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { itemAt, sum } from '../../numeric/columns.js';
import { chiSquareQuantile, gammaQ } from '../../numeric/special.js';
import { lifeBounds } from '../estimate/bounds/bounds.js';
import { whyShapeNotEstimable } from '../estimate/estimable.js';
import { fitLife } from '../estimate/fit.js';
import type { LifeFit } from '../estimate/fitTypes.js';
import { joinSamples } from '../joinSamples.js';
import { failureCount, hasClusters } from '../sample.js';
import type { Bounds, LifeSample } from '../sampleTypes.js';
import { bestCommonShape, type CommonShape, commonShapeBounds, type Family } from './commonShape.js';

export interface GroupTest {
  /** Twice the difference of the log likelihoods. */
  statistic: number;
  degreesOfFreedom: number;
  /** Chance of so large a statistic or a larger one where the groups are alike; 1 with no degree of freedom. */
  p: number;
  /** Log likelihood with the groups alike, and with them apart. */
  logLikelihoods: { alike: number; apart: number };
}

export interface GroupComparison {
  kind: Family;
  /** Each group by itself, in the order given. */
  separate: LifeFit[];
  /** One shape (for a lognormal one sigma, for an exponential 1), a scale (lognormal: exp(mu)) for each group. */
  commonShape: { shape: Bounds; scales: Bounds[]; logLikelihood: number };
  /** All groups as one. */
  common: { fit: LifeFit; shape: Bounds; scale: Bounds };
  tests: { shape: GroupTest; scaleGivenShape: GroupTest; all: GroupTest };
  level: number;
  warnings: Warning[];
}

/**
 * Three tests by likelihood ratio, all kinds of rows: one shape against separate fits; one scale as well, given one shape; all in
 * common against separate fits. Common values have profile-likelihood bounds at `level` (0.9, two-sided). The shape of a
 * lognormal is 1 / sigma. Positions of different groups count as different.
 * @throws UsageError with fewer than two groups, a kind without a shape and a scale, and for a group whose own shape has no best value
 */
export function compareGroups(
  samples: readonly LifeSample[],
  options: { kind: Family; level?: number },
): GroupComparison {
  const { kind, level = 0.9 } = options;
  requireGroups(samples, kind, level);
  const separate = samples.map((sample) => fitLife(sample, { kind }));
  const apart = sum(separate.map((fit) => fit.logLikelihood));
  const shared = bestCommonShape(kind, separate);
  const fit = fitLife(joinSamples(samples), { kind });
  const more = samples.length - 1;
  const shapes = kind === 'exponential' ? 0 : more;
  return {
    kind,
    separate,
    commonShape: describe(shared, 0.5 * chiSquareQuantile(level, 1)),
    common: { fit, shape: boundsOf(fit, 'shape', level), scale: boundsOf(fit, 'scale', level) },
    tests: {
      shape: test(shared.logLikelihood, apart, shapes),
      scaleGivenShape: test(fit.logLikelihood, shared.logLikelihood, more),
      all: test(fit.logLikelihood, apart, more + shapes),
    },
    level,
    warnings: warningsOf(samples),
  };
}

function test(alike: number, apart: number, degreesOfFreedom: number): GroupTest {
  const statistic = Math.max(0, 2 * (apart - alike));
  const p = degreesOfFreedom === 0 ? 1 : gammaQ(degreesOfFreedom / 2, statistic / 2);
  return { statistic, degreesOfFreedom, p, logLikelihoods: { alike, apart } };
}

function describe(shared: CommonShape, drop: number): GroupComparison['commonShape'] {
  const { shape, scales } = commonShapeBounds(shared, drop);
  return { shape, scales, logLikelihood: shared.logLikelihood };
}

function boundsOf(fit: LifeFit, of: 'shape' | 'scale', level: number): Bounds {
  if (of === 'shape' && fit.kind === 'exponential') return { estimate: 1, low: 1, high: 1 };
  const { estimate, low, high } = lifeBounds(fit, { of, level, method: 'likelihood', robust: false });
  return { estimate, low, high };
}

function requireGroups(samples: readonly LifeSample[], kind: string, level: number): void {
  if (!['weibull', 'exponential', 'lognormal', 'loglogistic'].includes(kind)) {
    throw new UsageError(
      'compareGroups',
      'kind must be weibull, exponential, lognormal or loglogistic.',
      kind,
    );
  }
  if (!(level > 0 && level < 1))
    throw new UsageError('compareGroups', 'level must be between 0 and 1.', level);
  if (samples.length < 2)
    throw new UsageError('compareGroups', 'at least two groups are needed.', samples.length);
  samples.forEach((sample, g) => {
    const why = kind === 'exponential' && failureCount(sample) > 0 ? null : whyShapeNotEstimable(sample);
    if (why === null) return;
    throw new UsageError('compareGroups', `group ${g + 1} has no best fit of its own: ${why}. Leave it out.`);
  });
}

function warningsOf(samples: readonly LifeSample[]): Warning[] {
  const warnings: Warning[] = [];
  const few = Array.from(samples.keys()).filter((g) => failureCount(itemAt(samples, g)) < 5);
  if (few.length > 0) {
    warnings.push({
      code: 'few-failures',
      text: `Fewer than 5 failures in group ${few.map((g) => g + 1).join(', ')}: p is rough, and likely too small.`,
      todo: 'Do not part or join groups on this test alone.',
    });
  }
  if (samples.some(hasClusters)) {
    warnings.push({
      code: 'positions-repeat',
      text: 'Some positions have several lives; the tests take all lives as independent of each other, so p may be too small.',
      todo: 'Ask for the spread between positions.',
    });
  }
  return warnings;
}
