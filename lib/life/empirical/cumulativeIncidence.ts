/** Chance to have failed by each mode, without a model, where several modes end lives (Aalen & Johansen 1978). */
import { UsageError } from '../../errors.js';
import { at, columnOf, floatAt } from '../../numeric/columns.js';
import { countUpTo } from '../../numeric/sorted.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { type RiskTable, riskTable } from './atRisk.js';
import { incidenceVariance, watchOf } from './incidenceVariance.js';
import { zOf } from './kaplanMeier.js';

export type IncidenceBounds = 'loglog' | 'plain';

/** Columns by age at failure by this mode. Incidence holds from that age to the next, and is 0 before the first. */
export interface ModeIncidence {
  /** Number of the mode, from 1. */
  mode: number;
  age: Float64Array;
  /** Chance to have failed by this mode at or before that age, while the other modes go on as they do. */
  incidence: Float64Array;
  /** Pointwise two-sided bounds. */
  low: Float64Array;
  high: Float64Array;
  standardError: Float64Array;
  /** Lives under watch just before that age, whatever will end them. */
  atRisk: Float64Array;
  /** Failures by this mode at that age, weights included. */
  failed: Float64Array;
}

export interface IncidenceCurves {
  /** Mode 1 first; a mode without a failure after `start` has empty columns. */
  modes: ModeIncidence[];
  /** The curves count from this age on, given survival to it (0 unless records began late). */
  start: number;
  /** Largest age watched: beyond it nothing is known. */
  end: number;
}

/**
 * Cumulative incidence of each failure mode: the sum of survival of all modes just before an age, times the share of those
 * at risk that failed by the mode at it (Aalen & Johansen 1978). With one mode it is 1 less the product-limit estimate. Over
 * all modes the incidences and survival add up to 1, which 1 less a product-limit estimate by mode, the other modes
 * taken as censored, does not. Delayed entry, ties and start as in `kaplanMeier`; ages in any one unit.
 *
 * The variance sums the squared influence of each life (infinitesimal jackknife). Where all lives were watched from new it is
 * Aalen's variance by the delta method, and that of Greenwood for one mode; with delayed entry it also holds the covariance
 * between the steps at two ages, which `kaplanMeier` leaves out. A row of count n is n lives of their own. Bounds on the
 * log(-log incidence) axis by default; 'plain' is cut off at 0 and 1. Where the incidence has come to 1 the variance has no
 * value: the bounds are the last lower one and 1.
 *
 * @param mode for each row of the sample 0 for a life still sound, or from 1 the number of the mode that ended it
 * @throws UsageError for interval rows, rows of unknown cause, modes that are not whole numbers or do not fit their rows
 * (both named by row, from 1), a column of another length than the sample, and a level not between 0 and 1
 */
export function cumulativeIncidence(
  sample: LifeSample,
  mode: ArrayLike<number>,
  options: { level?: number; bounds?: IncidenceBounds } = {},
): IncidenceCurves {
  const { level = 0.9, bounds = 'loglog' } = options;
  const where = 'cumulativeIncidence';
  const z = zOf(where, level);
  if (bounds !== 'loglog' && bounds !== 'plain') {
    throw new UsageError(where, 'bounds must be loglog or plain.', bounds);
  }
  const most = largestMode(sample, mode);
  const table = riskTable(sample, where);
  const failed = failedByMode(sample, mode, most, table);
  const watch = watchOf(sample, table);
  const modes = failed.map((own, k): ModeIncidence => {
    const incidence = incidenceOf(table, own);
    const variance = incidenceVariance(sample, mode, k + 1, { table, own, incidence, watch });
    return modeColumns(k + 1, table, own, incidence, variance, z, bounds);
  });
  return { modes, start: table.start, end: table.end };
}

/** The largest mode, after every mode was seen to fit its row. */
function largestMode(sample: LifeSample, mode: ArrayLike<number>): number {
  const where = 'cumulativeIncidence';
  const rows = sample.lower.length;
  if (mode.length !== rows) {
    throw new UsageError(where, `mode must be as long as the sample (${rows} rows).`, mode.length);
  }
  let most = 0;
  for (let i = 0; i < rows; i++) {
    const own = at(mode, i);
    if (!(Number.isInteger(own) && own >= 0 && own <= MOST_MODES)) {
      throw new UsageError(where, `row ${i + 1}: mode must be a whole number from 0 to ${MOST_MODES}.`, own);
    }
    if (own === 0 && isFailure(sample, i)) {
      throw new UsageError(
        where,
        `row ${i + 1} failed, so it needs a mode from 1; give lives that other work ended the upper age Infinity, and failures of unknown mode a number of their own.`,
        own,
      );
    }
    if (own > 0 && !isFailure(sample, i)) {
      throw new UsageError(where, `row ${i + 1} is still sound, so its mode must be 0.`, own);
    }
    most = Math.max(most, own);
  }
  return most;
}

/** Modes are numbered one after the other: a larger number is a code of something else. */
const MOST_MODES = 1000;

/** Failures at each age of the table, a column for each mode. */
function failedByMode(
  sample: LifeSample,
  mode: ArrayLike<number>,
  most: number,
  { age, start }: RiskTable,
): Float64Array[] {
  const failed = Array.from({ length: most }, () => new Float64Array(age.length));
  for (let i = 0; i < sample.lower.length; i++) {
    const own = failed[at(mode, i) - 1];
    const ended = floatAt(sample.lower, i);
    if (own === undefined || ended <= start) continue;
    const k = countUpTo(age, ended) - 1;
    own[k] = floatAt(own, k) + floatAt(sample.count, i);
  }
  return failed;
}

function incidenceOf({ age, failed, atRisk }: RiskTable, own: Float64Array): Float64Array {
  const incidence = new Float64Array(age.length);
  let survival = 1;
  let total = 0;
  for (let k = 0; k < age.length; k++) {
    total += (survival * floatAt(own, k)) / floatAt(atRisk, k);
    survival *= Math.max(0, 1 - floatAt(failed, k) / floatAt(atRisk, k));
    incidence[k] = Math.min(1, total);
  }
  return incidence;
}

/** The columns of one mode: it is only at its own failures that they change. */
function modeColumns(
  mode: number,
  table: RiskTable,
  own: Float64Array,
  incidence: Float64Array,
  variance: Float64Array,
  z: number,
  kind: IncidenceBounds,
): ModeIncidence {
  const kept = Array.from(own.keys()).filter((k) => floatAt(own, k) > 0);
  const column = (from: Float64Array): Float64Array => columnOf(kept, (k) => floatAt(from, k));
  const columns = { mode, age: column(table.age), incidence: column(incidence) };
  const standardError = column(variance).map(Math.sqrt);
  const low = new Float64Array(kept.length);
  const high = new Float64Array(kept.length).fill(1);
  for (let k = 0; k < kept.length; k++) {
    const p = floatAt(columns.incidence, k);
    if (p > 1 - WHOLE) {
      standardError[k] = 0;
      low[k] = k > 0 ? floatAt(low, k - 1) : 0;
    } else [low[k], high[k]] = incidenceLimits(p, floatAt(standardError, k), z, kind);
  }
  return { ...columns, low, high, standardError, atRisk: column(table.atRisk), failed: column(own) };
}

/** An incidence this near to 1 is 1 but for rounding. */
const WHOLE = 1e-12;

function incidenceLimits(p: number, se: number, z: number, kind: IncidenceBounds): [number, number] {
  // Nobody was left to fail by this mode: lives that came under watch later say nothing of those before.
  if (p === 0) return [0, 1];
  if (kind === 'plain') return [Math.max(0, p - z * se), Math.min(1, p + z * se)];
  const width = (z * se) / (p * -Math.log(p));
  return [p ** Math.exp(width), p ** Math.exp(-width)];
}
