/** Percentile bounds by resampling: whole positions where positions have several lives, else lives (Efron 1979). */
import { quantileSorted } from 'simple-statistics';
import { UsageError } from '../../errors.js';
import { at, columnOf, floatAt, itemAt } from '../../numeric/columns.js';
import { type RandomStream, randomStream } from '../../numeric/random.js';
import { hasClusters, mergeSample } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import type { FreeBounds, Tails } from './boundsTypes.js';
import { fitLife } from './fit.js';
import type { FitOptions, LifeFit } from './fitTypes.js';
import type { Quantity } from './quantity.js';

export function bootstrapBounds(
  fit: LifeFit,
  quantity: Quantity,
  tails: Tails,
  options: { robust: boolean; seed: number; draws: number },
): FreeBounds {
  const random = randomStream(options.seed, 'life/bootstrap');
  const byPosition = options.robust && hasClusters(fit.sample);
  const units = byPosition ? positions(fit.sample) : lives(fit.sample);
  const asked = optionsOf(fit);
  const values: number[] = [];
  for (let draw = 0; draw < options.draws; draw++) {
    const value = refit(resample(fit.sample, units, random), asked, quantity);
    if (Number.isFinite(value)) values.push(value);
  }
  if (values.length < 20) {
    const rule = 'fewer than 20 bootstrap samples could be fitted; use likelihood or posterior.';
    throw new UsageError('lifeBounds', rule, values.length);
  }
  values.sort((x, y) => x - y);
  const lost = options.draws - values.length;
  const text = `${lost} of ${options.draws} bootstrap samples could not be fitted and are left out.`;
  const warnings =
    lost === 0
      ? []
      : [
          {
            code: 'bootstrap-unanswered',
            text,
            todo: 'Prefer likelihood or posterior bounds for so few failures.',
          },
        ];
  return {
    low: tails.below === 0 ? -Infinity : quantileSorted(values, tails.below),
    high: tails.above === 0 ? Infinity : quantileSorted(values, 1 - tails.above),
    warnings,
  };
}

/** A unit of resampling: rows of the sample, each with the number of its lives. */
type Unit = { row: number; count: number }[];

function positions(sample: LifeSample): Unit[] {
  const byCluster = new Map<number, Unit>();
  const alone: Unit[] = [];
  for (let row = 0; row < sample.lower.length; row++) {
    const cluster = at(sample.cluster, row);
    if (cluster < 0) {
      alone.push(...single(sample, row));
      continue;
    }
    const unit = byCluster.get(cluster) ?? [];
    unit.push({ row, count: floatAt(sample.count, row) });
    byCluster.set(cluster, unit);
  }
  return [...byCluster.values(), ...alone];
}

function lives(sample: LifeSample): Unit[] {
  return Array.from(sample.lower, (_, row) => single(sample, row)).flat();
}

/** The lives of a row one by one; a broken count (a weight) stays in one piece. */
function single(sample: LifeSample, row: number): Unit[] {
  const count = floatAt(sample.count, row);
  if (!Number.isInteger(count)) return [[{ row, count }]];
  return Array.from({ length: count }, () => [{ row, count: 1 }]);
}

function resample(sample: LifeSample, units: Unit[], random: RandomStream): LifeSample {
  const count = new Float64Array(sample.lower.length);
  for (let k = 0; k < units.length; k++) {
    for (const part of itemAt(units, random.below(units.length))) {
      count[part.row] = floatAt(count, part.row) + part.count;
    }
  }
  const rows = Array.from(count.keys()).filter((i) => floatAt(count, i) > 0);
  const column = (from: Float64Array): Float64Array => columnOf(rows, (i) => floatAt(from, i));
  return mergeSample({
    lower: column(sample.lower),
    upper: column(sample.upper),
    entry: column(sample.entry),
    count: column(count),
    cluster: Int32Array.from(rows, (_, i) => -1 - i),
    otherHazard: sample.otherHazard && column(sample.otherHazard),
  });
}

/** The quantity from one resample; NaN where it cannot be fitted. */
function refit(sample: LifeSample, options: FitOptions, quantity: Quantity): number {
  try {
    const fit = fitLife(sample, options);
    return fit.failures === 0 ? Number.NaN : quantity.free(fit.model);
  } catch (error) {
    if (error instanceof UsageError) return Number.NaN;
    throw error;
  }
}

/** The options that the fit was made with. */
export function optionsOf(fit: LifeFit): FitOptions {
  const options: FitOptions = { kind: fit.kind };
  if (fit.prior !== null) options.prior = fit.prior;
  if (fit.model.kind !== 'weibull') return options;
  if (fit.shapeFixed) options.shape = fit.model.shape;
  const { fault, failureFree } = fit.model;
  if (fit.failureFree === 'estimate') options.failureFree = 'estimate';
  else if (failureFree !== undefined) options.failureFree = failureFree;
  if (fault !== undefined) {
    const estimated = fit.parameters.some(({ name }) => name === 'logShare');
    options.fault = estimated ? { shape: fault.shape, scale: fault.scale } : fault;
  }
  return options;
}
