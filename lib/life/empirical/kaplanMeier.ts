/** Survival without a model: the product-limit estimate (Kaplan & Meier 1958). */
import { UsageError } from '../../errors.js';
import { floatAt } from '../../numeric/columns.js';
import { normalQuantile } from '../../numeric/special.js';
import type { LifeSample } from '../sampleTypes.js';
import { riskTable } from './atRisk.js';

export type SurvivalBounds = 'loglog' | 'log' | 'plain';

/** Columns by age at failure. Survival holds from that age to the next. */
export interface SurvivalCurve {
  age: Float64Array;
  survival: Float64Array;
  /** Pointwise two-sided bounds. */
  low: Float64Array;
  high: Float64Array;
  /** Greenwood's standard error of survival. */
  standardError: Float64Array;
  atRisk: Float64Array;
  failed: Float64Array;
  /** The curve counts from this age on, given survival to it (0 unless records began late). */
  start: number;
  /** Largest age watched: beyond it nothing is known. */
  end: number;
}

/**
 * Product-limit estimate with Greenwood's variance, delayed entry included. Bounds on the log(-log S) axis by default (they
 * stay within 0 and 1); 'log' and 'plain' are cut off there. Lives count as independent of each other. Where survival
 * has come to 0 the variance has no value: the bounds there are 0 and the last upper bound.
 * @throws UsageError for interval rows (use `turnbull`) and a level not between 0 and 1
 */
export function kaplanMeier(
  sample: LifeSample,
  options: { level?: number; bounds?: SurvivalBounds } = {},
): SurvivalCurve {
  const { level = 0.9, bounds = 'loglog' } = options;
  const z = zOf('kaplanMeier', level);
  const { age, failed, atRisk, start, end } = riskTable(sample, 'kaplanMeier');
  const empty = (): Float64Array => new Float64Array(age.length);
  const curve = { age, survival: empty(), low: empty(), high: empty(), standardError: empty() };
  let now = 1;
  // Sum of d / [n (n - d)]: the variance of log survival.
  let variance = 0;
  let lastHigh = 1;
  for (let k = 0; k < age.length; k++) {
    const [d, n] = [floatAt(failed, k), floatAt(atRisk, k)];
    now *= Math.max(0, 1 - d / n);
    variance += d / (n * (n - d));
    curve.survival[k] = now;
    if (now > 0 && Number.isFinite(variance)) {
      const [low, high] = survivalLimits(now, Math.sqrt(variance), z, bounds);
      curve.low[k] = low;
      curve.high[k] = high;
      curve.standardError[k] = now * Math.sqrt(variance);
      lastHigh = high;
    } else curve.high[k] = lastHigh;
  }
  return { ...curve, atRisk, failed, start, end };
}

/** Bounds of survival from the standard error of its log. */
function survivalLimits(s: number, se: number, z: number, kind: SurvivalBounds): [number, number] {
  if (kind === 'plain') return [Math.max(0, s - z * s * se), Math.min(1, s + z * s * se)];
  if (kind === 'log') return [s * Math.exp(-z * se), Math.min(1, s * Math.exp(z * se))];
  const logLog = Math.log(-Math.log(s));
  const width = (z * se) / -Math.log(s);
  return [Math.exp(-Math.exp(logLog + width)), Math.exp(-Math.exp(logLog - width))];
}

/** Normal quantile of a two-sided level. */
export function zOf(where: string, level: number): number {
  if (!(level > 0 && level < 1)) throw new UsageError(where, 'level must be between 0 and 1.', level);
  return normalQuantile(0.5 + level / 2);
}
