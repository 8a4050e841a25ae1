/** Cumulative hazard without a model (Nelson 1969, Aalen 1978). */
import { floatAt } from '../../numeric/columns.js';
import type { LifeSample } from '../sampleTypes.js';
import { riskTable } from './atRisk.js';
import { zOf } from './kaplanMeier.js';

/** Columns by age at failure. */
export interface HazardCurve {
  age: Float64Array;
  /** Failures expected of one valve kept running, from `start` to that age. */
  cumulativeHazard: Float64Array;
  /** exp(-cumulativeHazard). */
  survival: Float64Array;
  /** Pointwise two-sided bounds of the cumulative hazard, on the log axis. */
  low: Float64Array;
  high: Float64Array;
  standardError: Float64Array;
  atRisk: Float64Array;
  failed: Float64Array;
  start: number;
  end: number;
}

/**
 * Sum of failures over those at risk, with the Poisson variance sum d / n². Delayed entry, ties and start as in `kaplanMeier`.
 * @throws UsageError for interval rows and a level not between 0 and 1
 */
export function nelsonAalen(sample: LifeSample, options: { level?: number } = {}): HazardCurve {
  const z = zOf('nelsonAalen', options.level ?? 0.9);
  const { age, failed, atRisk, start, end } = riskTable(sample, 'nelsonAalen');
  const cumulativeHazard = new Float64Array(age.length);
  const standardError = new Float64Array(age.length);
  let total = 0;
  let variance = 0;
  for (let k = 0; k < age.length; k++) {
    total += floatAt(failed, k) / floatAt(atRisk, k);
    variance += floatAt(failed, k) / floatAt(atRisk, k) ** 2;
    cumulativeHazard[k] = total;
    standardError[k] = Math.sqrt(variance);
  }
  const limit = (sign: 1 | -1): Float64Array =>
    cumulativeHazard.map((h, k) => h * Math.exp((sign * z * floatAt(standardError, k)) / h));
  return {
    age,
    cumulativeHazard,
    survival: cumulativeHazard.map((h) => Math.exp(-h)),
    low: limit(-1),
    high: limit(1),
    standardError,
    atRisk,
    failed,
    start,
    end,
  };
}
