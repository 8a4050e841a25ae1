/** Expected failures of a position whose every failed life is replaced at once by a new one. */
import { UsageError } from '../errors.js';
import { integrate } from '../numeric/quadrature.js';
import { lawOf } from './distribution/functions.js';
import type { LifeModel } from './model.js';
import { type RenewalLaw, solveRenewal } from './renewalPanels.js';

export type { RenewalLaw } from './renewalPanels.js';

/**
 * Expected number of renewals (failures) from age 0 to t: the renewal function M(t) of Cox 1962; good to 1e-8.
 * Example: { kind: 'weibull', shape: 2, scale: 1 } at 1 gives 0.75369.
 * @throws UsageError for a negative age or one that is not finite
 */
export function renewalCount(model: LifeModel, t: number): number {
  requireAge(t);
  const law = lawOf(model);
  if (model.kind === 'exponential') return law.cumulativeHazard(model, t);
  return solveRenewal(renewalLaw(model), t);
}

/** The renewal function of any life law without atoms. */
export function renewalFunction(law: RenewalLaw, t: number): number {
  requireAge(t);
  return solveRenewal(law, t);
}

function renewalLaw(model: LifeModel): RenewalLaw {
  const law = lawOf(model);
  const mean = law.meanUpTo(model, Infinity);
  const ageAt = (hazard: number): number => law.ageAtHazard(model, hazard);
  const heavy = model.kind === 'loglogistic' && model.shape <= 2;
  const fault = model.kind === 'weibull' ? model.fault : undefined;
  return {
    failed: (t) => -Math.expm1(-law.cumulativeHazard(model, t)),
    density: (t) => (t <= 0 ? 0 : Math.exp(law.logHazard(model, t) - law.cumulativeHazard(model, t))),
    quantile: (p) => ageAt(-Math.log1p(-p)),
    mean,
    variance: heavy ? Infinity : secondMoment(model) - mean * mean,
    turns: fault === undefined ? [] : [0.01, 0.1, 0.5, 1, 2, 4, 8, 16].map((x) => x * fault.scale),
  };
}

/** Mean square life: twice the integral of t S(t), over log age. */
function secondMoment(model: LifeModel): number {
  const law = lawOf(model);
  const points = [0.001, 0.01, 0.1, 0.5, 1, 2, 5, 10, 20, 40, 100].map((h) =>
    Math.log(law.ageAtHazard(model, h)),
  );
  const inLog = (x: number): number => 2 * Math.exp(2 * x - law.cumulativeHazard(model, Math.exp(x)));
  const low = (points[0] as number) - 60;
  const high = Math.log(law.ageAtHazard(model, model.kind === 'loglogistic' ? 200 : 700));
  return integrate(inLog, low, high, { points, relative: 1e-12 }).value;
}

function requireAge(t: number): void {
  if (!(t >= 0 && t < Infinity)) {
    throw new UsageError('renewalCount', 'age must be a finite number at or above 0.', t);
  }
}
