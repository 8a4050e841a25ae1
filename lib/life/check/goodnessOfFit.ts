/** Whether a fitted law is one that the lives can have come from: a test by parametric bootstrap (METHODS 2.4). */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { localPrecision } from '../../numeric/localWords.js';
import { randomStream } from '../../numeric/random.js';
import { requireKnownCauses } from '../empirical/atRisk.js';
import { optionsOf } from '../estimate/bounds/boundsBootstrap.js';
import { recordingOf } from '../estimate/bounds/recording.js';
import { type RedrawOptions, redrawer } from '../estimate/bounds/redraw.js';
import { fitLife } from '../estimate/fit.js';
import type { FitOptions, LifeFit } from '../estimate/fitTypes.js';
import { nearbyRefit } from '../estimate/weibull/nearbyRefit.js';
import type { FittedModel } from '../model.js';
import { failureCount, hasClusters } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { distance } from './distance.js';
import { observedCurve } from './observedCurve.js';

/** With fewer failures nothing is said (METHODS 2.4). */
export const FAILURES_TO_JUDGE = 10;
/** Chance at which a law that is right is rejected. */
const NOMINAL = 0.05;

export interface GoodnessOptions extends RedrawOptions {
  seed: number;
  /** Samples to draw: 999 unless given, so that a chance of 0.05 is known to 0.007. */
  resamples?: number;
  /**
   * Stop once so many samples lie as far off: the rest would only say more precisely that the law may be right. Then
   * p = so many / drawn, which is no smaller than a chance of its own size (Besag & Clifford 1991, from memory).
   */
  enough?: number;
}

export interface Goodness {
  /** Distance between the fitted law and the product limit (Turnbull's curve for intervals); null with no failure. */
  statistic: number | null;
  /** Chance of a distance as large or larger if the law is right; null where it cannot be judged. */
  p: number | null;
  /** Standard error of `p` from the number of samples drawn. */
  standardError: number | null;
  failures: number;
  /** Samples that could be fitted, of those drawn. */
  resamples: number;
  seed: number;
  /** Code `fits`, `does-not-fit` or `cannot-be-judged`. */
  verdict: Warning;
  warnings: Warning[];
}

/**
 * Fits the same kind of law to samples drawn from the fitted one and watched as the lives were (see `RedrawOptions`), and counts how
 * many lie as far from their own fit as the sample does from its own: p = (1 + so many) / (1 + samples) (Davison & Hinkley 1997
 * ch. 4; the distance is that of Anderson & Darling 1952 carried to watched lives, see distance.ts). A right law is rejected at 0.05 in one
 * case of twenty; over many groups use `falseDiscovery`.
 * @throws UsageError for resamples that are not a whole number from 19, `enough` not one from 1, ends of unknown cause, and columns of `options` that do
 * not suit the sample
 */
export function goodnessOfFit(sample: LifeSample, fit: LifeFit, options: GoodnessOptions): Goodness {
  const { seed, resamples = 999, enough = Infinity } = options;
  if (!(Number.isInteger(resamples) && resamples >= 19)) {
    throw new UsageError('goodnessOfFit', 'resamples must be a whole number from 19.', resamples);
  }
  if (!(enough >= 1 && (enough === Infinity || Number.isInteger(enough)))) {
    throw new UsageError('goodnessOfFit', 'enough must be a whole number from 1.', enough);
  }
  requireKnownCauses(sample, 'goodnessOfFit');
  const failures = failureCount(sample);
  const nothing = { p: null, standardError: null, failures, resamples: 0, seed, warnings: [] };
  if (failures === 0) return { ...nothing, statistic: null, verdict: cannotBeJudged(failures) };
  const statistic = distanceOf(sample, fit.model);
  if (failures < FAILURES_TO_JUDGE) return { ...nothing, statistic, verdict: cannotBeJudged(failures) };
  const redraw = redrawer(sample, fit.model, options, 'goodnessOfFit');
  const random = randomStream(seed, 'life/goodness');
  const refit = refitting(fit);
  let [fitted, asFar, tried] = [0, 0, 0];
  while (tried < resamples && asFar < enough) {
    tried++;
    const drawn = refitDistance(redraw(random), refit);
    if (drawn === null) continue;
    fitted++;
    if (drawn >= statistic) asFar++;
  }
  const stopped = asFar >= enough;
  const p = stopped ? asFar / fitted : (1 + asFar) / (1 + fitted);
  const warnings = warningsOf(sample, tried, fitted);
  if (fitted < tried / 2) {
    return { ...nothing, statistic, resamples: fitted, verdict: cannotBeJudged(failures), warnings };
  }
  const standardError = Math.sqrt((p * (1 - p)) / (1 + fitted));
  return {
    statistic,
    p,
    standardError,
    failures,
    resamples: fitted,
    seed,
    verdict: verdictOf(fit, p),
    warnings,
  };
}

function distanceOf(sample: LifeSample, model: FittedModel): number {
  let lives = 0;
  for (const count of sample.count) lives += count;
  return distance(observedCurve(sample), model, lives);
}

/** The fit of the same kind of law to drawn samples: the quick road where there is one. */
function refitting(fit: LifeFit): (sample: LifeSample) => FittedModel {
  const asked = optionsOf(fit);
  const slowly = (sample: LifeSample): FittedModel => fitLife(sample, asked).model;
  const nearby = nearbyRefitOf(fit, asked);
  return nearby === null ? slowly : (sample) => nearby(sample) ?? slowly(sample);
}

function nearbyRefitOf({ kind, model }: LifeFit, asked: FitOptions): ReturnType<typeof nearbyRefit> | null {
  const held = asked.shape !== undefined || asked.prior !== undefined || asked.failureFree !== undefined;
  // Asked for beside a known share, or with none.
  const known = asked.fault === undefined || (asked.fault !== 'estimate' && 'share' in asked.fault);
  return kind === 'weibull' && model.kind === 'weibull' && known && !held ? nearbyRefit(model) : null;
}

/** Distance of a drawn sample from its own fit; null where it cannot be fitted. */
function refitDistance(sample: LifeSample, refit: (sample: LifeSample) => FittedModel): number | null {
  if (failureCount(sample) === 0) return null;
  try {
    return distanceOf(sample, refit(sample));
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}

function cannotBeJudged(failures: number): Warning {
  const few = failures < FAILURES_TO_JUDGE;
  const count = Math.round(10 * failures) / 10;
  return {
    code: 'cannot-be-judged',
    text: few
      ? `Whether the law fits cannot be judged: there are ${count} failures, and ${FAILURES_TO_JUDGE} are needed.`
      : 'Whether the law fits cannot be judged: most samples drawn from it have no fit of their own.',
    todo: 'Look at the lives on probability paper, and compare the answer under another law.',
  };
}

function verdictOf(fit: LifeFit, p: number): Warning {
  if (p > NOMINAL) {
    return {
      code: 'fits',
      text: `The lives agree with the ${fit.kind} law (p = ${localPrecision(p, 2)}).`,
      todo: 'Nothing; with few failures another law may agree as well.',
    };
  }
  return {
    code: 'does-not-fit',
    text: `The lives do not agree with the ${fit.kind} law (p = ${localPrecision(p, 2)}).`,
    todo: 'Look for two kinds of lives in one group, early leaks or a change of practice; else try another law.',
  };
}

function warningsOf(sample: LifeSample, drawn: number, fitted: number): Warning[] {
  const warnings: Warning[] = [];
  if (fitted < drawn) {
    warnings.push({
      code: 'bootstrap-unanswered',
      text: `${drawn - fitted} of ${drawn} samples drawn could not be fitted and are left out.`,
      todo: 'Take the result as rough.',
    });
  }
  if (hasClusters(sample)) {
    warnings.push({
      code: 'positions-repeat',
      text: 'Some positions have several lives; the test takes all lives as independent of each other.',
      todo: 'Ask for the spread between positions before another law is tried.',
    });
  }
  const { kind } = recordingOf(sample);
  if (kind === 'own') {
    warnings.push({
      code: 'own-inspections',
      text: 'Failures lie in intervals at ages of their own; samples are drawn with intervals as wide as these, wherever they fall.',
      todo: 'Take the result as rough where the intervals get wider or narrower with age.',
    });
  }
  if (kind === 'inspections') {
    warnings.push({
      code: 'common-inspections',
      text: 'Failures lie in intervals; samples are drawn as if every life were inspected at all of their ends.',
      todo: 'Take the result as rough where lives were inspected at ages of their own.',
    });
  }
  return warnings;
}
