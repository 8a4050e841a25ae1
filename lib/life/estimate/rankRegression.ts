/** A straight line through failures on probability paper. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { floatAt, sum } from '../../numeric/columns.js';
import { localNumber } from '../../numeric/localWords.js';
import { normalQuantile } from '../../numeric/special.js';
import { type FailureRanks, type RankKind, ranksOf } from '../empirical/ranks.js';
import type { LognormalModel, WeibullModel } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';

export interface RankFitOptions {
  kind: 'weibull' | 'lognormal';
  /** 'exact' median ranks by default. */
  ranks?: RankKind;
  /** 'age' (default): least squares of log age on rank, the scatter being in age. 'rank': of rank on log age. */
  regress?: 'age' | 'rank';
}

export interface RankFit {
  kind: 'weibull' | 'lognormal';
  model: WeibullModel | LognormalModel;
  /** Coefficient of determination of the line, from 0 to 1; 1 with two distinct ages, whatever they are. */
  r2: number;
  /** Failures, weights included. */
  failures: number;
  /** Lives, weights included. */
  lives: number;
  ranks: RankKind;
  regress: 'age' | 'rank';
  /** The points the line was drawn through. */
  points: FailureRanks;
  warnings: Warning[];
}

/**
 * Fits a Weibull or lognormal law by median rank regression (Abernethy, The New Weibull Handbook, ch. 2 and 5; IEC 61649;
 * from memory): least squares on paper where log age is one axis and log(-log(1 - rank)), for a lognormal the normal
 * quantile of rank, the other. Each point weighs as many failures as share its age; ranks, ties and censored lives as
 * in `failureRanks`. Scale and exp(mu) are in the unit of age.
 *
 * To set beside a line drawn by hand or an older analysis. `fitLife` uses what is known better, takes every kind of row and has
 * bounds: censored lives enter here by the order of ages only, not by the ages themselves.
 *
 * @throws UsageError with fewer than two distinct ages at failure, options that are none, rows without rank (see
 * `failureRanks`), and a line so flat that its scale is no finite number
 */
export function fitByRanks(sample: LifeSample, options: RankFitOptions): RankFit {
  const { kind, ranks = 'exact', regress = 'age' } = options;
  requireOptions(kind, regress);
  const points = ranksOf(sample, ranks, 'fitByRanks');
  requireLine(points);
  const line = lineThrough(points, kind, regress);
  const failures = sum(points.failed);
  return {
    kind,
    model: modelOf(kind, line),
    r2: line.r2,
    failures,
    lives: points.lives,
    ranks,
    regress,
    points,
    warnings: fewWarnings(failures),
  };
}

/** Log age = middle + spread y, y being the rank on its axis. */
interface Line {
  middle: number;
  spread: number;
  r2: number;
}

/** Weighted least squares, from the means, so that it does not depend on the unit of age. */
function lineThrough(points: FailureRanks, kind: RankFitOptions['kind'], regress: 'age' | 'rank'): Line {
  const { age, rank, failed } = points;
  const x = age.map(Math.log);
  const y = rank.map((p) => (kind === 'weibull' ? Math.log(-Math.log1p(-p)) : normalQuantile(p)));
  const [meanX, meanY] = [weightedMean(x, failed), weightedMean(y, failed)];
  let [xx, xy, yy] = [0, 0, 0];
  for (let k = 0; k < x.length; k++) {
    const [dx, dy, w] = [floatAt(x, k) - meanX, floatAt(y, k) - meanY, floatAt(failed, k)];
    xx += w * dx * dx;
    xy += w * dx * dy;
    yy += w * dy * dy;
  }
  const spread = regress === 'age' ? xy / yy : xx / xy;
  // Cut off at 1: what is above is rounding.
  return { middle: meanX - spread * meanY, spread, r2: Math.min(1, (xy / xx) * (xy / yy)) };
}

function weightedMean(column: Float64Array, weight: Float64Array): number {
  return sum(column.map((value, k) => value * floatAt(weight, k))) / sum(weight);
}

function modelOf(kind: RankFitOptions['kind'], { middle, spread }: Line): WeibullModel | LognormalModel {
  if (kind === 'lognormal') return { kind, mu: middle, sigma: spread };
  const scale = Math.exp(middle);
  if (!(scale > 0 && scale < Infinity)) {
    const rule =
      'the line is so flat that its scale is no finite number; use fitLife with `shape` or a `prior`.';
    throw new UsageError('fitByRanks', rule, `log scale ${middle}`);
  }
  return { kind, shape: 1 / spread, scale };
}

function requireOptions(kind: string, regress: string): void {
  if (kind !== 'weibull' && kind !== 'lognormal') {
    throw new UsageError('fitByRanks', 'kind must be weibull or lognormal; fitLife takes others.', kind);
  }
  if (regress !== 'age' && regress !== 'rank') {
    throw new UsageError('fitByRanks', 'regress must be age or rank.', regress);
  }
}

/** Ages count as distinct where their logarithms are, for it is these that the line is drawn through. */
function requireLine({ age, failed }: FailureRanks): void {
  if (new Set(age.map(Math.log)).size >= 2) return;
  const why =
    age.length === 0
      ? 'there are no failures'
      : sum(failed) === 1
        ? 'there is one failure only'
        : 'all failures are at one age';
  throw new UsageError(
    'fitByRanks',
    `a line needs failures at two ages or more, but ${why}; use fitLife with \`shape\` or a \`prior\`.`,
  );
}

function fewWarnings(failures: number): Warning[] {
  if (failures >= 5) return [];
  return [
    {
      code: 'few-failures',
      text: `The line rests on ${localNumber(Math.round(failures * 10) / 10)} failures and has no bounds.`,
      todo: 'Fit by maximum likelihood and read its bounds, or wait for more failures.',
    },
  ];
}
