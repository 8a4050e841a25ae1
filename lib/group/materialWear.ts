/**
 * The wear-out of a material for telling its early leaks from those of faulty fittings: a scale for each size and duty, and
 * a shape for each near the common one. One Weibull over sizes and duties of different scales is flatter than any of them, and
 * one shape over different shapes is too steep for some: what leaks early of these is then claimed for faulty fittings, the
 * more so where lives are short.
 */
import { DEFAULT_SHAPE_PRIOR } from '../life/estimate/fitTypes.js';
import { POOLING_PRIORS } from '../life/estimate/pooling.js';
import { LOG_SHAPE_LIMITS, wearColumns } from '../life/estimate/weibull/wearColumn.js';
import { prepareRows } from '../life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault } from '../life/model.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { minimiseOnInterval } from '../numeric/minimise.js';

/** Relative precision of a shape: far below what moves an early leak. */
const PRECISION = 1e-4;
/** Half width of the differences for slope and curvature, on the log scale of the shape. */
const STEP = 0.02;

/** The wear-out of one sample; scale in days. */
export interface SampleWear {
  shape: number;
  scale: number;
}

/**
 * Weibull of each sample, in their order: log shapes normal round a common one (spread as the pooling model expects it), that
 * under the default prior of a shape; each profile likelihood as a parabola at its top under the prior. Scales with half a leak
 * added, so that they stay finite. Every sample has a leak.
 */
export function materialWear(samples: readonly LifeSample[], fault: FittingFault): SampleWear[] {
  const columns = samples.map((sample) => wearColumns(prepareRows(sample, fault)));
  const { median, sdLog } = DEFAULT_SHAPE_PRIOR;
  const between = POOLING_PRIORS.betweenShape ** 2;
  const each = columns.map((columnAt) => {
    const profile = (logShape: number): number => {
      const { logLikelihood, nudgedLogScale } = columnAt(logShape);
      return logLikelihood(nudgedLogScale);
    };
    return { columnAt, ...parabolaOf(profile, Math.log(median), sdLog ** 2 + between) };
  });
  // A sample tells of the common shape through its own: variances 1 / precision and `between` add up.
  let [precision, pull] = [1 / sdLog ** 2, Math.log(median) / sdLog ** 2];
  for (const own of each) {
    precision += own.precision / (1 + own.precision * between);
    pull += own.pull / (1 + own.precision * between);
  }
  const common = pull / precision;
  return each.map(({ columnAt, ...own }) => {
    const logShape = (own.pull + common / between) / (own.precision + 1 / between);
    return { shape: Math.exp(logShape), scale: Math.exp(columnAt(logShape).nudgedLogScale) };
  });
}

/** A log-likelihood near the top under a normal prior, which is left out: -precision x^2 / 2 + pull x. */
function parabolaOf(
  profile: (x: number) => number,
  mean: number,
  variance: number,
): { precision: number; pull: number } {
  const target = (x: number): number => (x - mean) ** 2 / (2 * variance) - profile(x);
  const { at: top } = minimiseOnInterval(target, ...LOG_SHAPE_LIMITS, { relative: PRECISION });
  const [below, middle, above] = [profile(top - STEP), profile(top), profile(top + STEP)];
  const precision = Math.max(0, (2 * middle - below - above) / STEP ** 2);
  return { precision, pull: precision * top + (above - below) / (2 * STEP) };
}
