/** Events whose rate rises or falls with a power of age: the power-law process of systems repaired to the state they were in. */
import { UsageError } from '../errors.js';
import { findRoot } from '../numeric/roots.js';
import { chiSquareQuantile, normalQuantile } from '../numeric/special.js';
import { type EventColumns, recurrentEvents } from './recurrentEvents.js';
import { type EndedBy, placedEvents, type SystemHistory, systemHistories } from './systemHistories.js';

export interface PowerLawOptions {
  /** Watching ended at an age fixed beforehand ('time', the default) or at an event ('failure'). */
  endedBy?: EndedBy;
  /** Two-sided, 0.9 by default. */
  level?: number;
}

export interface PowerLawBounds {
  estimate: number;
  low: number;
  high: number;
  /** 'chi-square' is exact; 'normal' is the normal approximation on the log axis. */
  method: 'chi-square' | 'normal';
}

export interface PowerLawFit {
  /** Expected events of one system by age t: (t / scale)^shape. Above 1 events come more and more often. */
  shape: number;
  /** The age by which one event is expected. */
  scale: number;
  /** scale^-shape: expected events by t are rate times t^shape. */
  rate: number;
  /** Maximum likelihood given each system's number of events, and the same without bias; null for systems watched late. */
  shapeConditional: number | null;
  shapeUnbiased: number | null;
  shapeBounds: PowerLawBounds;
  scaleBounds: PowerLawBounds;
  /**
   * Mean time between events at the end of watching, from the unbiased shape, with approximate bounds (NIST/SEMATECH e-Handbook
   * 8.4.5.2, after Crow 1982); null unless one system was watched from 0 to a fixed age with two events or more.
   */
  betweenAtEnd: { estimate: number; low: number; high: number } | null;
  logLikelihood: number;
  /** Covariance of (log shape, log scale), row by row, from the observed information. */
  covariance: number[];
  events: number;
  systems: number;
  level: number;
  endedBy: EndedBy;
}

/**
 * Power-law process by maximum likelihood for one or many systems of one kind (Crow 1974; MIL-HDBK-189; IEC 61710; from memory).
 * The rate depends on the age of the system, not on the time since the last event: it is a model of minimal repair, not of
 * renewal. Bounds of the shape are exact by chi-square given the numbers of events where all were watched from age 0.
 * @throws UsageError as `recurrentEvents`, for gaps of watching, no events, all events at the end of watching, one event where an
 * event ended the watch, and a level not between 0 and 1
 */
export function fitPowerLaw(columns: EventColumns, options: PowerLawOptions = {}): PowerLawFit {
  const { endedBy = 'time', level = 0.9 } = options;
  if (!(level > 0 && level < 1)) throw new UsageError('fitPowerLaw', 'level must be between 0 and 1.', level);
  const histories = systemHistories(recurrentEvents(columns, 'fitPowerLaw'), endedBy, 'fitPowerLaw');
  const counted = countedOf(histories, endedBy);
  const { unit, logs, n } = counted;
  const shape = bestShape(counted);
  const { total, slope, bend } = exposure(counted, shape);
  const logRate = Math.log(n / total);
  const covariance = covarianceOf(n, shape, logRate, (n * slope) / total, (n * bend) / total);
  const scale = unit * Math.exp(-logRate / shape);
  const conditional = conditionalOf(counted, level);
  return {
    shape,
    scale,
    rate: Math.exp(-shape * Math.log(scale)),
    shapeConditional: conditional?.shape ?? null,
    shapeUnbiased: conditional?.unbiased ?? null,
    shapeBounds: conditional
      ? { estimate: shape, ...conditional.bounds, method: 'chi-square' }
      : normalBounds(shape, covariance[0] as number, level),
    scaleBounds: normalBounds(scale, covariance[3] as number, level),
    betweenAtEnd: betweenAtEnd(counted, conditional?.unbiased ?? null, endedBy, level),
    logLikelihood: n * (logRate + Math.log(shape)) + (shape - 1) * logs - n - n * Math.log(unit),
    covariance,
    events: n,
    systems: histories.length,
    level,
    endedBy,
  };
}

/** Ages in units of the largest end of watching, so that powers neither overflow nor lose digits. */
interface Counted {
  unit: number;
  n: number;
  /** Sum of log event ages. */
  logs: number;
  starts: number[];
  ends: number[];
  /** Events that chance places, and the sum of log(end / age) over them. */
  placed: number;
  distance: number;
}

function countedOf(histories: SystemHistory[], endedBy: EndedBy): Counted {
  const unit = Math.max(...histories.map(({ end }) => end));
  const counted: Counted = {
    unit,
    n: 0,
    logs: 0,
    starts: histories.map(({ start }) => start / unit),
    ends: histories.map(({ end }) => end / unit),
    placed: 0,
    distance: 0,
  };
  for (const history of histories) {
    counted.n += history.ages.length;
    for (const age of history.ages) counted.logs += Math.log(age / unit);
    for (const age of placedEvents(history, endedBy)) {
      counted.placed++;
      counted.distance += Math.log(history.end / age);
    }
  }
  if (counted.n === 0) throw new UsageError('fitPowerLaw', 'there are no events.');
  if (counted.placed === 0 || counted.distance === 0) {
    const rule = 'all events are at the end of watching, so the shape has no limit. More events are needed.';
    throw new UsageError('fitPowerLaw', rule);
  }
  return counted;
}

/** Sum over systems of end^shape - start^shape, and its two derivatives by the shape. */
function exposure({ starts, ends }: Counted, shape: number): { total: number; slope: number; bend: number } {
  const out = { total: 0, slope: 0, bend: 0 };
  const add = (age: number, sign: number): void => {
    if (age === 0) return;
    const [power, log] = [sign * age ** shape, Math.log(age)];
    out.total += power;
    out.slope += power * log;
    out.bend += power * log * log;
  };
  for (const end of ends) add(end, 1);
  for (const start of starts) add(start, -1);
  return out;
}

/** Root of the score of the shape, the rate being at its best. */
function bestShape(counted: Counted): number {
  const { n, logs, starts, ends, distance } = counted;
  // Watched from 0 to one age: n over the sum of log(end / age).
  const alike = starts.every((start) => start === 0) && ends.every((end) => end === 1);
  if (alike) return n / -logs;
  const score = (logShape: number): number => {
    const shape = Math.exp(logShape);
    const { total, slope } = exposure(counted, shape);
    return n + shape * (logs - (n * slope) / total);
  };
  const guess = Math.log(n / distance);
  let [low, high] = [guess - 1, guess + 1];
  for (let turn = 0; turn < 30 && !(score(low) > 0); turn++) low -= 1;
  for (let turn = 0; turn < 30 && !(score(high) < 0); turn++) high += 1;
  const { root, converged } = findRoot(score, low, high);
  if (!converged) {
    throw new UsageError(
      'fitPowerLaw',
      'no best shape was found: the events do not say how their rate moves.',
    );
  }
  return Math.exp(root);
}

/** Inverse information of (log shape, log rate), turned to (log shape, log scale); the rate is per unit^shape. */
function covarianceOf(n: number, shape: number, logRate: number, slope: number, bend: number): number[] {
  const [bb, ab, aa] = [n + shape * shape * bend, shape * slope, n];
  const determinant = bb * aa - ab * ab;
  const [vb, vab, va] = [aa / determinant, -ab / determinant, bb / determinant];
  // log scale = log unit - log rate / shape; its slope by log shape is log rate / shape in every unit.
  const [byShape, byRate] = [logRate / shape, -1 / shape];
  const cross = byShape * vb + byRate * vab;
  return [vb, cross, cross, byShape * byShape * vb + 2 * byShape * byRate * vab + byRate * byRate * va];
}

/** 2 placed shape / conditional shape is chi-square with 2 placed degrees of freedom (Crow 1974, from memory). */
function conditionalOf(
  { starts, placed, distance }: Counted,
  level: number,
): { shape: number; unbiased: number | null; bounds: { low: number; high: number } } | null {
  if (starts.some((start) => start > 0)) return null;
  const limit = (p: number): number => chiSquareQuantile(p, 2 * placed) / (2 * distance);
  return {
    shape: placed / distance,
    unbiased: placed > 1 ? (placed - 1) / distance : null,
    bounds: { low: limit(0.5 - level / 2), high: limit(0.5 + level / 2) },
  };
}

function normalBounds(estimate: number, variance: number, level: number): PowerLawBounds {
  if (!(variance >= 0 && variance < Infinity)) {
    const rule =
      'the bounds cannot be found: the ages differ by more orders of magnitude than numbers can hold.';
    throw new UsageError('fitPowerLaw', rule, variance);
  }
  const width = normalQuantile(0.5 + level / 2) * Math.sqrt(variance);
  const log = Math.log(estimate);
  return { estimate, low: Math.exp(log - width), high: Math.exp(log + width), method: 'normal' };
}

function betweenAtEnd(
  { starts, unit, n }: Counted,
  unbiased: number | null,
  endedBy: EndedBy,
  level: number,
): PowerLawFit['betweenAtEnd'] {
  if (unbiased === null || endedBy !== 'time' || starts.length !== 1) return null;
  const estimate = unit / (n * unbiased);
  const z2 = normalQuantile(0.5 + level / 2) ** 2;
  const product = n * (n - 1);
  const upper = n - Math.sqrt((z2 * n) / 2);
  return {
    estimate,
    low: (estimate * product) / (n + z2 / 4 + Math.sqrt((n * z2) / 2 + z2 ** 2 / 16)) ** 2,
    // With few events and a high level the approximation has no upper bound.
    high: upper > 0 ? (estimate * product) / upper ** 2 : Infinity,
  };
}
