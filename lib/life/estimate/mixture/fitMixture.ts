/** Two kinds of Weibull lives in one lot: which share is of which, and how long each lasts. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, sum } from '../../../numeric/columns.js';
import { localPrecision } from '../../../numeric/localWords.js';
import { mergeSample } from '../../mergeSample.js';
import type { MixtureModel, WeibullModel } from '../../model.js';
import { failureCount } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { whyShapeNotEstimable } from '../estimable.js';
import { fitLife, type LifeFit } from '../fit.js';
import { inUnit } from '../fitLocationScale.js';
import type { Parameter } from '../fitTypes.js';
import { lawLikelihood } from '../lawLikelihood.js';
import { sharpen } from '../sharpen.js';
import { largestAge } from '../weibull/weibullLikelihood.js';
import { mixtureStarts } from './mixtureStarts.js';
import { climbMixture, type TwoParts } from './mixtureSteps.js';

/** A part with a larger shape than this has shrunk onto one age. */
export const LARGEST_PART_SHAPE = 60;
/** A part must account for so many failures. */
export const FAILURES_PER_PART = 2;
/** Twice the gain in log likelihood under which one part does the job: three parameters more, and an AIC lower by 6. */
export const GAIN_FOR_TWO_PARTS = 12;

export interface MixtureOptions {
  /** Seed of the random starts; 1 by default. */
  seed?: number;
  /** Starts, the ordered splits by age among them; 12 by default. */
  starts?: number;
}

export interface MixtureFit {
  /** The early part first, by its median. */
  model: MixtureModel;
  logLikelihood: number;
  /** logitShare of the early part, then log shape and log scale of each; covariance in this order, row by row. */
  parameters: Parameter[];
  covariance: number[];
  /** The one Weibull for all. */
  onePart: LifeFit;
  /** Twice the gain in log likelihood over one part. Not chi-square: compare with GAIN_FOR_TWO_PARTS. */
  ratio: number;
  /** Whether one part does the job: the gain is too small for three parameters more. */
  onePartIsEnough: boolean;
  failures: number;
  lives: number;
  converged: boolean;
  iterations: number;
  reason: string;
  /** Starts that ended in a sound maximum, and those that shrank onto one age or lost a part. */
  starts: { sound: number; collapsed: number };
  seed: number;
  warnings: Warning[];
}

/**
 * Maximum likelihood of a mixture of two Weibull laws, all kinds of rows but unknown causes: expectation and maximisation from
 * several starts (Dempster, Laird & Rubin 1977; with delayed entry the lives that were never seen are made up for in each step, as
 * they do for truncated data), sharpened by Newton steps. A part that shrinks onto one exact age has a likelihood without
 * limit; such an end is dropped, not taken for the best (McLachlan & Peel 2000, ch. 3.8; all from memory).
 * @throws UsageError where one Weibull cannot be fitted, with fewer than 6 failures, rows of unknown cause, or no sound end
 */
export function fitMixture(sample: LifeSample, options: MixtureOptions = {}): MixtureFit {
  const { seed = 1, starts = 12 } = options;
  requireSample(sample, starts);
  const onePart = fitLife(sample, { kind: 'weibull' });
  const unit = largestAge(sample);
  const rows = inUnit(mergeSample(sample), unit);
  const ends = mixtureStarts(rows, starts, seed).map((start) => climbMixture(rows, start));
  const sound = ends.filter((end) => end.parts !== null && isSound(end.parts, end.failures));
  const likelihood = lawLikelihood(rows);
  const value = (parts: TwoParts | null): number => (parts === null ? -Infinity : likelihood(modelOf(parts)));
  const best = sound.reduce<TwoParts | null>(
    (top, { parts }) => (value(parts) > value(top) ? parts : top),
    null,
  );
  if (best === null) {
    throw new UsageError(
      'fitMixture',
      'no two parts were found: from every start one of them shrank onto one age or vanished. One Weibull is what these data can tell.',
    );
  }
  const iterations = ends.reduce((total, end) => total + end.iterations, 0);
  return resultOf(sample, onePart, unit, rows, best, {
    iterations,
    seed,
    starts: { sound: sound.length, collapsed: ends.length - sound.length },
  });
}

function resultOf(
  sample: LifeSample,
  onePart: LifeFit,
  unit: number,
  rows: LifeSample,
  best: TwoParts,
  search: Pick<MixtureFit, 'iterations' | 'seed' | 'starts'>,
): MixtureFit {
  const likelihood = lawLikelihood(rows);
  const target = (x: readonly number[]): number => -likelihood(modelOf(partsOf(x)));
  const top = sharpen(target, placeOf(ordered(best)), (x) => [
    0.02,
    5e-3,
    5e-3 / Math.max(1, Math.exp(at(x, 1))),
    5e-3,
    5e-3 / Math.max(1, Math.exp(at(x, 3))),
  ]);
  const parts = top.converged ? partsOf(top.at) : ordered(best);
  const model = modelOf(parts, unit);
  const logLikelihood = lawLikelihood(sample)(model);
  const ratio = 2 * (logLikelihood - onePart.logLikelihood);
  const onePartIsEnough = ratio < GAIN_FOR_TWO_PARTS;
  return {
    model,
    logLikelihood,
    parameters: top.converged ? parametersOf(top.at, unit, top.covariance) : [],
    covariance: top.covariance,
    onePart,
    ratio,
    onePartIsEnough,
    failures: failureCount(sample),
    lives: sum(sample.count),
    converged: top.converged,
    reason: top.converged
      ? 'the slopes vanish at a maximum'
      : 'the likelihood is level along some parameters, so there are no standard errors',
    ...search,
    warnings: warningsOf(onePartIsEnough, ratio, top.converged),
  };
}

/** The early part first. */
function ordered(parts: TwoParts): TwoParts {
  const median = ({ shape, scale }: { shape: number; scale: number }): number =>
    scale * Math.LN2 ** (1 / shape);
  const { share, one, other } = parts;
  return median(one) <= median(other) ? parts : { share: 1 - share, one: other, other: one };
}

/** Logit of the share, then log shape and log scale of each part. */
function placeOf({ share, one, other }: TwoParts): number[] {
  const logit = Math.log(share) - Math.log1p(-share);
  return [logit, Math.log(one.shape), Math.log(one.scale), Math.log(other.shape), Math.log(other.scale)];
}

function partsOf(x: readonly number[]): TwoParts {
  const part = (k: number) => ({ shape: Math.exp(at(x, k)), scale: Math.exp(at(x, k + 1)) });
  return { share: 1 / (1 + Math.exp(-at(x, 0))), one: part(1), other: part(3) };
}

function modelOf({ share, one, other }: TwoParts, unit = 1): MixtureModel {
  const weibull = ({ shape, scale }: { shape: number; scale: number }): WeibullModel => ({
    kind: 'weibull',
    shape,
    scale: scale * unit,
  });
  return {
    kind: 'mixture',
    parts: [
      { share, model: weibull(one) },
      { share: 1 - share, model: weibull(other) },
    ],
  };
}

function parametersOf(x: readonly number[], unit: number, covariance: readonly number[]): Parameter[] {
  const names = ['logitShare', 'logShape1', 'logScale1', 'logShape2', 'logScale2'];
  return names.map((name, i) => ({
    name,
    estimate: at(x, i) + (name.startsWith('logScale') ? Math.log(unit) : 0),
    standardError: Math.sqrt(at(covariance, 6 * i)),
  }));
}

function isSound({ share, one, other }: TwoParts, failures: readonly [number, number]): boolean {
  const shapes = [one.shape, other.shape];
  return (
    share > 1e-6 &&
    share < 1 - 1e-6 &&
    shapes.every((shape) => shape < LARGEST_PART_SHAPE && shape > 0.05) &&
    failures.every((count) => count >= FAILURES_PER_PART)
  );
}

function warningsOf(onePartIsEnough: boolean, ratio: number, converged: boolean): Warning[] {
  const warnings: Warning[] = [];
  if (onePartIsEnough) {
    warnings.push({
      code: 'one-part-enough',
      text: `One Weibull does the job: twice the gain of two parts is ${localPrecision(ratio, 3)}, below ${GAIN_FOR_TWO_PARTS}.`,
      todo: 'Use the one Weibull in `onePart`.',
    });
  }
  if (!converged) {
    warnings.push({
      code: 'mixture-level',
      text: 'The likelihood is level along some parameters of the two parts: they are not told apart.',
      todo: 'Use the one Weibull in `onePart`, or gather more failures.',
    });
  }
  return warnings;
}

function requireSample(sample: LifeSample, starts: number): void {
  if (!(Number.isInteger(starts) && starts >= 1))
    throw new UsageError('fitMixture', 'starts must be a whole number from 1.', starts);
  if (sample.otherHazard?.some((other) => other > 0)) {
    throw new UsageError('fitMixture', 'rows of unknown cause are not taken.');
  }
  const why = whyShapeNotEstimable(sample);
  if (why !== null) throw new UsageError('fitMixture', `nothing can be estimated: ${why}.`);
  const failures = failureCount(sample);
  if (failures < 6)
    throw new UsageError(
      'fitMixture',
      'two parts have five parameters and need 6 failures or more.',
      failures,
    );
}
