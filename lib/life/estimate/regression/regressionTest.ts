/** Whether a larger regression fits better than chance would make it: the likelihood-ratio test. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at } from '../../../numeric/columns.js';
import { gammaQ } from '../../../numeric/special.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { RegressionFit } from './types.js';

export interface RegressionTest {
  /** Twice the gain in log-likelihood. */
  statistic: number;
  /** Coefficients that the reduced fit lacks. */
  df: number;
  /** Chance of such a gain or a larger one if the reduced fit is true. */
  pValue: number;
  warnings: Warning[];
}

/**
 * Likelihood-ratio test of a full fit against a reduced one of the same lives (Lawless 2003 ch. 6, from memory): of fewer
 * covariates, of one spread against several, or exponential against Weibull.
 * @throws UsageError where the lives or the kinds differ, or the reduced fit is not a part of the full one
 */
export function regressionTest(full: RegressionFit, reduced: RegressionFit): RegressionTest {
  requireNested(full, reduced);
  const df = Object.keys(full.coefficients).length - Object.keys(reduced.coefficients).length;
  const statistic = 2 * (full.logLikelihood - reduced.logLikelihood);
  const rounding = 1e-7 * (1 + Math.abs(full.logLikelihood));
  if (statistic < -rounding) {
    const rule = 'the reduced fit has the higher likelihood, so it is not a part of the full one.';
    throw new UsageError('regressionTest', rule, statistic);
  }
  const gain = Math.max(statistic, 0);
  return { statistic: gain, df, pValue: gammaQ(df / 2, gain / 2), warnings: clusterWarning(full) };
}

function requireNested(full: RegressionFit, reduced: RegressionFit): void {
  const kinds = full.kind === reduced.kind || (full.kind === 'weibull' && reduced.kind === 'exponential');
  if (!kinds) {
    throw new UsageError(
      'regressionTest',
      'the two fits must be of one kind.',
      `${full.kind} and ${reduced.kind}`,
    );
  }
  if (!sameLives(full.sample, reduced.sample)) {
    throw new UsageError('regressionTest', 'the two fits must be of the same lives in the same order.');
  }
  const extra = Object.keys(reduced.coefficients).filter(
    (name) => !(name in full.coefficients) && name !== 'logSigma',
  );
  if (extra.length > 0) {
    throw new UsageError(
      'regressionTest',
      'the reduced fit has a coefficient that the full one lacks.',
      extra[0],
    );
  }
  if (Object.keys(full.coefficients).length <= Object.keys(reduced.coefficients).length) {
    throw new UsageError('regressionTest', 'the full fit must have more coefficients than the reduced one.');
  }
}

function sameLives(a: LifeSample, b: LifeSample): boolean {
  const columns = ['lower', 'upper', 'entry', 'count'] as const;
  return columns.every(
    (name) =>
      a[name] === b[name] ||
      (a[name].length === b[name].length && a[name].every((x, i) => x === at(b[name], i))),
  );
}

function clusterWarning({ robust }: RegressionFit): Warning[] {
  if (!robust) return [];
  return [
    {
      code: 'positions-ignored',
      text: 'Positions have several lives, and the likelihood-ratio test counts these as independent.',
      todo: 'Compare the coefficient with its position-robust standard error as well.',
    },
  ];
}
