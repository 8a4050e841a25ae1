/** Lives that end by the first of several independent modes: the cumulative hazard is the sum of theirs. */
import { UsageError } from '../../errors.js';
import { integrate } from '../../numeric/quadrature.js';
import type { CompetingModel } from '../model.js';
import { remainingByHazard, varianceByHazard } from './byHazard.js';
import { ageBetween, logSumOf, type RulesOf, tailPower } from './compound.js';
import type { LifeLaw } from './law.js';

export function competingLaw(rulesOf: RulesOf): LifeLaw<CompetingModel> {
  const law: LifeLaw<CompetingModel> = {
    check({ modes }) {
      if (!Array.isArray(modes) || modes.length < 2) {
        throw new UsageError('competing modes', 'modes must be two or more.', JSON.stringify(modes));
      }
      for (const mode of modes) rulesOf(mode).check(mode);
    },
    cumulativeHazard: ({ modes }, t) =>
      modes.reduce((total, mode) => total + rulesOf(mode).cumulativeHazard(mode, t), 0),
    logHazard: ({ modes }, t) => logSumOf(modes.map((mode) => rulesOf(mode).logHazard(mode, t))),
    ageAtHazard: (model, hazard) => ageAt(rulesOf, law, model, hazard),
    meanUpTo(model, t) {
      if (t === Infinity && tailPower(model) <= 1) return Infinity;
      return t === 0 ? 0 : meanUpTo(rulesOf, law, model, t);
    },
    remaining: (model, t) => (tailPower(model) <= 1 ? Infinity : remainingByHazard(law, model, t)),
    variance: (model) => (tailPower(model) <= 2 ? Infinity : varianceByHazard(law, model)),
    draw: ({ modes }, random) => Math.min(...modes.map((mode) => rulesOf(mode).draw(mode, random))),
  };
  return law;
}

/** One mode carries an even share of the hazard or more, and none carries more than all of it. */
function ageAt(
  rulesOf: RulesOf,
  law: LifeLaw<CompetingModel>,
  model: CompetingModel,
  hazard: number,
): number {
  const least = (value: number): number =>
    Math.min(...model.modes.map((mode) => rulesOf(mode).ageAtHazard(mode, value)));
  if (hazard === Infinity) return least(hazard);
  if (hazard === 0) return Math.max(0, least(0));
  const low = least(hazard / model.modes.length);
  return ageBetween((t) => law.cumulativeHazard(model, t), hazard, low, least(hazard));
}

/** Integral of survival up to t in log age, where every mode is smooth; below the lowest point survival is that of age 0. */
function meanUpTo(rulesOf: RulesOf, law: LifeLaw<CompetingModel>, model: CompetingModel, t: number): number {
  const end = Math.min(t, law.ageAtHazard(model, 745));
  const low = Math.min(end, Math.max(law.ageAtHazard(model, 1e-20), 1e-300));
  const places = model.modes.flatMap((mode) =>
    [1e-6, 1e-3, 0.03, 0.3, 1, 3, 10, 40].map((hazard) => rulesOf(mode).ageAtHazard(mode, hazard)),
  );
  const points = places.filter((age) => age > low && age < end).map(Math.log);
  const alive = (x: number): number => Math.exp(x - law.cumulativeHazard(model, Math.exp(x)));
  const early = low * Math.exp(-law.cumulativeHazard(model, 0));
  if (!(low < end)) return early;
  return early + integrate(alive, Math.log(low), Math.log(end), { points, relative: 1e-13 }).value;
}
