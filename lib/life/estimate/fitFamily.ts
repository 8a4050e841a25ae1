/** Gamma, generalised gamma and smallest value lives by maximum likelihood. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, itemAt } from '../../numeric/columns.js';
import { multiply } from '../../numeric/matrix.js';
import { type MinimumOfMany, minimiseSimplex, minimiseSmooth } from '../../numeric/minimise.js';
import { lifeVariance, meanLife } from '../distribution/functions.js';
import { mergeSample } from '../mergeSample.js';
import type { FittedModel, WeibullModel } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';
import { fitLocationScale, inUnit } from './fitLocationScale.js';
import { summaryOf } from './fitSummary.js';
import type { LifeFit } from './fitTypes.js';
import { lawLikelihood, lawLikelihoods, MANY_AGES } from './lawLikelihood.js';
import { type Sharpened, sharpen } from './sharpen.js';
import { maximiseWeibull } from './weibull/maximiseWeibull.js';
import { largestAge, prepareRows } from './weibull/weibullLikelihood.js';

export type FamilyKind = 'gamma' | 'generalisedGamma' | 'smallestValue';

/** What the search needs of a family; x are its own coordinates, ages in units of the largest one. */
interface Family {
  /** The model at x; null beyond what the search may look at. */
  model(x: readonly number[]): FittedModel | null;
  starts(rows: LifeSample): number[][];
  /** Units in which the likelihood bends at x. */
  units(x: readonly number[]): number[];
  /** Width of log age over which hazards are smooth, as the deviation of log life is where the law is not very skew. */
  spread(x: readonly number[]): number;
  /** Why a top at x is none, or null. */
  refuses(x: readonly number[]): string | null;
  /** Names of the parameters reported, and the slopes of these by x, row by row. */
  names: string[];
  slopes(unit: number): number[];
  parameters(x: readonly number[], unit: number): number[];
  modelOf(parameters: readonly number[]): FittedModel;
}

/**
 * Fits one of the three families. Precondition: an estimable sample. The likelihood is that of METHODS 1.2; for
 * smallest values the law's share below age 0 belongs to the failures (it counts in the chance to have failed by an age, a life
 * watched from new divides by nothing), which is the likelihood of R's survreg with dist = "extreme" on ages as they are.
 * @throws UsageError where the likelihood rises without limit
 */
export function fitFamily(sample: LifeSample, kind: FamilyKind): LifeFit {
  const family = FAMILIES[kind];
  const unit = largestAge(sample);
  const rows = inUnit(mergeSample(sample), unit);
  const starts = family.starts(rows);
  const found = quickTop(rows, kind, starts) ?? topOf(family, starts, lawLikelihood(rows));
  if (found.why === null) return resultOf(sample, kind, unit, found.top, found.refusal);
  throw new UsageError('fitLife', `no best parameters were found: ${found.why}.`, kind);
}

/** The best maximum that is none of those refused; or `why` there is none. */
interface Found {
  top: Sharpened;
  why: string | null;
  /** Why a higher end was refused. */
  refusal: string | null;
}

function topOf(family: Family, starts: number[][], likelihood: (model: FittedModel) => number): Found {
  const target: Target = (x) => {
    const model = family.model(x);
    return model === null ? Infinity : -likelihood(model);
  };
  let refusal: string | null = null;
  let last: Sharpened = { at: [], covariance: [], converged: false, iterations: 0 };
  // By Newton's method where a start is in the bowl already; a search without slopes where none is.
  for (const descend of [descendQuickly, descendSlowly]) {
    const ends = starts.flatMap((start) => descend(target, start, family.units(start)));
    ends.sort((one, other) => one.value - other.value);
    for (const end of ends) {
      const top = sharpen(target, end.at, (x) => family.units(x).map((u) => 5e-3 * u));
      const why = family.refuses(top.at) ?? (top.converged ? null : LEVEL);
      last = { ...top, iterations: top.iterations + end.iterations };
      if (why === null) return { top: last, why, refusal };
      refusal ??= why;
    }
  }
  return { top: last, why: refusal ?? LEVEL, refusal };
}

/** Relative difference of two log likelihoods that are the same but for rounding. */
const ROUNDING = 1e-11;

/**
 * The top by nodes instead of many ages; null where there are few, where there is no such top, or where nodes and ages do not give the
 * same at it and beside it. Cells are as wide as the deviation of log life: first by the starts, then by what was found.
 */
function quickTop(rows: LifeSample, kind: FamilyKind, starts: number[][]): Found | null {
  const family = FAMILIES[kind];
  if (kind === 'smallestValue' || rows.lower.length <= MANY_AGES) return null;
  const ready = lawLikelihoods(rows);
  const first = topOf(family, starts, ready(Math.min(...starts.map(family.spread))));
  if (first.why !== null) return null;
  const likelihood = ready(family.spread(first.top.at));
  const found = topOf(family, [first.top.at], likelihood);
  const slow = ready();
  const agrees = (x: readonly number[]): boolean => {
    const model = family.model(x);
    if (model === null) return false;
    const exact = slow(model);
    return Math.abs(likelihood(model) - exact) <= ROUNDING * (1 + Math.abs(exact));
  };
  const beside = found.top.at.map((value, i) => value + 0.02 * at(family.units(found.top.at), i));
  const sound = found.why === null && agrees(found.top.at) && agrees(beside);
  return sound ? { ...found, refusal: first.refusal ?? found.refusal } : null;
}

const LEVEL = 'the likelihood rises without limit, or is level, along some of them';

type Target = (x: readonly number[]) => number;

function descendQuickly(target: Target, start: number[], units: number[]): MinimumOfMany[] {
  const steps = units.map((u) => 0.02 * u);
  const end = minimiseSmooth(target, start, steps);
  return end.converged ? [end] : [];
}

function descendSlowly(target: Target, start: number[], units: number[]): MinimumOfMany[] {
  const step = units.map((u) => 0.3 * u);
  return [minimiseSimplex(target, start, { step, tolerance: 1e-10, maxIterations: 600 })];
}

function resultOf(
  sample: LifeSample,
  kind: FamilyKind,
  unit: number,
  top: Sharpened,
  elsewhere: string | null,
): LifeFit {
  const family = FAMILIES[kind];
  const summary = summaryOf(sample, false, null);
  const values = family.parameters(top.at, unit);
  const model = family.modelOf(values);
  const covariance = carried(top.covariance, family.slopes(unit), values.length);
  return {
    kind,
    model,
    logLikelihood: lawLikelihood(sample)(model),
    parameters: values.map((estimate, i) => ({
      name: itemAt(family.names, i),
      estimate,
      standardError: Math.sqrt(at(covariance, i * values.length + i)),
    })),
    covariance,
    ...summary,
    warnings: elsewhere === null ? summary.warnings : [...summary.warnings, risesElsewhere(elsewhere)],
    converged: true,
    iterations: top.iterations,
    reason: 'the slopes vanish at a maximum',
  };
}

function risesElsewhere(why: string): Warning {
  return {
    code: 'likelihood-rises-elsewhere',
    text: `This is the best of the laws that exist, but far from it ${why}.`,
    todo: 'Use a family with two parameters, or gather more failures.',
  };
}

/** Covariance of linear functions of the coordinates: J C J'. */
function carried(covariance: readonly number[], slopes: readonly number[], size: number): number[] {
  const turned = slopes.map((_, k) => at(slopes, (k % size) * size + Math.floor(k / size)));
  return multiply(multiply(slopes, covariance, size), turned, size);
}

const sound = (x: readonly number[], limits: readonly number[]): boolean =>
  x.every((value, i) => Math.abs(value) <= at(limits, i));

/** x = log mean, log of the spread shape^(-1/2). */
const gammaFamily: Family = {
  model: (x) => (sound(x, [600, 16]) ? gammaFamily.modelOf(gammaFamily.parameters(x, 1)) : null),
  starts(rows) {
    const weibull = weibullOf(rows);
    const spread = Math.sqrt(lifeVariance(weibull)) / meanLife(weibull);
    return [[Math.log(meanLife(weibull)), Math.log(Math.min(Math.max(spread, 1e-6), 20))]];
  },
  units: (x) => [Math.min(Math.exp(at(x, 1)), 1), 1],
  spread: (x) => Math.min(Math.exp(at(x, 1)), 1),
  refuses: (x) =>
    Math.abs(at(x, 1)) > 15
      ? `the likelihood rises without limit as the shape ${at(x, 1) > 0 ? 'falls' : 'grows'}`
      : null,
  names: ['logShape', 'logScale'],
  slopes: () => [0, -2, 1, 2],
  parameters: (x, unit) => [-2 * at(x, 1), at(x, 0) + 2 * at(x, 1) + Math.log(unit)],
  modelOf: ([logShape = 0, logScale = 0]) => ({
    kind: 'gamma',
    shape: Math.exp(logShape),
    scale: Math.exp(logScale),
  }),
};

/** Skews beyond this are taken as "rises without limit": the law is by then a power of age that ends at once. */
const MOST_SKEW = 12;

/** x = mu, log sigma, q. From the best Weibull (q = 1) and from the best lognormal (q = 0). */
const generalisedGammaFamily: Family = {
  model: (x) => (sound(x, [600, 16, 1.5 * MOST_SKEW]) ? generalisedGammaFamily.modelOf(x) : null),
  starts(rows) {
    const { shape, scale } = weibullOf(rows);
    const lognormal = lognormalOf(rows) ?? [Math.log(scale), -Math.log(shape)];
    return [
      [Math.log(scale), -Math.log(shape), 1],
      [...lognormal, 0.1],
    ];
  },
  units: (x) => [Math.exp(at(x, 1)), 1, 1],
  spread: (x) => Math.exp(at(x, 1)) / Math.max(1, Math.abs(at(x, 2))),
  refuses: ([, logSigma = 0, q = 0]) => {
    if (Math.abs(q) > MOST_SKEW) return `the likelihood keeps rising as q ${q > 0 ? 'grows' : 'falls'}`;
    return Math.abs(logSigma) > 15 ? 'the likelihood rises without limit with sigma' : null;
  },
  names: ['mu', 'logSigma', 'q'],
  slopes: () => [1, 0, 0, 0, 1, 0, 0, 0, 1],
  parameters: (x, unit) => [at(x, 0) + Math.log(unit), at(x, 1), at(x, 2)],
  modelOf: ([mu = 0, logSigma = 0, q = 0]) => ({
    kind: 'generalisedGamma',
    mu,
    sigma: Math.exp(logSigma),
    q,
  }),
};

/** x = location, log scale. Locations at or below 0 are searched too, and then refused: the model has none. */
const smallestValueFamily: Family = {
  model: (x) => (sound(x, [1e6, 20]) && at(x, 0) > 0 ? smallestValueFamily.modelOf(x) : null),
  starts(rows) {
    const { shape, scale } = weibullOf(rows);
    return [[scale, Math.log(Math.min(scale / shape, 1))]];
  },
  units: (x) => [Math.min(Math.exp(at(x, 1)), 10 * at(x, 0)), 1],
  spread: (x) => Math.exp(at(x, 1)),
  refuses: ([location = 0, logScale = 0]) => {
    if (!(location > 1e-6)) return 'the best location is not above age 0, so the law does not suit lives';
    return Math.abs(logScale) > 15
      ? `the likelihood rises without limit as the scale ${logScale > 0 ? 'grows' : 'falls'}`
      : null;
  },
  names: ['location', 'logScale'],
  slopes: (unit) => [unit, 0, 0, 1],
  parameters: (x, unit) => [at(x, 0) * unit, at(x, 1) + Math.log(unit)],
  modelOf: ([location = 0, logScale = 0]) => ({ kind: 'smallestValue', location, scale: Math.exp(logScale) }),
};

const FAMILIES: Record<FamilyKind, Family> = {
  gamma: gammaFamily,
  generalisedGamma: generalisedGammaFamily,
  smallestValue: smallestValueFamily,
};

/** The best Weibull, or where none is a modest one: a start, no result. */
function weibullOf(rows: LifeSample): WeibullModel {
  const top = maximiseWeibull(prepareRows(rows));
  const good = top.converged && top.scale > 1e-100 && top.scale < 1e100;
  return good
    ? { kind: 'weibull', shape: top.shape, scale: top.scale }
    : { kind: 'weibull', shape: 1, scale: 1 };
}

function lognormalOf(rows: LifeSample): number[] | null {
  try {
    const { model } = fitLocationScale(rows, 'lognormal', null);
    return model.kind === 'lognormal' ? [model.mu, Math.log(model.sigma)] : null;
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}
