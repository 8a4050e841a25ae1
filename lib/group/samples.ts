/** Life samples of any set of rows of the history. */
import { type PreparedRows, prepareRows } from '../life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault } from '../life/model.js';
import { otherHazardOf } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at, columnOf, floatAt } from '../numeric/columns.js';
import { CONDITION, type History, isKnownFault, UNKNOWN } from './history.js';

/** How rows that can be read two ways are read. */
export interface Reading {
  /** Removals for condition: as leaks or as censored (METHODS 1.4). */
  condition: 'leak' | 'censored';
  /** Removals of unknown reason: factor k on their odds of being a leak (METHODS 3.4): 0 none, 1 as found, Infinity all. */
  unknownOdds: number;
  /** Known fitting faults as censored: for the wear-out part (they are counted as faults elsewhere). */
  faultsCensored: boolean;
}

interface Columns {
  lower: number[];
  upper: number[];
  entry: number[];
  count: number[];
  cluster: number[];
  otherHazard: number[];
}

/**
 * Sample for the fits. A removal of unknown reason leaked, or was one of the removals that were no leaks: its day counts with
 * the hazard of both (LifeSample.otherHazard). At k = 0 it is censored, at k infinite a leak like any other.
 */
export function sampleOf(history: History, rows: readonly number[], reading: Reading): LifeSample {
  const columns = noRows();
  for (const i of rows) {
    const { kind, other } = readingOf(history, i, reading);
    if (kind === 'sound') push(columns, history, i, floatAt(history.age, i), Infinity, 1, 0);
    else push(columns, history, i, floatAt(history.lower, i), floatAt(history.upper, i), 1, other);
  }
  const sample = asSample(columns);
  const masked = columns.otherHazard.some((hazard) => hazard > 0);
  return masked ? { ...sample, otherHazard: Float64Array.from(columns.otherHazard) } : sample;
}

/** Sample to count and to show: a row that was a leak with chance w stands twice, leaked with weight w, censored with 1 - w. */
export function weighedSample(history: History, rows: readonly number[], reading: Reading): LifeSample {
  const columns = noRows();
  for (const i of rows) {
    const weight = leakWeightOf(history, i, reading);
    const [lower, upper] = [floatAt(history.lower, i), floatAt(history.upper, i)];
    if (weight > 0) push(columns, history, i, lower, upper, weight, 0);
    if (weight < 1) push(columns, history, i, floatAt(history.age, i), Infinity, 1 - weight, 0);
  }
  return asSample(columns);
}

/**
 * A sample of `sampleOf` made ready for the wear-out. Faulty fittings go by days: where the ages of the sample do not, the hazard of an early
 * leak over the days of each leak is among what else may have ended it, which is the same likelihood but for a constant.
 */
export function wearRows(
  history: History,
  rows: readonly number[],
  sample: LifeSample,
  fault: FittingFault,
): PreparedRows {
  const { inDays } = history;
  if (inDays === undefined) return prepareRows(sample, fault);
  const sound = (days: number): number =>
    1 + fault.share * Math.expm1(-((Math.max(days, 0) / fault.scale) ** fault.shape));
  const otherHazard = columnOf(rows, (row, i) => {
    if (floatAt(sample.upper, i) === Infinity) return 0;
    const from = Math.max(floatAt(inDays.lower, row), floatAt(inDays.entry, row));
    const early = Math.log(sound(from) / sound(floatAt(inDays.upper, row)));
    return otherHazardOf(sample, i) + early;
  });
  return prepareRows({ ...sample, otherHazard });
}

/** `other`: hazard of all but wear-out leaks over the day of a removal of unknown reason; 0 where the reason is known. */
function readingOf(
  history: History,
  i: number,
  reading: Reading,
): { kind: 'sound' | 'leaked'; other: number } {
  const kind = at(history.kind, i);
  const k = reading.unknownOdds;
  if (kind === UNKNOWN && k !== Infinity) {
    return k === 0 ? SOUND : { kind: 'leaked', other: otherHazardUnder(history, i, reading) / k };
  }
  if (kind === UNKNOWN) return LEAKED;
  const hidden = reading.faultsCensored && isKnownFault(history, i);
  return leakWeightOf(history, i, reading) > 0 && !hidden ? LEAKED : SOUND;
}

const SOUND = { kind: 'sound', other: 0 } as const;
const LEAKED = { kind: 'leaked', other: 0 } as const;

/** What a reading takes for no leak, or leaves out of the wear-out, is among what else may have ended a life. */
function otherHazardUnder(history: History, i: number, { condition, faultsCensored }: Reading): number {
  return (
    floatAt(history.otherHazard, i) +
    (condition === 'censored' ? floatAt(history.conditionHazard, i) : 0) +
    (faultsCensored ? floatAt(history.faultHazard, i) : 0)
  );
}

/** Chance with which row i was a leak under a reading. */
export function leakWeightOf(history: History, i: number, reading: Reading): number {
  const kind = at(history.kind, i);
  if (kind === CONDITION) return reading.condition === 'leak' ? 1 : 0;
  const weight = floatAt(history.leakWeight, i);
  const k = reading.unknownOdds;
  if (kind !== UNKNOWN || k === 1) return weight;
  return k === Infinity ? 1 : (k * weight) / (k * weight + 1 - weight);
}

function noRows(): Columns {
  return { lower: [], upper: [], entry: [], count: [], cluster: [], otherHazard: [] };
}

function asSample({ lower, upper, entry, count, cluster }: Columns): LifeSample {
  return {
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    entry: Float64Array.from(entry),
    count: Float64Array.from(count),
    cluster: Int32Array.from(cluster),
  };
}

function push(
  columns: Columns,
  history: History,
  i: number,
  lower: number,
  upper: number,
  count: number,
  other: number,
): void {
  columns.lower.push(lower);
  columns.upper.push(upper);
  columns.entry.push(floatAt(history.entry, i));
  columns.count.push(count);
  columns.cluster.push(at(history.position, i));
  columns.otherHazard.push(other);
}
