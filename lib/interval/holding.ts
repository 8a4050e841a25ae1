/**
 * Chance that a diaphragm of an age holds for some days more, over the posterior draws that the plan is made on:
 * S(age + days) / S(age) with S(t) = [1 - p Fe(t)] Sw(t) (METHODS 3.1). Openings are left out.
 */
import type { LifeDraws } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';

export interface Holding {
  /** Mean over the draws. */
  mean(ageDays: number, days: number): number;
  /** Value that all but a share `below` of the draws reach: 0.1 for a lower one-sided 90 % bound. */
  bound(ageDays: number, days: number, below: number): number;
}

/**
 * Holding of one group's draws. Answers are kept: positions of one group that were fitted on one day, and all that
 * are replaced in one shutdown, ask the same.
 */
export function holdingOf(draws: LifeDraws): Holding {
  const logScale = draws.scale.map((scale) => Math.log(scale));
  const from = survivalColumn(draws.shape.length);
  const to = survivalColumn(draws.shape.length);
  const ratios = new Float64Array(draws.shape.length);
  const fill = (ageDays: number, days: number): Float64Array => {
    if (from.age !== ageDays) fillColumn(from, draws, logScale, ageDays);
    fillColumn(to, draws, logScale, ageDays + days);
    for (let d = 0; d < ratios.length; d++) ratios[d] = ratioAt(from, to, d);
    return ratios;
  };
  const mean = remembered((ageDays, days) => meanOf(fill(ageDays, days)));
  const bounds = new Map<number, (ageDays: number, days: number) => number>();
  const boundBelow = (below: number): ((ageDays: number, days: number) => number) => {
    const known = bounds.get(below) ?? remembered((ageDays, days) => quantileOf(fill(ageDays, days), below));
    bounds.set(below, known);
    return known;
  };
  return { mean, bound: (ageDays, days, below) => boundBelow(below)(ageDays, days) };
}

/** Wear-out hazard and share not leaked early, over the draws, at one age. */
interface SurvivalColumn {
  age: number;
  hazard: Float64Array;
  unleaked: Float64Array;
}

function survivalColumn(count: number): SurvivalColumn {
  return { age: Number.NaN, hazard: new Float64Array(count), unleaked: new Float64Array(count) };
}

function fillColumn(column: SurvivalColumn, draws: LifeDraws, logScale: Float64Array, age: number): void {
  const logAge = Math.log(age);
  const leaked = -Math.expm1(-((age / draws.faultScale) ** draws.faultShape));
  for (let d = 0; d < logScale.length; d++) {
    column.hazard[d] = Math.exp(floatAt(draws.shape, d) * (logAge - floatAt(logScale, d)));
    column.unleaked[d] = 1 - floatAt(draws.share, d) * leaked;
  }
  column.age = age;
}

/** Hazards are subtracted, so that a life far beyond what the model gives it still has a chance to hold. */
function ratioAt(from: SurvivalColumn, to: SurvivalColumn, d: number): number {
  const early = floatAt(from.unleaked, d);
  if (early <= 0) return 0;
  return (Math.exp(floatAt(from.hazard, d) - floatAt(to.hazard, d)) * floatAt(to.unleaked, d)) / early;
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (let d = 0; d < values.length; d++) sum += floatAt(values, d);
  return sum / values.length;
}

/** Quantile between order statistics as usual: at (n - 1) q of the sorted values. */
function quantileOf(values: Float64Array, share: number): number {
  const sorted = Float64Array.from(values).sort();
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const low = floatAt(sorted, below);
  return below + 1 < sorted.length ? low + (place - below) * (floatAt(sorted, below + 1) - low) : low;
}

function remembered(
  of: (ageDays: number, days: number) => number,
): (ageDays: number, days: number) => number {
  const byAge = new Map<number, Map<number, number>>();
  return (ageDays, days) => {
    const byDays = byAge.get(ageDays) ?? new Map<number, number>();
    if (byDays.size === 0) byAge.set(ageDays, byDays);
    const known = byDays.get(days) ?? of(ageDays, days);
    byDays.set(days, known);
    return known;
  };
}
