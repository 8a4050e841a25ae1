/** Expected failures of a position whose every failed life is replaced at once by a new one. */
import { UsageError } from '../errors.js';
import { lawOf } from './distribution/functions.js';
import type { LifeModel } from './model.js';
import { type RenewalCurve, renewalCurve, solveRenewal } from './renewalCurve.js';
import type { RenewalLaw } from './renewalPanels.js';

export type { RenewalLaw } from './renewalPanels.js';

/**
 * Expected number of renewals (failures) from age 0 to t: the renewal function M(t) of Cox 1962; good to 1e-8.
 * Example: { kind: 'weibull', shape: 2, scale: 1 } at 1 gives 0.75369.
 * @throws UsageError for a negative age or one that is not finite, and for a shape below 1 after a failure-free time: the
 * failure rate is then without limit in the middle of a life
 */
export function renewalCount(model: LifeModel, t: number): number {
  requireAge(t);
  const law = lawOf(model);
  if (model.kind === 'exponential') return law.cumulativeHazard(model, t);
  const renewals = solveRenewal(renewalLaw(model), t);
  // Before and after each life that lasts come those that fail at once: a geometric number of them.
  const atOnce = law.cumulativeHazard(model, 0);
  return atOnce === 0 ? renewals : Math.exp(atOnce) * (renewals - Math.expm1(-atOnce));
}

/** The renewal function of any life law without atoms. */
export function renewalFunction(law: RenewalLaw, t: number): number {
  requireAge(t);
  return solveRenewal(law, t);
}

/** The renewals of a model over all ages; those that fail at once are counted with each life that lasts. */
export interface Renewals {
  curve: RenewalCurve;
  /** Renewals by t of lives that may fail at once, from those of lives that do not. */
  withAtOnce(renewals: number): number;
  /** Lives fitted for each that lasts, itself counted. */
  perLasting: number;
}

/** The renewal function of a model at many ages. @throws UsageError as `renewalCount` */
export function renewalsOf(model: LifeModel): Renewals {
  const perLasting = Math.exp(lawOf(model).cumulativeHazard(model, 0));
  return {
    curve: renewalCurve(renewalLaw(model)),
    withAtOnce: (renewals) => perLasting * renewals + (perLasting - 1),
    perLasting,
  };
}

/** The law of lives that do not fail at once. */
function renewalLaw(model: LifeModel): RenewalLaw {
  if (model.kind === 'weibull' && model.failureFree && model.shape < 1) {
    throw new UsageError(
      'renewalCount',
      'with a failure-free time it needs a shape at or above 1.',
      model.shape,
    );
  }
  const law = lawOf(model);
  const atOnce = law.cumulativeHazard(model, 0);
  const mean = law.meanUpTo(model, Infinity) * Math.exp(atOnce);
  const hazardAt = (t: number): number => law.cumulativeHazard(model, t) - atOnce;
  const ageAt = (hazard: number): number => law.ageAtHazard(model, atOnce + hazard);
  return {
    failed: (t) => -Math.expm1(-hazardAt(t)),
    density: (t) => (t <= 0 ? 0 : Math.exp(law.logHazard(model, t) - hazardAt(t))),
    quantile: (p) => ageAt(-Math.log1p(-p)),
    mean,
    variance: varianceAlive(model, atOnce),
    turns: turnsOf(model),
  };
}

/** Variance of the lives that do not fail at once, a share exp(-atOnce) of all: mean squares are shared out, not variances. */
function varianceAlive(model: LifeModel, atOnce: number): number {
  const law = lawOf(model);
  if (atOnce === 0) return law.variance(model);
  const mean = law.meanUpTo(model, Infinity);
  const alive = Math.exp(-atOnce);
  return (law.variance(model) + mean * mean) / alive - (mean / alive) ** 2;
}

/** Ages at which the density turns: scales of early leaks, the end of a failure-free time and what crowds after it. */
function turnsOf(model: LifeModel): number[] {
  if (model.kind === 'mixture') return model.parts.flatMap((part) => agesOf(part.model));
  if (model.kind === 'competing') return model.modes.flatMap(agesOf);
  if (model.kind !== 'weibull') return [];
  const { fault, failureFree } = model;
  if (fault !== undefined) return [0.01, 0.1, 0.5, 1, 2, 4, 8, 16].map((x) => x * fault.scale);
  if (!failureFree) return [];
  return Array.from({ length: 12 }, (_, i) => (i + 1) * failureFree);
}

/** Ages that span where a part of a law has its failures, and where it turns itself. */
function agesOf(part: LifeModel): number[] {
  const law = lawOf(part);
  const ages = [1e-3, 0.05, 0.3, 0.7, 1.5, 3, 7].map((hazard) => law.ageAtHazard(part, hazard));
  return [...ages.filter((age) => age > 0), ...turnsOf(part)];
}

function requireAge(t: number): void {
  if (!(t >= 0 && t < Infinity)) {
    throw new UsageError('renewalCount', 'age must be a finite number at or above 0.', t);
  }
}
