/** Is every life a fresh draw from one law, or do lives get shorter (or longer) as time goes on? */
import { UsageError } from '../errors.js';
import { fitRegression } from '../life/estimate/regression/fitRegression.js';
import type { RegressionFit, RegressionOptions } from '../life/estimate/regression/types.js';
import { failureCount, isFailure } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at } from '../numeric/columns.js';
import { normalCdf, normalQuantile } from '../numeric/special.js';
import { amount, pValueWords } from '../numeric/words.js';

/** Below so many failures a trend of lives cannot be told from chance. */
const FEWEST_FAILURES = 10;
/** Nor with fewer positions: the sandwich rests on them, and with one of them it is 0. */
const FEWEST_POSITIONS = 10;
const DAYS_PER_YEAR = 365.25;

export interface RenewalOptions {
  /** Law of the lives; Weibull by default. */
  kind?: RegressionOptions['kind'];
  /** Chance of calling a renewal process something else; 0.05 by default. */
  alpha?: number;
}

/** Lives with the day on which each was fitted; `sample.cluster` says which position each belongs to. */
export interface FittedLives {
  sample: LifeSample;
  /** Days on any count, such as days since 1970-01-01. */
  fitted: ArrayLike<number>;
  /** 1 for the first life of a position, 2 for the next; by default the order of fitting within the lives given. */
  lifeNumber?: ArrayLike<number>;
  /**
   * Lives are compared within groups of one level of life each (material, size, duty), by number; one group by default. The spread of log
   * life is taken to be the same in all.
   */
  group?: ArrayLike<number>;
}

export interface LifeTrend {
  by: 'fitting date' | 'life number';
  /** Times as long per year of fitting date, or per life: 0.9 says a tenth shorter. */
  ratio: number;
  /** 90 % bounds, position-robust. */
  low: number;
  high: number;
  pValue: number;
}

export interface RenewalVerdict {
  /** 'renewal' says that no trend of lives was found, not that there is none: read the bounds. */
  verdict: 'renewal' | 'trend' | 'cannot tell';
  /** The trends that could be tested, by what. */
  trends: LifeTrend[];
  /** Smallest p over the trends tested, times their number (Bonferroni); null where none could be. */
  pValue: number | null;
  /** The finding in a sentence. */
  words: string;
}

/**
 * METHODS 3.3: regression of log life on fitting date, and on life number within the position, each alone, with censoring and
 * delayed entry kept and the covariance robust by position. Ages are compared, not event times: tests of event times test a constant
 * rate and reject a renewal process of parts that wear out (see `trendTests`).
 * @throws UsageError for columns as long as no sample, dates that are not numbers, and life numbers below 1
 */
export function renewalVerdict(lives: FittedLives, options: RenewalOptions = {}): RenewalVerdict {
  const { kind = 'weibull', alpha = 0.05 } = options;
  if (!(alpha > 0 && alpha < 1))
    throw new UsageError('renewalVerdict', 'alpha must be between 0 and 1.', alpha);
  const { sample } = lives;
  const years = numbers(lives.fitted, sample, 'fitted').map((day) => day / DAYS_PER_YEAR);
  const number = lives.lifeNumber ? numbers(lives.lifeNumber, sample, 'lifeNumber') : order(sample, years);
  if (number.some((life) => life < 1)) {
    throw new UsageError('renewalVerdict', 'lifeNumber must be 1 or more.', Math.min(...number));
  }
  const why = tooFew(sample);
  if (why !== null) return cannotTell(why);
  const told = withinGroups(sample, lives.group && numbers(lives.group, sample, 'group'));
  const tried = [trendOf(told, years, 'fitting date', kind), trendOf(told, number, 'life number', kind)];
  const trends = tried.filter((trend) => typeof trend === 'object');
  if (trends.length === 0) return cannotTell([...new Set(tried)].join('; '));
  const pValue = Math.min(1, trends.length * Math.min(...trends.map((trend) => trend.pValue)));
  const worst = trends.reduce((a, b) => (b.pValue < a.pValue ? b : a));
  const verdict = pValue < alpha ? 'trend' : 'renewal';
  return { verdict, trends, pValue, words: wordsOf(verdict, worst, pValue) };
}

function tooFew(sample: LifeSample): string | null {
  if (failureCount(sample) < FEWEST_FAILURES) return `fewer than ${FEWEST_FAILURES} lives ended in failure`;
  const apart = sample.cluster.reduce((n, cluster, i) => n + (cluster < 0 ? at(sample.count, i) : 0), 0);
  const positions = new Set(sample.cluster.filter((cluster) => cluster >= 0)).size + apart;
  return positions < FEWEST_POSITIONS ? `there are fewer than ${FEWEST_POSITIONS} positions` : null;
}

/** Lives that say something of a trend, by their rows in what was given; `group` where there are two with failures. */
interface Told {
  sample: LifeSample;
  rows: Int32Array;
  group: string[] | null;
}

function withinGroups(sample: LifeSample, group: Float64Array | undefined): Told {
  const all = Int32Array.from(sample.lower.keys());
  if (group === undefined) return { sample, rows: all, group: null };
  const failed = new Set(group.filter((_, i) => isFailure(sample, i) && at(sample.count, i) > 0));
  const rows = all.filter((i) => failed.has(at(group, i)));
  const { lower, upper, entry, count, cluster } = sample;
  const columnOf = (column: Float64Array): Float64Array => Float64Array.from(rows, (i) => at(column, i));
  const kept = {
    lower: columnOf(lower),
    upper: columnOf(upper),
    entry: columnOf(entry),
    count: columnOf(count),
    cluster: Int32Array.from(rows, (i) => at(cluster, i)),
  };
  const names = failed.size < 2 ? null : Array.from(rows, (i) => String(at(group, i)));
  return { sample: kept, rows, group: names };
}

/** The trend, or why there is none to test. */
function trendOf(
  { sample, rows, group }: Told,
  whole: Float64Array,
  by: LifeTrend['by'],
  kind: RegressionOptions['kind'],
): LifeTrend | string {
  const column = Float64Array.from(rows, (i) => at(whole, i));
  if (column.every((value) => value === column[0])) return `all lives have one ${by}`;
  const fit = triedFit(sample, column, group, kind);
  if (fit === null) return `the lives that failed are parted from the others by their ${by}`;
  const slope = fit.coefficients.trend as number;
  const error = fit.standardErrors.trend as number;
  if (!(error > 0)) return `lives by ${by} do not scatter`;
  const width = normalQuantile(0.95) * error;
  return {
    by,
    ratio: Math.exp(slope),
    low: Math.exp(slope - width),
    high: Math.exp(slope + width),
    pValue: 2 * normalCdf(-Math.abs(slope / error)),
  };
}

/** What a fit says of data that hold no trend. */
const NO_TREND = /runs away|no single best|follows from|beyond what numbers|do not hold/;

/** Null where the likelihood has no top. */
function triedFit(
  sample: LifeSample,
  trend: Float64Array,
  group: string[] | null,
  kind: RegressionOptions['kind'],
): RegressionFit | null {
  const options = { kind, covariance: 'robust' } as const;
  try {
    return group === null
      ? fitRegression(sample, { trend }, options)
      : fitRegression(sample, { group, trend }, { ...options, failuresPerCoefficient: 0 });
  } catch (error) {
    if (error instanceof UsageError && NO_TREND.test(error.message)) return null;
    throw error;
  }
}

/** Life number within the position by order of fitting; a row that stands for lives of their own is the first of its. */
function order(sample: LifeSample, years: Float64Array): Float64Array {
  const rows = [...years.keys()].sort((i, j) => at(years, i) - at(years, j));
  const seen = new Map<number, number>();
  const out = new Float64Array(years.length).fill(1);
  for (const i of rows) {
    const cluster = at(sample.cluster, i);
    if (cluster < 0) continue;
    const number = (seen.get(cluster) ?? 0) + 1;
    seen.set(cluster, number);
    out[i] = number;
  }
  return out;
}

function numbers(column: ArrayLike<number>, sample: LifeSample, name: string): Float64Array {
  if (column.length !== sample.lower.length) {
    const rule = `${name} must be as long as the sample (${sample.lower.length}).`;
    throw new UsageError('renewalVerdict', rule, column.length);
  }
  return Float64Array.from(column, (value: unknown, i) => {
    if (typeof value === 'number' && Number.isFinite(value)) return value;
    throw new UsageError('renewalVerdict', `row ${i + 1}: ${name} must be a finite number.`, value);
  });
}

function cannotTell(why: string): RenewalVerdict {
  return {
    verdict: 'cannot tell',
    trends: [],
    pValue: null,
    words: `Whether lives change cannot be told: ${why}.`,
  };
}

function wordsOf(verdict: 'renewal' | 'trend', { by, ratio, low, high }: LifeTrend, pValue: number): string {
  const per = by === 'fitting date' ? 'per year of fitting date' : 'from one life of a position to the next';
  const size = `${amount(ratio, 2)} times as long ${per} (90 % bounds ${amount(low, 2)} to ${amount(high, 2)}, ${pValueWords(pValue)})`;
  if (verdict === 'trend') return `Lives change: they last ${size}.`;
  return `No change of lives was found; the largest sign of one is ${size}.`;
}
