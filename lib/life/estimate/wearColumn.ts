/**
 * The log-likelihood of Weibull wear-out, with the fitting-fault law held fixed, one shape at a time.
 *
 * At a fixed shape k let u = scale^-k. A row's log-likelihood is then
 *
 *     -u (lower^k - entry^k) + log(q(end) / q(entry)) + log(d + 1 - exp(-w u))
 *
 * with w = upper^k - lower^k, q(t) = 1 - share Fe(t) and d = q(lower) / q(upper) - 1; the last term is absent where
 * nothing failed. So the powers are taken once a shape, lives that did not fail collapse into one number, and every
 * scale after that costs a few multiplications per distinct leak. (METHODS 1.2 and 3.1; algebra our own.)
 */
import { at } from '../../numeric/columns.js';
import type { FittingFault } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';

/** Limits inside which shapes and scales are looked for. Ages are days; nothing lasts half a day or 27 000 years. */
export const LOG_SHAPE_LIMITS: readonly [number, number] = [Math.log(0.2), Math.log(30)];
export const LOG_SCALE_LIMITS: readonly [number, number] = [Math.log(0.5), Math.log(1e7)];

/** A leak as half of a life's weight keeps the best scale finite where nothing leaked. */
const NUDGE = 0.5;
const SMALL = 0.05;

/** A sample made ready: distinct ages with their net counts, and the rows that failed. */
export interface WearRows {
  /** Distinct ages (logs) that enter -u * sum(count * age^k): end of watching, or entry with a minus sign. */
  logAge: Float64Array;
  netCount: Float64Array;
  /** Rows that failed. `logRatio` is log(upper / lower), Infinity where lower is 0, and NaN for an exact age. */
  logUpper: Float64Array;
  logRatio: Float64Array;
  count: Float64Array;
  /** d of the formula above; for an exact age share fe(t) / q(t). */
  faultPart: Float64Array;
  /** Sum of the terms that hold neither shape nor scale. */
  constant: number;
  /** Weight of the rows that failed. */
  failures: number;
  /** Weight of all rows. */
  lives: number;
}

/** The log-likelihood at one shape, and the log scale at which it is best. */
export interface WearColumn {
  logLikelihood(logScale: number): number;
  /** Best log scale, inside the limits; `nudged` adds half a leak, so that it is finite without any. */
  bestLogScale(nudged: boolean): number;
}

/** Preconditions: rows as `lifeSample` checks them. */
export function wearRows(sample: LifeSample, fault?: FittingFault): WearRows {
  const net = new Map<number, number>();
  const addAge = (age: number, count: number): void => {
    if (age > 0) net.set(age, (net.get(age) ?? 0) + count);
  };
  const failed: number[] = [];
  let constant = 0;
  let lives = 0;
  for (let i = 0; i < sample.lower.length; i++) {
    const entry = at(sample.entry, i);
    const lower = Math.max(at(sample.lower, i), entry);
    const upper = at(sample.upper, i);
    const count = at(sample.count, i);
    const end = upper === Infinity ? lower : upper;
    addAge(lower, count);
    addAge(entry, -count);
    constant += count * (logSound(fault, end) - logSound(fault, entry));
    lives += count;
    if (upper !== Infinity && count > 0) failed.push(i);
  }
  const ages = [...net].filter(([, count]) => Math.abs(count) > 1e-12).sort((a, b) => a[0] - b[0]);
  const lowerOf = (i: number): number => Math.max(at(sample.lower, i), at(sample.entry, i));
  return {
    logAge: Float64Array.from(ages, ([age]) => Math.log(age)),
    netCount: Float64Array.from(ages, ([, count]) => count),
    logUpper: Float64Array.from(failed, (i) => Math.log(at(sample.upper, i))),
    logRatio: Float64Array.from(failed, (i) => logRatio(lowerOf(i), at(sample.upper, i))),
    count: Float64Array.from(failed, (i) => at(sample.count, i)),
    faultPart: Float64Array.from(failed, (i) => faultPart(fault, lowerOf(i), at(sample.upper, i))),
    constant,
    failures: failed.reduce((total, i) => total + at(sample.count, i), 0),
    lives,
  };
}

function logRatio(lower: number, upper: number): number {
  if (lower === upper) return Number.NaN;
  return lower === 0 ? Infinity : Math.log(upper / lower);
}

/** Share of faulty fittings that have leaked by an age. */
function faultyShare(fault: FittingFault, age: number): number {
  return age <= 0 ? 0 : -Math.expm1(-((age / fault.scale) ** fault.shape));
}

function logSound(fault: FittingFault | undefined, age: number): number {
  return fault === undefined ? 0 : Math.log1p(-fault.share * faultyShare(fault, age));
}

function faultPart(fault: FittingFault | undefined, lower: number, upper: number): number {
  if (fault === undefined || fault.share === 0) return 0;
  const sound = 1 - fault.share * faultyShare(fault, upper);
  if (lower !== upper) {
    const left = (age: number): number => (age <= 0 ? 1 : Math.exp(-((age / fault.scale) ** fault.shape)));
    return (fault.share * (left(lower) - left(upper))) / sound;
  }
  const power = (upper / fault.scale) ** fault.shape;
  return (fault.share * (fault.shape / upper) * power * Math.exp(-power)) / sound;
}

/** The log-likelihood at one shape as a function of the log scale. */
export function wearColumn(rows: WearRows, logShape: number): WearColumn {
  const shape = Math.exp(logShape);
  let exposure = 0;
  for (let j = 0; j < rows.logAge.length; j++) {
    exposure += at(rows.netCount, j) * Math.exp(shape * at(rows.logAge, j));
  }
  const logWidth = logWidths(rows, shape);
  return {
    logLikelihood: (logScale) => rows.constant + variablePart(rows, logWidth, exposure, -shape * logScale),
    bestLogScale: (nudged) => -bestLogRate(rows, logWidth, exposure, shape, nudged ? NUDGE : 0) / shape,
  };
}

/** log w per failed row: log(upper^k - lower^k), and log(k age^(k - 1)) for an exact age. */
function logWidths(rows: WearRows, shape: number): Float64Array {
  return Float64Array.from(rows.logUpper, (logUpper, i) => {
    const ratio = at(rows.logRatio, i);
    if (Number.isNaN(ratio)) return Math.log(shape) + (shape - 1) * logUpper;
    return shape * logUpper + (ratio === Infinity ? 0 : Math.log(-Math.expm1(-shape * ratio)));
  });
}

/** -u * exposure + sum of count * log(d + 1 - exp(-w u)), with log u given. */
function variablePart(rows: WearRows, logWidth: Float64Array, exposure: number, logRate: number): number {
  let total = exposure === 0 ? 0 : -exposure * Math.exp(logRate);
  for (let i = 0; i < logWidth.length; i++) {
    const logX = at(logWidth, i) + logRate;
    total += at(rows.count, i) * logChance(logX, at(rows.faultPart, i), Number.isNaN(at(rows.logRatio, i)));
  }
  return total;
}

/** log(d + 1 - exp(-x)), x = exp(logX); for an exact age log(d + x). Series below 0.05: error under 1e-9. */
function logChance(logX: number, fault: number, exact: boolean): number {
  const x = Math.exp(logX);
  if (exact) return fault === 0 ? logX : Math.log(fault + x);
  if (x >= SMALL) return Math.log(fault - Math.expm1(-x));
  const x2 = x * x;
  if (fault === 0) return logX - x / 2 + x2 / 24;
  return Math.log(fault + x * (1 - x / 2 + x2 / 6 - (x2 * x) / 24));
}

/** log u at which the derivative by log u, plus the nudge, is 0: Newton inside a bracket. */
function bestLogRate(
  rows: WearRows,
  logWidth: Float64Array,
  exposure: number,
  shape: number,
  nudge: number,
): number {
  let low = -shape * LOG_SCALE_LIMITS[1];
  let high = -shape * LOG_SCALE_LIMITS[0];
  if (exposure <= 0) return high;
  let logRate = Math.log((rows.failures + nudge || NUDGE) / exposure);
  for (let round = 0; round < 80; round++) {
    if (!(logRate > low && logRate < high)) logRate = (low + high) / 2;
    const drop = exposure * Math.exp(logRate);
    const slope = nudge - drop + leakSlope(rows, logWidth, logRate);
    if (slope > 0) low = logRate;
    else high = logRate;
    const step = slope / drop;
    if (Math.abs(step) < 1e-11 || high - low < 1e-11) return logRate;
    logRate += step;
  }
  return logRate;
}

/** Derivative of the leaks' part by log u. */
function leakSlope(rows: WearRows, logWidth: Float64Array, logRate: number): number {
  let total = 0;
  for (let i = 0; i < logWidth.length; i++) {
    const x = Math.exp(at(logWidth, i) + logRate);
    const fault = at(rows.faultPart, i);
    if (Number.isNaN(at(rows.logRatio, i))) total += (at(rows.count, i) * x) / (fault + x);
    else if (x < 1e-12 && fault === 0) total += at(rows.count, i);
    else total += (at(rows.count, i) * x * Math.exp(-x)) / (fault - Math.expm1(-x) || Number.MIN_VALUE);
  }
  return total;
}
