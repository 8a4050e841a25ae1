/** The Weibull shape of small samples is estimated too high: a correction. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import type { WeibullModel } from '../model.js';
import type { LifeFit } from './fitTypes.js';

export interface BiasCorrection {
  /** The Weibull with the corrected shape; its scale is the one that goes with that shape only where it was fitted again. */
  shape: number;
  /** As fitted. */
  fittedShape: number;
  /** Mean of fitted over true shape, by which it was divided. */
  factor: number;
  failures: number;
  lives: number;
  /** What was done, with its source. */
  method: string;
  warnings: Warning[];
}

const METHOD =
  'Shape divided by 1 + 1.37 / (r - 1.92) sqrt(n / r), r failures of n lives (Ross 1996, IEEE Trans. Dielectrics and Electrical Insulation 3, 28, from memory).';

/**
 * Corrects the maximum likelihood shape of a Weibull for its bias in small samples: complete ones, or where lives still sound were
 * all stopped at one age or at the last failure. Checked by simulation: for complete samples of 5 or more the mean is
 * right within 1 %; where half have failed it comes out 1 to 4 % low; where fewer have, the correction is too strong.
 *
 * A mean is not a bound: what one sample may be off by is several times the bias. Bounds by likelihood need no such correction.
 * Refit the scale with `fitLife(sample, { kind: 'weibull', shape })`.
 * @throws UsageError for a fit that is not a plain Weibull by maximum likelihood, or with fewer than 3 failures
 */
export function correctBias(fit: LifeFit): BiasCorrection {
  const model = requirePlainWeibull(fit);
  const { failures, lives } = fit;
  const factor = 1 + (1.37 / (failures - 1.92)) * Math.sqrt(lives / failures);
  return {
    shape: model.shape / factor,
    fittedShape: model.shape,
    factor,
    failures,
    lives,
    method: METHOD,
    warnings: warningsOf(fit),
  };
}

function requirePlainWeibull(fit: LifeFit): WeibullModel {
  const { model, method, shapeFixed, failures } = fit;
  if (model.kind !== 'weibull' || model.fault !== undefined || model.failureFree !== undefined) {
    throw new UsageError('correctBias', 'the fit must be of a plain Weibull with two parameters.', fit.kind);
  }
  if (method !== 'likelihood' || shapeFixed) {
    throw new UsageError(
      'correctBias',
      'the shape must have been fitted by maximum likelihood, without a prior.',
      method,
    );
  }
  if (failures < 3) throw new UsageError('correctBias', 'it needs 3 failures or more.', failures);
  return model;
}

function warningsOf({ failures, lives, sample }: LifeFit): Warning[] {
  const warnings: Warning[] = [];
  if (failures < 5) {
    warnings.push({
      code: 'bias-few-failures',
      text: 'With fewer than 5 failures the correction itself is off by several percent.',
      todo: 'Read the bounds of the shape.',
    });
  }
  if (failures < 0.45 * lives) {
    warnings.push({
      code: 'bias-heavy-censoring',
      text: `Only ${failures} of ${lives} lives have failed: the correction is too strong there (by 16 % with 5 of 20).`,
      todo: 'Take it as a lower end, and the fitted shape as an upper one.',
    });
  }
  if (
    sample.entry.some((age) => age > 0) ||
    sample.lower.some((age, i) => age !== sample.upper[i] && sample.upper[i] !== Infinity)
  ) {
    warnings.push({
      code: 'bias-other-rows',
      text: 'The correction was made for exact ages and lives watched from new; these are intervals or late entries.',
      todo: 'Narrow intervals (days) do not matter; with late entries do not use it.',
    });
  }
  return warnings;
}
