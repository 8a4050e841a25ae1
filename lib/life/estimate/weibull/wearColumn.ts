/** The Weibull log-likelihood at one shape: its exposure and its best scale, by Newton steps on prepared rows. */
import { floatAt } from '../../../numeric/columns.js';
import { evaluator, type PreparedRows } from './weibullLikelihood.js';

/** Limits inside which shapes and scales are looked for. Ages are days; nothing lasts half a day or 27 000 years. */
export const LOG_SHAPE_LIMITS: readonly [number, number] = [Math.log(0.2), Math.log(20)];
export const LOG_SCALE_LIMITS: readonly [number, number] = [Math.log(0.5), Math.log(1e7)];

/** Half a leak added keeps the best scale finite where nothing leaked. */
const NUDGE = 0.5;
/** Limits of the nudged best scale: only there to end the search, so that a table has no kink where one is met. */
const FAR: readonly [number, number] = [Math.log(1e-3), Math.log(1e30)];

/** What a table needs of one shape. */
export interface WearColumn {
  logLikelihood(logScale: number): number;
  /** Best log scale of the likelihood with half a leak added. */
  nudgedLogScale: number;
  /** Leaks expected of the lives as they were watched, at that scale. */
  expected: number;
}

/** A function that gives the column of a shape; ask for one shape at a time. */
export function wearColumns(rows: PreparedRows): (logShape: number) => WearColumn {
  const evaluate = evaluator(rows);
  return (logShape) => {
    const shape = Math.exp(logShape);
    const terms = shapeTerms(rows, shape);
    const logRate = bestLogRate(terms, shape, rows.unit, NUDGE, FAR);
    return {
      logLikelihood: (logScale) => evaluate(shape, Math.exp(logScale)),
      nudgedLogScale: Math.log(rows.unit) - logRate / shape,
      expected: terms.exposure * Math.exp(logRate),
    };
  };
}

/** Log scale at which the likelihood of prepared rows is best for a shape, inside the limits. */
export function bestLogScale(rows: PreparedRows, logShape: number): number {
  const shape = Math.exp(logShape);
  return (
    Math.log(rows.unit) - bestLogRate(shapeTerms(rows, shape), shape, rows.unit, 0, LOG_SCALE_LIMITS) / shape
  );
}

/** Weight of the rows that failed. */
export function failuresOf({ exact, interval }: PreparedRows): number {
  return total(exact.count) + total(interval.count);
}

/** At a fixed shape, with u = (unit / scale)^shape: log L = constant - exposure u + sum of count log(fault + chance(w u)). */
interface ShapeTerms {
  exposure: number;
  count: Float64Array;
  logWidth: Float64Array;
  fault: Float64Array;
  /** Rows before this index failed at an exact age: chance(x) = x; the rest 1 - exp(-x). */
  exact: number;
}

function shapeTerms({ logAge, weight, exact, interval }: PreparedRows, shape: number): ShapeTerms {
  let exposure = 0;
  for (let i = 0; i < logAge.length; i++)
    exposure += floatAt(weight, i) * Math.exp(shape * floatAt(logAge, i));
  const exactRows = exact.count.length;
  const rows = exactRows + interval.count.length;
  const terms: ShapeTerms = {
    exposure,
    count: new Float64Array(rows),
    logWidth: new Float64Array(rows),
    fault: new Float64Array(rows),
    exact: exactRows,
  };
  for (let i = 0; i < exactRows; i++) {
    terms.count[i] = floatAt(exact.count, i);
    terms.logWidth[i] = Math.log(shape) + shape * floatAt(exact.logAge, i);
    terms.fault[i] = floatAt(exact.early, i) / floatAt(exact.q, i);
  }
  for (let i = exactRows; i < rows; i++) {
    const j = i - exactRows;
    const upper = shape * floatAt(interval.logUpper, j);
    terms.count[i] = floatAt(interval.count, j);
    terms.logWidth[i] = upper + Math.log(-Math.expm1(shape * floatAt(interval.logLower, j) - upper));
    terms.fault[i] = floatAt(interval.early, j) / floatAt(interval.q, j);
  }
  return terms;
}

/** log u at which the derivative by log u, plus the nudge, is 0: Newton inside a bracket. */
function bestLogRate(
  terms: ShapeTerms,
  shape: number,
  unit: number,
  nudge: number,
  limits: readonly [number, number],
): number {
  let low = shape * (Math.log(unit) - limits[1]);
  let high = shape * (Math.log(unit) - limits[0]);
  if (terms.exposure <= 0) return terms.count.length === 0 ? (low + high) / 2 : high;
  let logRate = Math.log((total(terms.count) + nudge || NUDGE) / terms.exposure);
  for (let round = 0; round < 80; round++) {
    if (!(logRate > low && logRate < high)) logRate = (low + high) / 2;
    const drop = terms.exposure * Math.exp(logRate);
    const leaks = leakSlope(terms, logRate);
    const slope = nudge - drop + leaks.slope;
    if (slope > 0) low = logRate;
    else high = logRate;
    // Where causes are mixed the likelihood may bend upwards: a step as if all were wear-out leaks is always safe.
    const bend = drop - leaks.bend;
    const step = slope / (bend > 0.1 * drop ? bend : drop);
    if (Math.abs(step) < 1e-11 || high - low < 1e-11) return logRate;
    logRate += step;
  }
  return logRate;
}

/** First and second derivative of the failed rows' part by log u. */
function leakSlope(
  { count, logWidth, fault, exact }: ShapeTerms,
  logRate: number,
): { slope: number; bend: number } {
  let slope = 0;
  let bend = 0;
  for (let i = 0; i < count.length; i++) {
    const x = Math.exp(floatAt(logWidth, i) + logRate);
    const early = floatAt(fault, i);
    let part = 1;
    if (early !== 0 || x >= 1e-12)
      part = i < exact ? x / (early + x) : (x * Math.exp(-x)) / (early - Math.expm1(-x));
    slope += floatAt(count, i) * part;
    bend += floatAt(count, i) * part * (1 - (i < exact ? 0 : x) - part);
  }
  return { slope, bend };
}

function total(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0);
}
