/** Weibull lives with a failure-free time: profile likelihood over that time. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, itemAt } from '../../numeric/columns.js';
import { localPrecision } from '../../numeric/localWords.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import { mergeSample } from '../mergeSample.js';
import type { LifeSample } from '../sampleTypes.js';
import { afterFree, firstFailure } from './afterFree.js';
import { inUnit } from './fitLocationScale.js';
import { summaryOf } from './fitSummary.js';
import type { LifeFit, Parameter, ShapePrior } from './fitTypes.js';
import { lawLikelihood } from './lawLikelihood.js';
import { sharpen } from './sharpen.js';
import { maximiseWeibull, type WeibullMaximum } from './weibull/maximiseWeibull.js';
import { inverse } from './weibull/weibullDerivatives.js';
import { largestAge, prepareRows } from './weibull/weibullLikelihood.js';

/** Log likelihood that a failure-free time must gain to be seen: the 95 % point of half a chi-square on the edge (Self & Liang 1987). */
const GAIN_TO_BE_SEEN = 1.3528;

/** Best shape and scale after a failure-free time. */
interface Place {
  failureFree: number;
  top: WeibullMaximum;
  logLikelihood: number;
}

/**
 * Fits shape, scale and failure-free time (or the first two where the time is given as a number). With an exact first failure the
 * likelihood is without limit as the time goes to that failure with a shape below 1, and whole days only bound that rise (Cheng
 * & Traylor 1995, from memory). So a local maximum with a shape above 1 is chosen, or 0 where the likelihood falls from there;
 * the estimate exists in no other case. Precondition: an estimable sample, ages above the time given.
 * @throws UsageError where there is no such maximum, or a known failure at or before the time given
 */
export function fitFailureFree(
  sample: LifeSample,
  failureFree: 'estimate' | number,
  fixedShape: number | undefined,
  prior: ShapePrior | null,
): LifeFit {
  const unit = largestAge(sample);
  const rows = inUnit(mergeSample(sample), unit);
  const limit = firstFailure(rows);
  if (failureFree !== 'estimate') return fitGiven(sample, rows, unit, failureFree, limit, fixedShape, prior);
  const placeAt = profile(rows, fixedShape);
  const best = bestPlace(placeAt, limit);
  if (best === null) throw new UsageError('fitLife', whyNone(limit * unit));
  if (best.failureFree === 0)
    return { ...twoParameters(sample, unit, best, fixedShape, null), ...atZero(sample, fixedShape) };
  return withTime(sample, rows, unit, best, fixedShape, best.logLikelihood - placeAt(0).logLikelihood, limit);
}

function whyNone(first: number): string {
  return `the failure-free time cannot be estimated: the likelihood rises all the way to the earliest failure, by ${Number(first.toPrecision(6))}, where the shape is below 1, and there it has no limit but the width of the record. Give \`failureFree\` as a number or leave it out.`;
}

function profile(rows: LifeSample, fixedShape: number | undefined): (failureFree: number) => Place {
  let start: WeibullMaximum | undefined;
  return (failureFree) => {
    const { rows: later, constant } = afterFree(rows, failureFree);
    const prepared = prepareRows(later);
    const near = start === undefined ? undefined : maximiseWeibull(prepared, { fixedShape, start });
    const top = near?.converged ? near : maximiseWeibull(prepared, { fixedShape });
    if (top.converged) start = top;
    const logLikelihood = top.converged ? top.logLikelihood + constant : Number.NEGATIVE_INFINITY;
    return { failureFree, top, logLikelihood };
  };
}

/** The highest maximum with a shape above 1, or at 0 where the profile falls from there. */
function bestPlace(placeAt: (failureFree: number) => Place, limit: number): Place | null {
  const places = times(limit).map(placeAt);
  const value = (i: number): number => places[i]?.logLikelihood ?? Number.NEGATIVE_INFINITY;
  const found: Place[] = [];
  for (let i = 0; i < places.length - 1; i++) {
    if (!(value(i) >= value(i + 1) && (i === 0 || value(i) > value(i - 1)))) continue;
    const [low, high] = [itemAt(places, Math.max(i - 1, 0)), itemAt(places, i + 1)];
    const near = minimiseOnInterval((t) => -placeAt(t).logLikelihood, low.failureFree, high.failureFree, {
      relative: 1e-10,
    });
    const inside = placeAt(near.at);
    if (i === 0 && inside.logLikelihood <= value(0) + 1e-9) found.push(itemAt(places, 0));
    else if (inside.top.shape > 1) found.push(inside);
  }
  if (found.length === 0) return null;
  return found.reduce((best, place) => (place.logLikelihood > best.logLikelihood ? place : best));
}

/** Times to try: evenly from 0, and crowding towards the first failure. */
function times(limit: number): number[] {
  const even = Array.from({ length: 20 }, (_, k) => (k / 20) * limit);
  const late = Array.from({ length: 28 }, (_, k) => limit * (1 - 0.05 * 10 ** (-(k + 1) / 6)));
  return [...even, ...late];
}

/** All three estimated: the last digits and the covariance come from the likelihood of all three. */
function withTime(
  sample: LifeSample,
  rows: LifeSample,
  unit: number,
  best: Place,
  fixedShape: number | undefined,
  gain: number,
  limit: number,
): LifeFit {
  const free = fixedShape === undefined;
  const likelihood = lawLikelihood(rows);
  const modelAt = (x: readonly number[]) => ({
    kind: 'weibull' as const,
    shape: fixedShape ?? Math.exp(at(x, 2)),
    scale: Math.exp(at(x, 0)),
    failureFree: at(x, 1),
  });
  const target = (x: readonly number[]): number =>
    at(x, 1) >= 0 && at(x, 1) < limit ? -likelihood(modelAt(x)) : Infinity;
  const { shape, scale } = best.top;
  const start = [Math.log(scale), best.failureFree, ...(free ? [Math.log(shape)] : [])];
  // The likelihood bends by the distance from the first failure, and must not be asked below 0.
  const top = sharpen(target, start, (x) => {
    const bend = Math.min(
      0.02 * (limit - at(x, 1)),
      5e-3 * (Math.exp(at(x, 0)) / best.top.shape),
      0.4 * at(x, 1),
    );
    return [5e-3 / Math.max(shape, 1), bend, ...(free ? [5e-3] : [])];
  });
  if (!top.converged)
    throw new UsageError(
      'fitLife',
      'no best parameters were found: the likelihood is level along the failure-free time. Leave it out.',
    );
  return threeParameters(
    sample,
    unit,
    modelAt(top.at),
    top.covariance,
    gain,
    free,
    best.top.iterations + top.iterations,
  );
}

function threeParameters(
  sample: LifeSample,
  unit: number,
  inUnits: { shape: number; scale: number; failureFree: number },
  covariance: readonly number[],
  gain: number,
  free: boolean,
  iterations: number,
): LifeFit {
  // From log scale, time, log shape to log shape, log scale, time in the unit of age.
  const order = free ? [2, 0, 1] : [0, 1];
  const size = order.length;
  const factor = (j: number): number => (j === 1 ? unit : 1);
  const turned = order.flatMap((i) => order.map((j) => at(covariance, i * size + j) * factor(i) * factor(j)));
  const model = {
    kind: 'weibull' as const,
    shape: inUnits.shape,
    scale: inUnits.scale * unit,
    failureFree: inUnits.failureFree * unit,
  };
  const values: [string, number][] = [
    ['logShape', Math.log(model.shape)],
    ['logScale', Math.log(model.scale)],
    ['failureFree', model.failureFree],
  ];
  const summary = summaryOf(sample, !free, null);
  return {
    kind: 'weibull',
    model,
    logLikelihood: lawLikelihood(sample)(model),
    parameters: values.slice(free ? 0 : 1).map(
      ([name, estimate], i): Parameter => ({
        name,
        estimate,
        standardError: Math.sqrt(at(turned, i * size + i)),
      }),
    ),
    covariance: turned,
    ...summary,
    warnings: [...summary.warnings, ...timeWarnings(model.shape, gain)],
    converged: true,
    iterations,
    reason: 'the slopes vanish at a maximum with a shape above 1',
    failureFree: 'estimate',
  };
}

function timeWarnings(shape: number, gain: number): Warning[] {
  const warnings: Warning[] = [];
  if (gain < GAIN_TO_BE_SEEN) {
    warnings.push({
      code: 'failure-free-not-seen',
      text: `A failure-free time of 0 fits as well: the log likelihood is lower by ${localPrecision(gain, 2)} only (${GAIN_TO_BE_SEEN} would show one at 5 %).`,
      todo: 'Leave the failure-free time out unless there is a reason for one other than these data.',
    });
  }
  if (shape < 2) {
    warnings.push({
      code: 'failure-free-irregular',
      text: 'With a shape below 2 the estimate of a failure-free time follows the first failures only; standard errors do not hold (Smith 1985).',
      todo: 'Read likelihood bounds, not standard errors, and do not plan on the failure-free time.',
    });
  }
  return warnings;
}

/** What differs from a fit with a time given as 0. */
function atZero(
  sample: LifeSample,
  fixedShape: number | undefined,
): Pick<LifeFit, 'failureFree' | 'warnings' | 'reason'> {
  const { warnings } = summaryOf(sample, fixedShape !== undefined, null);
  return {
    failureFree: 'estimate',
    reason: 'the likelihood falls from a failure-free time of 0',
    warnings: [
      ...warnings,
      {
        code: 'failure-free-zero',
        text: 'The best failure-free time is 0: the data show none. It has no standard error on that edge.',
        todo: 'Leave the failure-free time out.',
      },
    ],
  };
}

function fitGiven(
  sample: LifeSample,
  rows: LifeSample,
  unit: number,
  failureFree: number,
  limit: number,
  fixedShape: number | undefined,
  prior: ShapePrior | null,
): LifeFit {
  const inUnits = failureFree / unit;
  if (inUnits >= limit) {
    throw new UsageError(
      'fitLife',
      `failureFree must be below the earliest failure (by ${limit * unit}).`,
      failureFree,
    );
  }
  const { rows: later, constant } = afterFree(rows, inUnits);
  if (later.lower.length === 0)
    throw new UsageError('fitLife', 'no life is older than failureFree.', failureFree);
  const top = maximiseWeibull(prepareRows(later), { fixedShape, prior });
  if (!top.converged) {
    throw new UsageError(
      'fitLife',
      `no best parameters were found: ${top.reason}. Give \`shape\` or a \`prior\`.`,
    );
  }
  const place = { failureFree: inUnits, top, logLikelihood: top.logLikelihood + constant };
  const fit = twoParameters(sample, unit, place, fixedShape, prior);
  return { ...fit, model: { ...fit.model, failureFree } as LifeFit['model'], failureFree: 'given' };
}

/** Shape and scale after a time that has no standard error. */
function twoParameters(
  sample: LifeSample,
  unit: number,
  { failureFree, top }: Place,
  fixedShape: number | undefined,
  prior: ShapePrior | null,
): LifeFit {
  const fixed = fixedShape !== undefined;
  const covariance = fixed ? [1 / top.information[2]] : inverse(top.information);
  const model = {
    kind: 'weibull' as const,
    shape: top.shape,
    scale: top.scale * unit,
    failureFree: failureFree * unit,
  };
  const se = (i: number): number => Math.sqrt(at(covariance, fixed ? 0 : 3 * i));
  const logScale = { name: 'logScale', estimate: Math.log(model.scale), standardError: se(1) };
  const logShape = { name: 'logShape', estimate: Math.log(model.shape), standardError: se(0) };
  return {
    kind: 'weibull',
    model,
    logLikelihood: lawLikelihood(sample)(model),
    parameters: fixed ? [logScale] : [logShape, logScale],
    covariance,
    ...summaryOf(sample, fixed, prior),
    converged: true,
    iterations: top.iterations,
    reason: top.reason,
  };
}
