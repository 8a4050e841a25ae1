/** What one life of unknown reason would change if it had leaked. */
import { at, floatAt } from '../../numeric/columns.js';
import { differentiate } from '../../numeric/differentiate.js';
import { lawOf } from '../distribution/functions.js';
import { modelFromParameters } from '../estimate/coordinates.js';
import type { LifeFit } from '../estimate/fitTypes.js';
import type { ModeLaw } from './modeLaws.js';

interface Weighed {
  laws: readonly ModeLaw[];
  fits: readonly LifeFit[];
  chance: Float64Array;
  byMode: readonly Float64Array[];
}

const STEP = 1e-3;

/**
 * For each age the change of `of` when a life that ended at it is a leak instead of none: one Newton step from the fits. A leak adds
 * the log of its hazard to the likelihood, shared among the modes by their parts of the chance.
 */
export function effectsOfLeaks(
  ages: Float64Array,
  { laws, fits, chance, byMode }: Weighed,
  of: (laws: readonly ModeLaw[]) => number,
): Float64Array {
  const effects = new Float64Array(ages.length);
  fits.forEach((fit, m) => {
    const x = fit.parameters.map(({ estimate }) => estimate);
    const steps = x.map(() => STEP);
    const lawAt = (values: readonly number[]): readonly ModeLaw[] =>
      laws.map((law, j) => (j === m ? { mode: law.mode, model: modelFromParameters(fit, values) } : law));
    const slope = differentiate((values) => of(lawAt(values)), x, steps);
    // Covariance times slope: by how much a unit of score moves `of`.
    const pull = x.map((_, i) =>
      slope.reduce((total, by, j) => total + at(fit.covariance, i * x.length + j) * by, 0),
    );
    const seen = new Map<number, number>();
    const effectAt = (age: number): number => {
      const logHazard = (values: readonly number[]): number => {
        const model = modelFromParameters(fit, values);
        return lawOf(model).logHazard(model, age);
      };
      const known = seen.get(age);
      if (known !== undefined) return known;
      const score = differentiate(logHazard, x, steps);
      const effect = score.reduce((total, by, i) => total + by * at(pull, i), 0);
      seen.set(age, effect);
      return effect;
    };
    ages.forEach((age, u) => {
      const part = floatAt(chance, u) > 0 ? at(byMode[m] as Float64Array, u) / floatAt(chance, u) : 0;
      effects[u] = floatAt(effects, u) + part * effectAt(age);
    });
  });
  return effects;
}
