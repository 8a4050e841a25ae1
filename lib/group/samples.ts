/** Life samples of any set of rows of the history. */
import type { LifeSample } from '../life/sampleTypes.js';
import { at, floatAt } from '../numeric/columns.js';
import { CONDITION, type History, UNKNOWN } from './history.js';

/** How rows that can be read two ways are read. */
export interface Reading {
  /** Removals for condition: as leaks or as censored (METHODS 1.4). */
  condition: 'leak' | 'censored';
  /** Removals of unknown reason: factor k on their odds of being a leak (METHODS 3.4): 0 none, 1 as weighed, Infinity all. */
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
}

/**
 * Sample of rows. A row that was a leak with chance w stands twice: failed with weight w, censored with 1 - w.
 * `isFault` tells which leaks are known fitting faults.
 */
export function sampleOf(
  history: History,
  rows: readonly number[],
  reading: Reading,
  isFault: (row: number) => boolean,
): LifeSample {
  const columns: Columns = { lower: [], upper: [], entry: [], count: [], cluster: [] };
  for (const i of rows) {
    const weight = leakWeightOf(history, i, reading);
    const hidden = reading.faultsCensored && isFault(i);
    if (weight > 0 && !hidden)
      push(columns, history, i, floatAt(history.lower, i), floatAt(history.upper, i), weight);
    const rest = hidden ? 1 : 1 - weight;
    if (rest > 0) push(columns, history, i, floatAt(history.age, i), Infinity, rest);
  }
  return {
    lower: Float64Array.from(columns.lower),
    upper: Float64Array.from(columns.upper),
    entry: Float64Array.from(columns.entry),
    count: Float64Array.from(columns.count),
    cluster: Int32Array.from(columns.cluster),
  };
}

/** Weight with which row i is a leak under a reading. */
export function leakWeightOf(history: History, i: number, reading: Reading): number {
  const kind = at(history.kind, i);
  if (kind === CONDITION) return reading.condition === 'leak' ? 1 : 0;
  const weight = floatAt(history.leakWeight, i);
  const k = reading.unknownOdds;
  if (kind !== UNKNOWN || k === 1) return weight;
  return k === Infinity ? 1 : (k * weight) / (k * weight + 1 - weight);
}

function push(
  columns: Columns,
  history: History,
  i: number,
  lower: number,
  upper: number,
  count: number,
): void {
  columns.lower.push(lower);
  columns.upper.push(upper);
  columns.entry.push(floatAt(history.entry, i));
  columns.count.push(count);
  columns.cluster.push(at(history.position, i));
}
