/** The activation energy that lives at several temperatures show. */
import { UsageError } from '../errors.js';
import type { Warning } from '../findings.js';
import { zOf } from '../life/empirical/kaplanMeier.js';
import { fitRegression } from '../life/estimate/regression/fitRegression.js';
import type { RegressionFit, RegressionOptions } from '../life/estimate/regression/types.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at } from '../numeric/columns.js';
import { amount } from '../numeric/words.js';
import type { ActivationEnergy } from './activationEnergy.js';

export interface FitActivationEnergyOptions {
  /** Law of life at one temperature. */
  kind: RegressionOptions['kind'];
  /** Two-sided level of the range; 0.9 by default. */
  level?: number;
  failuresPerCoefficient?: number;
}

export interface FittedActivationEnergy extends ActivationEnergy {
  level: number;
  lowestCelsius: number;
  highestCelsius: number;
  /** In kJ/mol. */
  standardError: number;
  /** Log life against 1 / (R T): the energy is its coefficient `temperature`. */
  fit: RegressionFit;
  warnings: Warning[];
}

/**
 * Activation energy from lives of one material whose temperatures differ, by maximum likelihood: log life is a straight line in
 * 1 / (R T) (Meeker & Escobar 1998 ch. 19; NIST/SEMATECH e-Handbook 8.4.2). The range is estimate plus and minus z standard errors, under
 * the covariance of the fit, and never below 0. Every unit of age will do: it moves the intercept alone.
 * @throws UsageError for temperatures at or below absolute zero or all the same, a level outside (0, 1), lives that show no ageing with
 * heat, and what `fitRegression` refuses
 */
export function fitActivationEnergy(
  sample: LifeSample,
  temperatureCelsius: ArrayLike<number>,
  { kind, level = 0.9, failuresPerCoefficient }: FitActivationEnergyOptions,
): FittedActivationEnergy {
  const z = zOf('fitActivationEnergy', level);
  const temperature = Float64Array.from(temperatureCelsius);
  const share = failuresPerCoefficient === undefined ? {} : { failuresPerCoefficient };
  const transforms = { temperature: 'arrhenius' } as const;
  const fit = fitRegression(sample, { temperature }, { kind, transforms, ...share });
  const kJPerMol = fit.coefficients.temperature as number;
  const standardError = fit.standardErrors.temperature as number;
  if (kJPerMol < 0) {
    const rule =
      'lives at higher temperatures last longer: no activation energy describes that. Compare like with like.';
    throw new UsageError('fitActivationEnergy', rule, `${amount(kJPerMol)} kJ/mol`);
  }
  const low = Math.max(0, kJPerMol - z * standardError);
  return {
    kJPerMol,
    low,
    high: kJPerMol + z * standardError,
    level,
    standardError,
    source: `${amount(fit.failures, 9)} failures among ${amount(fit.lives, 9)} lives (${kind})`,
    ...rangeOf(temperature),
    fit,
    warnings: low > 0 ? [...fit.warnings] : [...fit.warnings, MAY_BE_NONE],
  };
}

const MAY_BE_NONE: Warning = {
  code: 'activation-energy-may-be-none',
  text: 'The lives do not show that heat shortens them: the range of the activation energy reaches down to 0.',
  todo: 'Use the usual value of the material, or gather lives at temperatures further apart.',
};

function rangeOf(column: Float64Array): { lowestCelsius: number; highestCelsius: number } {
  let [lowestCelsius, highestCelsius] = [Infinity, -Infinity];
  for (let i = 0; i < column.length; i++) {
    lowestCelsius = Math.min(lowestCelsius, at(column, i));
    highestCelsius = Math.max(highestCelsius, at(column, i));
  }
  return { lowestCelsius, highestCelsius };
}
