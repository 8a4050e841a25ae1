/** How life depends on covariates that change during it: cumulative exposure over histories in steps. */
import { UsageError } from '../../../errors.js';
import { invertArrow } from '../../../numeric/arrow.js';
import { at, columnOf, floatAt, itemAt, sum } from '../../../numeric/columns.js';
import { listed } from '../../../numeric/words.js';
import { failureCount, hasClusters, isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { maximiseOnScale, type ScaleProblem, scoresOnScale } from '../regression/ageScale.js';
import { arrange } from '../regression/arrange.js';
import {
  asGiven,
  requireHeld,
  requireKnownCauses,
  requireNumbers,
  requireTop,
  tableOf,
  turn,
  warningsOf,
} from '../regression/coefficients.js';
import { sandwich } from '../regression/covariance.js';
import { coefficientNames, isLevelTerm, readDesign } from '../regression/design.js';
import { DEFAULT_FAILURES_PER_COEFFICIENT } from '../regression/fitRegression.js';
import type { Maximum } from '../regression/newton.js';
import { requireApart, requireFew } from '../regression/requireEstimable.js';
import { prepareRegression } from '../regression/rows.js';
import { standardLaw } from '../regression/standardLaw.js';
import { startAt } from '../regression/start.js';
import type { Design, RegressionLaw, RegressionOptions } from '../regression/types.js';
import { type ExposureSteps, lastAge, readSteps, type SortedSteps } from './readSteps.js';
import { steppedScale } from './steppedScale.js';

const WHERE = 'fitSteppedExposure';

/** As for `fitRegression`; the spread is common to all. */
export type SteppedOptions = Omit<RegressionOptions, 'shapeBy'>;

/** Coefficients and all else as of `fitRegression`: `predictLife` and `relativeLife` take it, for covariates that stay the same. */
export interface SteppedFit extends RegressionLaw {
  /** As given. */
  sample: LifeSample;
}

/**
 * Regression of life on covariates that change in steps, by maximum likelihood. A step with x b wears exp(-x b) times as fast as one
 * at 0: transformed age z is the sum of exp(-x b) times the time in each step, and log z is the intercept plus sigma times an error.
 * Only what was used up so far counts, not in which order (Nelson 1990 ch. 10, cumulative exposure; Robins & Tsiatis 1992,
 * accelerated failure time with covariates that vary; from memory). Where nothing changes it is `fitRegression`. Takes every kind
 * of censoring, delayed entry (with the history before it) and counts.
 *
 * @throws UsageError for what `fitRegression` refuses, for steps that make no sense (step or life named), and for a level in which no
 * life that failed spent time
 */
export function fitSteppedExposure(
  sample: LifeSample,
  steps: ExposureSteps,
  options: SteppedOptions,
): SteppedFit {
  requireKnownCauses(WHERE, sample);
  const sorted = readSteps(sample, steps);
  const { design, columns: read } = named(() =>
    readDesign(sorted.covariates, sorted.from.length, plainOptions(options)),
  );
  const spreads = options.kind === 'exponential' ? 0 : 1;
  const names = named(() => coefficientNames(design, spreads === 0));
  const once = new Float64Array(sorted.from.length).fill(1);
  const arranged = arrange(design, read, once, names.length, false);
  named(() => {
    requireFailed(sample, sorted, design);
    requireFew(
      design,
      failureCount(sample),
      options.failuresPerCoefficient ?? DEFAULT_FAILURES_PER_COEFFICIENT,
    );
    requireApart(design, read, once, arranged);
  });
  const { columns } = arranged.standard;
  const { problem, starts } = prepared(sample, sorted, columns, options, spreads);
  const top = best(problem, starts);
  requireTop(WHERE, top, names, arranged);
  const robust = options.covariance === undefined ? hasClusters(sample) : options.covariance === 'robust';
  const plain = invertArrow(top.information);
  requireHeld(WHERE, plain, names);
  const scores = scoresOnScale(problem, top.theta);
  const used = robust ? sandwich(scores, plain, names.length, sample) : plain;
  const turned = (matrix: readonly number[]): number[] => turn(arranged.back, matrix, names.length);
  const plainCovariance = turned(plain);
  requireNumbers(WHERE, plainCovariance, names);
  return {
    kind: options.kind,
    ...tableOf(names, asGiven(top.theta, arranged.back, 0), turned(used)),
    robust,
    plainCovariance,
    logLikelihood: top.value,
    aic: 2 * names.length - 2 * top.value,
    failures: failureCount(sample),
    lives: sum(sample.count),
    converged: top.converged,
    iterations: top.iterations,
    reason: top.reason,
    warnings: warningsOf(sample, robust, names.length),
    design,
    sample,
  };
}

/** Starts: as if each life had had its mean covariates all along, and as if covariates did nothing. */
function prepared(
  sample: LifeSample,
  steps: SortedSteps,
  columns: readonly Float64Array[],
  { kind }: SteppedOptions,
  spreads: number,
): { problem: ScaleProblem; starts: number[][] } {
  const law = standardLaw(kind);
  const scale = steppedScale(sample, steps, columns);
  const group = new Int32Array(sample.lower.length);
  const means = columns.map((column) => meanOverLife(sample, steps, column));
  const starts = [means, []].map((x) => {
    const rows = prepareRegression(sample, x, group);
    const theta = startAt({ law, rows, spreads });
    const [mu = 0, ...rest] = theta;
    const slopes = x.length === 0 ? columns.map(() => 0) : rest.slice(0, columns.length);
    return [mu + rows.centre, ...slopes, ...rest.slice(x.length)];
  });
  const { kind: kinds } = prepareRegression(sample, [], group);
  const late = Uint8Array.from(sample.entry, (entry) => (entry > 0 ? 1 : 0));
  return { problem: { law, scale, kind: kinds, late, count: sample.count, spreads }, starts };
}

/** The better of the searches from each start. */
function best(problem: ScaleProblem, starts: readonly number[][]): Maximum {
  const tops = starts.map((start) => maximiseOnScale(problem, start));
  return tops.reduce((a, b) => {
    if (a.converged !== b.converged) return a.converged ? a : b;
    return b.value > a.value + 1e-9 * Math.abs(a.value) ? b : a;
  });
}

function meanOverLife(sample: LifeSample, { first, from }: SortedSteps, column: Float64Array): Float64Array {
  return columnOf(sample.lower, (_, i) => {
    const end = lastAge(sample, i);
    const start = at(first, i);
    if (end === 0) return floatAt(column, start);
    let total = 0;
    for (let k = start; k < at(first, i + 1); k++) {
      const until = k + 1 < at(first, i + 1) ? Math.min(floatAt(from, k + 1), end) : end;
      total += (until - floatAt(from, k)) * floatAt(column, k);
    }
    return total / end;
  });
}

function requireFailed(sample: LifeSample, { covariates, life }: SortedSteps, design: Design): void {
  if (failureCount(sample) === 0) {
    throw new UsageError(WHERE, 'there are no failures, so no effect can be estimated. Wait for some.');
  }
  for (const term of design.terms.filter(isLevelTerm)) {
    const column = covariates[term.name] as readonly string[];
    const failed = new Set(column.filter((_, k) => isFailure(sample, at(life, k))));
    const without = term.levels.filter((level) => !failed.has(level));
    if (without.length === 0) continue;
    const names = listed(without.map((level) => `${term.name}=${level}`));
    const rule = `no life that failed spent time with ${names}, so its effect is without limit. Join it with a like level, or leave its lives out.`;
    throw new UsageError(WHERE, rule);
  }
}

/** Refusals of the parts that it shares with `fitRegression`, in its own name; what these call a row is a step. */
function named<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    const [, ...rule] = error.message.split(': ');
    throw new UsageError(WHERE, rule.join(': ').replace(/^row (\d+)/, 'step $1 (by life and age)'));
  }
}

function plainOptions({ ...options }: RegressionOptions): RegressionOptions {
  if ((options.shapeBy ?? []).length > 0) {
    const rule = 'the spread is common to all lives: shapeBy is not taken.';
    throw new UsageError(WHERE, rule, itemAt(options.shapeBy ?? [], 0));
  }
  return options;
}
