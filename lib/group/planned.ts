/**
 * What a group is planned on: the joint posterior draws, which rest on its own lives and on those of the groups alike
 * (METHODS 2.3). Intervals, demand, stock and cost all average over these draws; nothing is planned on a single model.
 */
import { quantileSorted } from 'simple-statistics';
import { quantile } from '../life/distribution/index.js';
import type { FittingFault, WeibullModel } from '../life/model.js';
import type { LifeDraws } from '../life/sampleTypes.js';
import { columnOf, floatAt } from '../numeric/columns.js';
import { type BoundedModel, LEVEL } from './ownFit.js';
import type { Drawn, PlannedLife } from './types.js';

const TENTH = 0.1;

/** `logShape` and `logScale` are all sweeps of the sampler, `draws` those taken from them with shares of faulty fittings. */
export function plannedLife(logShape: Float64Array, logScale: Float64Array, draws: LifeDraws): PlannedLife {
  const tenths = columnOf(draws.shape, (_, d) => quantile(drawnModel(draws, d), TENTH));
  return { shape: drawn(logShape, Math.exp), scale: drawn(logScale, Math.exp), b10: drawn(tenths) };
}

/** The planning draws as a model with bounds, for a group too small for a fit of its own. */
export function asBoundedModel({ shape, scale, b10 }: PlannedLife, fault: FittingFault): BoundedModel {
  return {
    model: { kind: 'weibull', shape: shape.median, scale: scale.median, fault },
    shape: [shape.low, shape.high],
    scale: [scale.low, scale.high],
    b10: [b10.low, b10.median, b10.high],
    method: 'posterior',
  };
}

/** Draw d of a posterior as a model. */
export function drawnModel(draws: LifeDraws, d: number): WeibullModel {
  return {
    kind: 'weibull',
    shape: floatAt(draws.shape, d),
    scale: floatAt(draws.scale, d),
    fault: { share: floatAt(draws.share, d), shape: draws.faultShape, scale: draws.faultScale },
  };
}

/** Median and equal-tailed bounds at LEVEL of some draws, each turned into what is reported. */
export function drawn(values: Float64Array, report: (value: number) => number = (value) => value): Drawn {
  const sorted = Array.from(Float64Array.from(values).sort());
  const at = (p: number): number => report(quantileSorted(sorted, p));
  return { low: at((1 - LEVEL) / 2), median: at(0.5), high: at((1 + LEVEL) / 2) };
}
