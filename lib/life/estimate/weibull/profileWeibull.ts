/**
 * The Weibull fit of lives that failed at known ages or were still sound: for a shape the best scale is known in closed form,
 *
 *     scale^shape = sum of weight t^shape / failures
 *
 * so that one equation in the shape is left (Cohen 1965; Lawless 2003 sec. 5.2, from memory). One pass over the ages gives its
 * value and both derivatives. Without entries the profile is concave in the shape, so there is one root.
 */
import { floatAt } from '../../../numeric/columns.js';
import type { WeibullMaximum } from './maximiseWeibull.js';
import type { PreparedRows } from './prepareRows.js';

interface Profile {
  /** Log likelihood at the best scale, without what hangs on neither. */
  value: number;
  /** By log shape. */
  slope: number;
  bend: number;
  /** Sum of weight (t / unit)^shape; log(t / unit) and its square averaged over its terms. */
  powers: number;
  mean: number;
  meanSquare: number;
}

/** How a climb that got there ended. */
export const AT_MAXIMUM = 'the slopes vanish at a maximum';

/** More ages than this are thinned for a start, to every so-manyth. */
const MANY = 50_000;
const EVERY = 20;
const MOST_STEPS = 50;
/** A Newton step this small leaves an error of about its square, and moves the sums by no more than their slopes say. */
const SMALL = 1e-9;

/**
 * The maximum from a starting shape, or null where this road does not lead there: rows of other kinds, entries that outweigh
 * the lives, or steps that do not settle.
 */
export function profileWeibull(rows: PreparedRows, startLogShape: number): WeibullMaximum | null {
  if (rows.mixed || rows.interval.count.length > 0) return null;
  const failures = failedOf(rows);
  let b = rows.logAge.length > MANY ? thinnedTop(rows, startLogShape) : startLogShape;
  let here = profileAt(rows, failures, b);
  for (let iterations = 1; iterations <= MOST_STEPS; iterations++) {
    if (!(here.bend < 0 && Number.isFinite(here.value))) return null;
    const step = Math.max(-1.5, Math.min(1.5, -here.slope / here.bend));
    if (Math.abs(step) < SMALL) {
      return maximumAt(rows, failures, b + step, moved(here, Math.exp(b) * step), iterations);
    }
    const next = rising(rows, failures, b, here, step);
    if (next === null) return null;
    [b, here] = next;
  }
  return null;
}

/** The top of every so-manyth age and failure: near enough for a start, at a fraction of a pass. */
function thinnedTop(rows: PreparedRows, startLogShape: number): number {
  const thin = (column: Float64Array): Float64Array => {
    const kept = new Float64Array(Math.floor(column.length / EVERY));
    for (let i = 0; i < kept.length; i++) kept[i] = floatAt(column, i * EVERY);
    return kept;
  };
  const { exact } = rows;
  const some = { ...exact, logAge: thin(exact.logAge), count: thin(exact.count) };
  const top = profileWeibull(
    { ...rows, logAge: thin(rows.logAge), weight: thin(rows.weight), exact: some },
    startLogShape,
  );
  return top === null ? startLogShape : Math.log(top.shape);
}

/** The step, halved until the profile rises. */
function rising(
  rows: PreparedRows,
  failures: Failures,
  from: number,
  { value }: Profile,
  step: number,
): [number, Profile] | null {
  for (let part = step; Math.abs(part) > 1e-3 * Math.abs(step); part /= 2) {
    const there = profileAt(rows, failures, from + part);
    if (there.value >= value - 1e-12 * Math.abs(value)) return [from + part, there];
  }
  return null;
}

/** The sums after a step of the shape too small to need another pass. */
function moved(here: Profile, step: number): Profile {
  const { powers, mean, meanSquare } = here;
  return { ...here, powers: powers * (1 + step * mean), mean: mean + step * (meanSquare - mean * mean) };
}

/** With w = shape log(t / scale), H = exp(w) adds up to the failures; the other sums of weibullDerivatives.ts follow. */
function maximumAt(
  rows: PreparedRows,
  failures: Failures,
  b: number,
  { powers, mean, meanSquare }: Profile,
  iterations: number,
): WeibullMaximum {
  const { count, logAge } = failures;
  const shape = Math.exp(b);
  const y = Math.log(powers / count) / shape;
  const hazardLog = count * shape * (mean - y);
  const hazardLogSquare = count * shape * shape * (meanSquare - 2 * y * mean + y * y);
  const logOfFailed = shape * (logAge - count * y);
  return {
    shape,
    scale: rows.unit * Math.exp(y),
    logLikelihood: rows.constant - count + count * b + logOfFailed,
    information: [hazardLog + hazardLogSquare - logOfFailed, -shape * hazardLog, shape * shape * count],
    converged: true,
    iterations,
    reason: AT_MAXIMUM,
  };
}

interface Failures {
  count: number;
  /** Sum of log(age / unit). */
  logAge: number;
}

function failedOf({ exact }: PreparedRows): Failures {
  const failures = { count: 0, logAge: 0 };
  for (let i = 0; i < exact.count.length; i++) {
    failures.count += floatAt(exact.count, i);
    failures.logAge += floatAt(exact.count, i) * floatAt(exact.logAge, i);
  }
  return failures;
}

/** failures (log shape - log sum of w t^shape) + shape (sum of log failure ages), and its derivatives by log shape. */
function profileAt({ logAge, weight }: PreparedRows, failures: Failures, b: number): Profile {
  const shape = Math.exp(b);
  let [powers, first, second] = [0, 0, 0];
  for (let i = 0; i < logAge.length; i++) {
    const x = floatAt(logAge, i);
    const power = floatAt(weight, i) * Math.exp(shape * x);
    powers += power;
    first += power * x;
    second += power * x * x;
  }
  const { count } = failures;
  const mean = first / powers;
  const byShape = count / shape + failures.logAge - count * mean;
  const byShapeTwice = -count / (shape * shape) - count * (second / powers - mean * mean);
  return {
    value: count * (b - Math.log(powers)) + shape * failures.logAge,
    slope: shape * byShape,
    bend: shape * byShape + shape * shape * byShapeTwice,
    powers,
    mean,
    meanSquare: second / powers,
  };
}
