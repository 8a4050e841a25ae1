/**
 * What a sample says without a model, for comparing a model with it: the product limit where ages are exact or every failure
 * lies in one innermost interval (failures of a day count as in its middle), else the estimate of Turnbull (1976).
 */
import { at, columnOf, floatAt } from '../../numeric/columns.js';
import { riskTable, startOf } from '../empirical/atRisk.js';
import { turnbull } from '../empirical/turnbull.js';
import { innermost, type Support } from '../empirical/turnbullSupport.js';
import { recordingOf } from '../estimate/bounds/recording.js';
import { mergeSample } from '../mergeSample.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';

/** Columns by step of the curve, in ascending age; a step lies in (from, to], at `to` where from = to. */
export interface ObservedCurve {
  from: Float64Array;
  to: Float64Array;
  /** Survival after the step, given survival to `start`. */
  survival: Float64Array;
  /** Nelson-Aalen cumulative hazard after the step: the sum of failed over at risk. */
  cumulativeHazard: Float64Array;
  /** Lives under watch just before the step. */
  atRisk: Float64Array;
  /** These over those that would be, had all lives been watched from `start` on; at most 1. */
  watched: Float64Array;
  start: number;
  /** Largest age watched: beyond it nothing is known, unless survival has come to 0. */
  end: number;
}

/** Precondition: no ends of unknown cause. */
export function observedCurve(sample: LifeSample): ObservedCurve {
  const rows = mergeSample(sample);
  const { kind } = recordingOf(rows);
  if (kind === 'days') return fromExact(atMiddles(rows));
  return kind === 'inspections' || kind === 'own' ? fromIntervals(rows) : fromExact(rows);
}

/** Failures of a day in the middle of it, so after an entry of the same day: a day is short. */
function atMiddles(rows: LifeSample): LifeSample {
  const middle = (i: number): number =>
    Math.max(
      0.5 * (floatAt(rows.lower, i) + floatAt(rows.upper, i)),
      0.5 * (floatAt(rows.entry, i) + floatAt(rows.upper, i)),
    );
  const lower = columnOf(rows.lower, (age, i) => (isFailure(rows, i) ? middle(i) : age));
  const upper = columnOf(rows.upper, (age, i) => (isFailure(rows, i) ? floatAt(lower, i) : age));
  return { ...rows, lower, upper };
}

function fromExact(rows: LifeSample): ObservedCurve {
  const { age, failed, atRisk, start, end } = riskTable(rows);
  const hazard = columnOf(failed, (d, k) => d / floatAt(atRisk, k));
  return curveOf(rows, age, age, hazard, atRisk, start, end);
}

function fromIntervals(rows: LifeSample): ObservedCurve {
  const support = innermost(rows);
  const start = startOf(rows);
  const end = rows.upper.reduce(
    (most, upper, i) => Math.max(most, upper === Infinity ? floatAt(rows.lower, i) : upper),
    0,
  );
  const simple = rows.upper.every(
    (_, i) => !isFailure(rows, i) || at(support.last, i) - at(support.first, i) === 1,
  );
  if (!simple) return fromTurnbull(rows, start, end);
  const failed = failedIn(rows, support);
  const atRisk = watchedAt(rows, support);
  const kept = Array.from(failed.keys()).filter(
    (j) => floatAt(failed, j) > 0 && floatAt(support.from, j) >= start && floatAt(support.to, j) > start,
  );
  const column = (of: Float64Array): Float64Array => columnOf(kept, (j) => floatAt(of, j));
  const hazard = columnOf(kept, (j) => floatAt(failed, j) / floatAt(atRisk, j));
  return curveOf(rows, column(support.from), column(support.to), hazard, column(atRisk), start, end);
}

/** Failures in each innermost interval; each lies in one. */
function failedIn(rows: LifeSample, { to, first }: Support): Float64Array {
  const failed = new Float64Array(to.length);
  for (let i = 0; i < rows.lower.length; i++) {
    if (isFailure(rows, i)) failed[at(first, i)] = floatAt(failed, at(first, i)) + floatAt(rows.count, i);
  }
  return failed;
}

/** Lives at risk in each innermost interval: entered before it, and known to have been sound up to it and watched in it. */
function watchedAt(rows: LifeSample, { to, first, seen }: Support): Float64Array {
  const change = new Float64Array(to.length + 1);
  const add = (j: number, by: number): void => {
    change[Math.min(j, to.length)] = floatAt(change, Math.min(j, to.length)) + by;
  };
  for (let i = 0; i < rows.lower.length; i++) {
    const last = at(first, i) + (isFailure(rows, i) ? 1 : 0);
    if (last <= at(seen, i)) continue;
    add(at(seen, i), floatAt(rows.count, i));
    add(last, -floatAt(rows.count, i));
  }
  let risk = 0;
  return columnOf(to, (_, j) => {
    risk += floatAt(change, j);
    return risk;
  });
}

function fromTurnbull(rows: LifeSample, start: number, end: number): ObservedCurve {
  const { from, age, survival, mass } = turnbull(rows, { draws: 0 });
  const hazard = columnOf(mass, (m, j) => Math.min(1, m / (m + floatAt(survival, j))));
  const atRisk = columnOf(age, (to) => {
    let risk = 0;
    for (let i = 0; i < rows.lower.length; i++) {
      const reaches = isFailure(rows, i) ? floatAt(rows.upper, i) >= to : floatAt(rows.lower, i) >= to;
      if (reaches && floatAt(rows.entry, i) < to) risk += floatAt(rows.count, i);
    }
    return risk;
  });
  return curveOf(rows, from, age, hazard, atRisk, start, end);
}

function curveOf(
  rows: LifeSample,
  from: Float64Array,
  to: Float64Array,
  hazard: Float64Array,
  atRisk: Float64Array,
  start: number,
  end: number,
): ObservedCurve {
  let lives = 0;
  for (let i = 0; i < rows.lower.length; i++) {
    const reaches = isFailure(rows, i) ? floatAt(rows.upper, i) > start : floatAt(rows.lower, i) > start;
    if (reaches) lives += floatAt(rows.count, i);
  }
  let [survival, total] = [1, 0];
  const out = {
    survival: columnOf(to, () => 0),
    cumulativeHazard: columnOf(to, () => 0),
    watched: columnOf(to, () => 0),
  };
  for (let j = 0; j < to.length; j++) {
    out.watched[j] = Math.min(1, floatAt(atRisk, j) / (lives * survival));
    survival *= Math.max(0, 1 - floatAt(hazard, j));
    total += floatAt(hazard, j);
    out.survival[j] = survival;
    out.cumulativeHazard[j] = total;
  }
  return { from, to, ...out, atRisk, start, end };
}
