/** Whether the failure rate of a sample rises or falls with age: exponential against Weibull. */
import type { Warning } from '../../findings.js';
import { localNumber } from '../../numeric/localWords.js';
import { chiSquareCdf, normalCdf } from '../../numeric/special.js';
import type { LifeSample } from '../sampleTypes.js';
import { fitLife } from './fit.js';

/** Under so many failures the answer is "cannot be judged" (METHODS 2.4). */
export const FAILURES_TO_JUDGE = 10;

export interface ExponentialTest {
  /** Shape of the Weibull fitted: above 1 the failure rate rises with age. */
  shape: number;
  /** Twice the gain in log likelihood by letting the shape go: chi-square with 1 degree of freedom under a constant rate. */
  ratio: number;
  /** Its root with the sign of log shape: standard normal under a constant rate; above 0 speaks for wear. */
  signedRoot: number;
  /** Chance of a ratio at or above this one under a constant rate: two-sided. */
  pValue: number;
  /** Chance of a signed root at or above this one: small values speak for a rate that rises. */
  pRising: number;
  failures: number;
  /** False with fewer than FAILURES_TO_JUDGE failures: the chances are then not to be acted on. */
  canBeJudged: boolean;
  warnings: Warning[];
}

/**
 * Likelihood ratio test of an exponential against a Weibull law (Lawless 2003 ch. 4, from memory), for all kinds of rows. That it
 * does not reject is no evidence of a constant rate: with few failures it seldom rejects anything.
 * @throws UsageError where no Weibull can be fitted (see `fitLife`)
 */
export function exponentialTest(sample: LifeSample): ExponentialTest {
  const weibull = fitLife(sample, { kind: 'weibull' });
  const constant = fitLife(sample, { kind: 'exponential' });
  const shape = weibull.model.kind === 'weibull' ? weibull.model.shape : 1;
  const ratio = Math.max(0, 2 * (weibull.logLikelihood - constant.logLikelihood));
  const signedRoot = Math.sign(Math.log(shape)) * Math.sqrt(ratio) + 0;
  const { failures } = weibull;
  return {
    shape,
    ratio,
    signedRoot,
    pValue: upper(ratio),
    pRising: normalCdf(-signedRoot),
    failures,
    canBeJudged: failures >= FAILURES_TO_JUDGE,
    warnings: failures >= FAILURES_TO_JUDGE ? [] : [fewFailures(failures)],
  };
}

/** 1 - chi-square with one degree of freedom, from the normal tail, which keeps its digits. */
function upper(ratio: number): number {
  return ratio === 0 ? 1 - chiSquareCdf(0, 1) : 2 * normalCdf(-Math.sqrt(ratio));
}

function fewFailures(failures: number): Warning {
  return {
    code: 'cannot-be-judged',
    text: `With ${localNumber(Math.round(failures * 10) / 10)} failures it cannot be judged whether the failure rate is constant: the test would miss most wear, and its chances are rough.`,
    todo: 'Do not read a large chance as a constant rate; look at the bounds of the shape.',
  };
}
