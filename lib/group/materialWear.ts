/**
 * The wear-out of a material for telling its early leaks from those of faulty fittings: one shape, and a scale for each size
 * and duty. One Weibull over sizes and duties of different scales is flatter than any of them, so that it claims early
 * leaks for the wear-out and makes the law of faulty fittings too short.
 */
import { DEFAULT_SHAPE_PRIOR } from '../life/estimate/fitTypes.js';
import { LOG_SHAPE_LIMITS, wearColumns } from '../life/estimate/wearColumn.js';
import { prepareRows } from '../life/estimate/weibullLikelihood.js';
import type { FittingFault } from '../life/model.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { itemAt } from '../numeric/columns.js';
import { minimiseOnInterval } from '../numeric/minimise.js';

/** Relative precision of the shape: far below what moves an early leak. */
const PRECISION = 1e-5;

export interface MaterialWear {
  shape: number;
  /** Days, in the order of the samples. */
  scales: number[];
}

/**
 * Profile likelihood of the common shape under the default prior of a shape; scales with half a leak added, so that they
 * stay finite. Every sample has a leak.
 */
export function materialWear(samples: readonly LifeSample[], fault: FittingFault): MaterialWear {
  const columns = samples.map((sample) => wearColumns(prepareRows(sample, fault)));
  const { median, sdLog } = DEFAULT_SHAPE_PRIOR;
  const target = (logShape: number): number => {
    const off = (logShape - Math.log(median)) / sdLog;
    return columns.reduce(
      (sum, columnAt) => {
        const { logLikelihood, nudgedLogScale } = columnAt(logShape);
        return sum - logLikelihood(nudgedLogScale);
      },
      off ** 2 / 2,
    );
  };
  const logShape = minimiseOnInterval(target, ...LOG_SHAPE_LIMITS, { relative: PRECISION }).at;
  return {
    shape: Math.exp(logShape),
    scales: samples.map((_, i) => Math.exp(itemAt(columns, i)(logShape).nudgedLogScale)),
  };
}
