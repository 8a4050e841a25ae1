/** How often 90 % bounds miss the truth, on either side. */
import { UsageError } from '../../../lib/errors.js';
import {
  type BoundedQuantity,
  type LifeBounds,
  lifeBounds,
} from '../../../lib/life/estimate/bounds/bounds.js';
import { type FitOptions, fitLife, type LifeFit } from '../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { type Cell, sampler } from './schemes.js';

export type MethodName = 'normal' | 'likelihood' | 'posterior' | 'bootstrap' | 'shape known';
export type QuantityName = 'shape' | 'B10';

/** Of `asked` samples with two failures or more: answered, and missed on either side. */
export interface Misses {
  asked: number;
  answered: number;
  /** The lower bound is above the truth. */
  low: number;
  /** The upper bound is below the truth. */
  high: number;
}

export type CellResult = Record<QuantityName, Partial<Record<MethodName, Misses>>> & {
  cell: Cell;
  samples: number;
  /** Samples with fewer than two failures, which are not counted. */
  tooFew: number;
};

/** Samples per cell; for the bootstrap fewer, each resampled so many times. */
export const SAMPLES = 1000;
export const BOOTSTRAP = { samples: 400, draws: 400 };

const OF: Record<QuantityName, BoundedQuantity> = { shape: 'shape', B10: { quantile: 0.1 } };

/** Where fewer than two failures are expected only methods that know something of the shape beforehand are asked. */
function methodsOf({ lives, sound }: Cell): MethodName[] {
  const few = lives * (1 - sound) < 2 - 1e-9;
  return few
    ? ['posterior', 'shape known']
    : ['normal', 'likelihood', 'posterior', 'bootstrap', 'shape known'];
}

/** Runs one cell; its random numbers hang on nothing but its name. */
export function runCell(cell: Cell): CellResult {
  const { scheme, lives, shape, sound } = cell;
  const draw = sampler(cell, randomStream(20260901, `${scheme}/${lives}/${shape}/${sound}`));
  const result: CellResult = { cell, samples: SAMPLES, tooFew: 0, shape: {}, B10: {} };
  for (let k = 0; k < SAMPLES; k++) {
    const sample = lifeSample(draw());
    const failures = sample.upper.reduce((count, upper) => count + (upper === Infinity ? 0 : 1), 0);
    if (failures < 2) {
      result.tooFew++;
      continue;
    }
    for (const method of methodsOf(cell)) {
      if (method === 'bootstrap' && k >= BOOTSTRAP.samples) continue;
      countSample(result, method, sample, k);
    }
  }
  return result;
}

function countSample(result: CellResult, method: MethodName, sample: LifeSample, k: number): void {
  const { shape } = result.cell;
  const truth: Record<QuantityName, number> = { shape, B10: (-Math.log1p(-0.1)) ** (1 / shape) };
  const fit = attempt(() => fitLife(sample, fitOptions(method, shape)));
  for (const quantity of ['shape', 'B10'] as const) {
    if (method === 'shape known' && quantity === 'shape') continue;
    const misses = result[quantity][method] ?? { asked: 0, answered: 0, low: 0, high: 0 };
    result[quantity][method] = misses;
    misses.asked++;
    const bounds = fit === null ? null : attempt(() => boundsOf(fit, method, quantity, k));
    if (bounds === null) continue;
    misses.answered++;
    if (bounds.low > truth[quantity]) misses.low++;
    if (bounds.high < truth[quantity]) misses.high++;
  }
}

function fitOptions(method: MethodName, shape: number): FitOptions {
  if (method === 'posterior') return { kind: 'weibull', method: 'posterior' };
  return method === 'shape known' ? { kind: 'weibull', shape } : { kind: 'weibull' };
}

function boundsOf(fit: LifeFit, method: MethodName, quantity: QuantityName, k: number): LifeBounds {
  return lifeBounds(fit, {
    of: OF[quantity],
    method: method === 'shape known' ? 'likelihood' : method,
    seed: k,
    draws: BOOTSTRAP.draws,
  });
}

/** Null where the library says that it cannot answer. */
function attempt<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}
