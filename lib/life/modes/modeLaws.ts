/**
 * Several failure modes that end a life independently of each other: the first to come ends it. Each mode has a law of its own,
 * of the age at which it would end a life if it were alone. Laws are plain data; functions take them first.
 */
import { UsageError } from '../../errors.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { integrate } from '../../numeric/quadrature.js';
import { findRoot } from '../../numeric/roots.js';
import { lawOf } from '../distribution/functions.js';
import type { LifeModel } from '../model.js';

/** The law of one failure mode, as if it were alone. */
export interface ModeLaw {
  /** Name of the mode. */
  mode: string;
  model: LifeModel;
}

/** The cumulative hazard at which next to nothing is left: exp(-40) of all lives. */
const ALL_GONE = 40;
/** So many e-folds below the hazard reached nothing of the integral is left. */
const E_FOLDS = 41;

/** Chance that none of the modes has ended a life by age t: the product of the survivals of all modes. */
export function survivalOfModes(laws: readonly ModeLaw[], t: number): number {
  requireLaws('survivalOfModes', laws);
  requireAge('survivalOfModes', t);
  return Math.exp(-totalHazard(laws, t));
}

/** The age by which a share p of lives has ended by any of the modes, 0 <= p < 1 (p = 0.1 is B10 of all modes together). */
export function quantileOfModes(laws: readonly ModeLaw[], p: number): number {
  requireLaws('quantileOfModes', laws);
  if (!(p >= 0 && p < 1)) throw new UsageError('quantileOfModes', 'p must be at or above 0 and below 1.', p);
  const wanted = -Math.log1p(-p);
  const ends = (hazard: number): number =>
    Math.min(...laws.map(({ model }) => lawOf(model).ageAtHazard(model, hazard)));
  // No mode alone reaches `wanted` before the total does, and the first to reach its even part comes no later than the total.
  const [low, high] = [ends(wanted / laws.length), ends(wanted)];
  if (!(high > low)) return high;
  // In log age, where a shape of 0.05 is as gentle as one of 3.
  const above = (logAge: number): number => Math.log(totalHazard(laws, Math.exp(logAge)) / wanted);
  const [from, to] = [Math.log(Math.max(low, Number.MIN_VALUE)), Math.log(high)];
  return Math.exp(findRoot(above, from - 1e-9, to + 1e-9, { absolute: 1e-14 }).root);
}

/**
 * Cumulative incidence by the laws: for each mode, in the order of `laws`, the chance to have ended by it at or before each
 * age while the other modes go on as they do: the integral of its hazard times the survival of all modes. Incidences and
 * `survivalOfModes` add up to 1 at every age. The estimate without laws is `cumulativeIncidence`.
 *
 * The integral runs over the logarithm of the mode's own cumulative hazard, where every law looks alike, so that neither a shape of
 * 0.05 nor one of 50 has mass where the rule does not look; relative error about 1e-10.
 *
 * @param ages at or above 0, in any order
 * @throws UsageError without laws, for a name given twice, and for an age that is negative or no number
 */
export function incidenceOfModes(laws: readonly ModeLaw[], ages: ArrayLike<number>): Float64Array[] {
  requireLaws('incidenceOfModes', laws);
  for (let i = 0; i < ages.length; i++) requireAge('incidenceOfModes', at(ages, i));
  return laws.map((_, m) => incidenceOf(laws, m, ages));
}

function incidenceOf(laws: readonly ModeLaw[], m: number, ages: ArrayLike<number>): Float64Array {
  const { model } = itemAt(laws, m);
  const law = lawOf(model);
  const others = laws.filter((_, j) => j !== m);
  const goneAt = Math.min(
    Infinity,
    ...others.map((one) => lawOf(one.model).ageAtHazard(one.model, ALL_GONE)),
  );
  const reached = Float64Array.from({ length: ages.length }, (_, i) =>
    Math.min(law.cumulativeHazard(model, Math.min(at(ages, i), goneAt)), ALL_GONE),
  );
  const order = Array.from(reached.keys()).sort((i, j) => floatAt(reached, i) - floatAt(reached, j));
  const density = (log: number): number => {
    const hazard = Math.exp(log);
    return hazard * Math.exp(-hazard - totalHazard(others, law.ageAtHazard(model, hazard)));
  };
  const incidence = new Float64Array(ages.length);
  let [before, total] = [0, 0];
  for (const i of order) {
    const here = floatAt(reached, i);
    if (here > before) {
      const low = Math.max(Math.log(here) - E_FOLDS, Math.log(before));
      total += integrate(density, low, Math.log(here), { absolute: 1e-300, relative: 1e-11 }).value;
      before = here;
    }
    incidence[i] = Math.min(1, total);
  }
  return incidence;
}

/** Sum of the cumulative hazards at an age. */
export function totalHazard(laws: readonly ModeLaw[], t: number): number {
  let total = 0;
  for (const { model } of laws) total += lawOf(model).cumulativeHazard(model, t);
  return total;
}

function requireLaws(where: string, laws: readonly ModeLaw[]): void {
  if (laws.length === 0) throw new UsageError(where, 'at least one mode is needed.');
  const names = new Set<string>();
  for (const { mode } of laws) {
    if (names.has(mode)) throw new UsageError(where, 'each mode must be named once.', mode);
    names.add(mode);
  }
}

function requireAge(where: string, t: number): void {
  if (!(t >= 0)) throw new UsageError(where, 'age must be a number at or above 0.', t);
}
