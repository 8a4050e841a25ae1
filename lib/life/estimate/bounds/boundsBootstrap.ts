/**
 * Bounds by resampling (Efron 1979): whole positions where positions have several lives, else lives; or samples drawn from the
 * fitted model. Ends are percentiles, or these corrected for bias and acceleration.
 */
import { quantileSorted } from 'simple-statistics';
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, columnOf, floatAt, itemAt } from '../../../numeric/columns.js';
import { type RandomStream, randomStream } from '../../../numeric/random.js';
import { mergeSample } from '../../mergeSample.js';
import { hasClusters } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { fitLife } from '../fit.js';
import type { FitOptions, LifeFit } from '../fitTypes.js';
import { weibullRefits } from '../weibull/weibullRefits.js';
import { bcaEnds, type Jackknife } from './bcaEnds.js';
import type { BoundsOptions, FreeBounds, Tails } from './boundsTypes.js';
import type { Quantity } from './quantity.js';
import { redrawer } from './redraw.js';

export interface BootstrapOptions
  extends Pick<BoundsOptions, 'seed' | 'draws' | 'resample' | 'ends' | 'redraw'> {
  robust: boolean;
}

export function bootstrapBounds(
  fit: LifeFit,
  quantity: Quantity,
  tails: Tails,
  options: BootstrapOptions,
): FreeBounds {
  requireBootstrap(options);
  const { draws = 1000, robust, ends = 'percentile' } = options;
  const fromCounts = countsRefit(fit, quantity);
  const next = sampler(fit, quantity, fromCounts, options);
  const values: number[] = [];
  for (let draw = 0; draw < draws; draw++) {
    const value = next();
    if (Number.isFinite(value)) values.push(value);
  }
  if (values.length < 20) {
    const rule = 'fewer than 20 bootstrap samples could be fitted; use likelihood or posterior.';
    throw new UsageError('lifeBounds', rule, values.length);
  }
  values.sort((x, y) => x - y);
  const warnings = unanswered(draws - values.length, draws);
  if (ends === 'bca') {
    const left = leftOut(fit, unitsOf(fit.sample, robust), fromCounts);
    return { ...bcaEnds(values, quantity.free(fit.model), left, tails), warnings };
  }
  return {
    low: tails.below === 0 ? -Infinity : quantileSorted(values, tails.below),
    high: tails.above === 0 ? Infinity : quantileSorted(values, 1 - tails.above),
    warnings,
  };
}

/** The quantity from one bootstrap sample a call; NaN where it could not be fitted. */
function sampler(
  fit: LifeFit,
  quantity: Quantity,
  fromCounts: (count: Float64Array) => number,
  options: BootstrapOptions,
): () => number {
  const { seed = 1, robust, resample: from = 'lives', redraw = {} } = options;
  if (from === 'model') {
    const random = randomStream(seed, 'life/bootstrap from model');
    const draw = redrawer(fit.sample, fit.model, redraw, 'lifeBounds');
    const asked = optionsOf(fit);
    return () => refit(draw(random), asked, quantity);
  }
  const random = randomStream(seed, 'life/bootstrap');
  const units = unitsOf(fit.sample, robust);
  return () => fromCounts(resample(fit.sample, units, random));
}

/** The quantity from the lives of the fit in other numbers per row: quickly where the fit is a plain Weibull. */
function countsRefit(fit: LifeFit, quantity: Quantity): (count: Float64Array) => number {
  const asked = optionsOf(fit);
  const slowly = (count: Float64Array): number => refit(withCounts(fit.sample, count), asked, quantity);
  const { model } = fit;
  const plain = Object.keys(asked).length === 1 && model.kind === 'weibull';
  const quick = plain ? weibullRefits(fit.sample, model.shape) : null;
  if (quick === null) return slowly;
  return (count) => {
    const refitted = quick(count);
    return refitted === null ? slowly(count) : quantity.free(refitted);
  };
}

function unanswered(lost: number, draws: number): Warning[] {
  if (lost === 0) return [];
  const text = `${lost} of ${draws} bootstrap samples could not be fitted and are left out.`;
  const todo = 'Prefer likelihood or posterior bounds for so few failures.';
  return [{ code: 'bootstrap-unanswered', text, todo }];
}

function requireBootstrap({
  resample: from = 'lives',
  ends = 'percentile',
  draws = 1000,
}: BootstrapOptions): void {
  if (from !== 'lives' && from !== 'model') {
    throw new UsageError('lifeBounds', "resample must be 'lives' or 'model'.", from);
  }
  if (ends !== 'percentile' && ends !== 'bca') {
    throw new UsageError('lifeBounds', "ends must be 'percentile' or 'bca'.", ends);
  }
  if (!(Number.isInteger(draws) && draws > 0)) {
    throw new UsageError('lifeBounds', 'draws must be a whole number above 0.', draws);
  }
}

/**
 * The quantity with each unit (position or life) left out once: distinct values, and how many units share each. Lives of one row
 * share theirs.
 */
function leftOut(fit: LifeFit, units: readonly Unit[], refitTo: (count: Float64Array) => number): Jackknife {
  const { sample } = fit;
  const known = new Map<string, { value: number; count: number }>();
  for (const unit of units) {
    const key = unit.map(({ row, count }) => `${row} ${count}`).join(' ');
    const same = known.get(key);
    if (same !== undefined) {
      same.count++;
      continue;
    }
    const count = sample.count.slice();
    for (const part of unit) count[part.row] = floatAt(count, part.row) - part.count;
    known.set(key, { value: refitTo(count), count: 1 });
  }
  const answered = [...known.values()].filter(({ value }) => Number.isFinite(value));
  return {
    value: columnOf(answered, ({ value }) => value),
    count: columnOf(answered, ({ count }) => count),
  };
}

function unitsOf(sample: LifeSample, robust: boolean): Unit[] {
  return robust && hasClusters(sample) ? positions(sample) : lives(sample);
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

function resample(sample: LifeSample, units: Unit[], random: RandomStream): Float64Array {
  const count = new Float64Array(sample.lower.length);
  for (let k = 0; k < units.length; k++) {
    for (const part of itemAt(units, random.below(units.length))) {
      count[part.row] = floatAt(count, part.row) + part.count;
    }
  }
  return count;
}

/** The rows of a sample with other numbers of lives, merged; rows without a life are left out. */
function withCounts(sample: LifeSample, count: Float64Array): LifeSample {
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
