/** What the reference values of a life law are checked against, the same for every law. */
import { expect } from 'vitest';
import { logDensity } from '../../../lib/life/distribution/functions.js';
import {
  cumulativeHazard,
  lifeVariance,
  logSurvival,
  meanLife,
  quantile,
} from '../../../lib/life/distribution/index.js';
import type { LifeModel } from '../../../lib/life/model.js';

export interface LawCase {
  model: unknown;
  mean: number;
  variance: number;
  /** Age, log survival, log density. */
  upper: number[][];
  /** Age, chance of failure, log density. */
  lower: number[][];
  /** Share failed, age. */
  quantiles: number[][];
}

/** Relative distances; of a log the absolute one where the log is below 1. */
export function expectLaw(data: LawCase, tolerance: number): void {
  const model = data.model as LifeModel;
  const near = (what: string, got: number, want: number): void => {
    const distance = Math.abs(got - want) / Math.max(Math.abs(want), Number.MIN_VALUE);
    expect(distance, `${JSON.stringify(model)} ${what}: ${got}, not ${want}`).toBeLessThan(tolerance);
  };
  const nearLog = (what: string, got: number, want: number): void => {
    const distance = Math.abs(got - want) / Math.max(Math.abs(want), 1);
    expect(distance, `${JSON.stringify(model)} ${what}: ${got}, not ${want}`).toBeLessThan(tolerance);
  };
  near('mean', meanLife(model), data.mean);
  near('variance', lifeVariance(model), data.variance);
  for (const [t = 0, log = 0, density = 0] of data.upper) {
    near(`log survival at ${t}`, logSurvival(model, t), log);
    nearLog(`log density at ${t}`, logDensity(model, t), density);
  }
  for (const [t = 0, failed = 0, density = 0] of data.lower) {
    near(`failed by ${t}`, -Math.expm1(-cumulativeHazard(model, t)), failed);
    nearLog(`log density at ${t}`, logDensity(model, t), density);
  }
  for (const [p = 0, t = 0] of data.quantiles) near(`quantile ${p}`, quantile(model, p), t);
}
