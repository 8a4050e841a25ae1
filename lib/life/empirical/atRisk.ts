/** The table behind both estimates without a model: how many failed at each age, and how many were at risk just before. */
import { UsageError } from '../../errors.js';
import { at, floatAt } from '../../numeric/columns.js';
import type { LifeSample } from '../sampleTypes.js';

/** Smallest number at risk from which curves without a model start (METHODS 1.2). */
export const FEWEST_AT_RISK = 5;

export interface RiskTable {
  /** Distinct ages at failure, ascending. */
  age: Float64Array;
  /** Failures at that age, weights included. */
  failed: Float64Array;
  /** Lives under watch just before that age: entered before it, ended at or after it. */
  atRisk: Float64Array;
  /** Age from which the table counts: survival later on is given survival to here. 0 without delayed entry. */
  start: number;
  /** Largest age at the end of watching. */
  end: number;
}

/**
 * Failures come before lives censored at the same age, and a life that enters at an age is not at risk at it (Kaplan & Meier
 * 1958). With delayed entry the table starts at the smallest entry age with five or more at risk, below which too few are
 * watched to say anything; a sample that never has five starts at its smallest entry.
 * @throws UsageError for interval rows: use `turnbull` for them
 */
export function riskTable(sample: LifeSample, where = 'riskTable'): RiskTable {
  requireKnownCauses(sample, where);
  requireExact(sample, where);
  const rows = watchedRows(sample);
  const ends = sortedBy(rows, sample.lower);
  const entries = sortedBy(rows, sample.entry);
  const start = startAge(sample, entries, ends);
  const age: number[] = [];
  const failed: number[] = [];
  const atRisk: number[] = [];
  let risk = 0;
  let next = 0;
  for (let k = 0; k < ends.length; ) {
    const now = floatAt(sample.lower, at(ends, k));
    for (; next < entries.length && floatAt(sample.entry, at(entries, next)) < now; next++) {
      risk += floatAt(sample.count, at(entries, next));
    }
    let lost = 0;
    let left = 0;
    for (; k < ends.length && floatAt(sample.lower, at(ends, k)) === now; k++) {
      const i = at(ends, k);
      left += floatAt(sample.count, i);
      if (floatAt(sample.upper, i) !== Infinity) lost += floatAt(sample.count, i);
    }
    if (lost > 0 && now > start) {
      age.push(now);
      failed.push(lost);
      // Weights may be broken numbers: what is left of the sum after the last life is rounding.
      atRisk.push(Math.max(risk, lost));
    }
    risk -= left;
  }
  return {
    age: Float64Array.from(age),
    failed: Float64Array.from(failed),
    atRisk: Float64Array.from(atRisk),
    start,
    end: floatAt(sample.lower, at(ends, ends.length - 1)),
  };
}

/** Age from which estimates without a model count. */
export function startOf(sample: LifeSample): number {
  const rows = watchedRows(sample);
  return startAge(sample, sortedBy(rows, sample.entry), sortedBy(rows, sample.lower));
}

/** Smallest entry with five or more under watch just after it. */
function startAge(sample: LifeSample, entries: Uint32Array, ends: Uint32Array): number {
  let risk = 0;
  let ended = 0;
  for (let k = 0; k < entries.length; ) {
    const now = floatAt(sample.entry, at(entries, k));
    for (; k < entries.length && floatAt(sample.entry, at(entries, k)) === now; k++) {
      risk += floatAt(sample.count, at(entries, k));
    }
    for (; ended < ends.length && floatAt(sample.lower, at(ends, ended)) <= now; ended++) {
      risk -= floatAt(sample.count, at(ends, ended));
    }
    if (risk >= FEWEST_AT_RISK - 1e-9) return now;
  }
  return floatAt(sample.entry, at(entries, 0));
}

/** Rows that were watched for some time; a life last seen sound at its entry tells nothing. */
function watchedRows(sample: LifeSample): Uint32Array {
  const rows = Uint32Array.from(sample.lower.keys()).filter(
    (i) => floatAt(sample.lower, i) > floatAt(sample.entry, i) || floatAt(sample.upper, i) !== Infinity,
  );
  return rows.length > 0 ? rows : Uint32Array.of(0);
}

function sortedBy(rows: Uint32Array, column: Float64Array): Uint32Array {
  return rows.slice().sort((i, j) => floatAt(column, i) - floatAt(column, j));
}

function requireExact(sample: LifeSample, where: string): void {
  for (let i = 0; i < sample.lower.length; i++) {
    const upper = floatAt(sample.upper, i);
    if (upper !== Infinity && upper !== floatAt(sample.lower, i)) {
      const rule = `row ${i + 1} failed inside an interval; use turnbull, or give one age.`;
      throw new UsageError(where, rule, `${floatAt(sample.lower, i)} to ${upper}`);
    }
  }
}

/** @throws UsageError where the cause of an end is not known: an estimate without a model cannot tell a failure from another end */
export function requireKnownCauses({ otherHazard }: LifeSample, where: string): void {
  if (otherHazard?.some((hazard) => hazard > 0)) {
    throw new UsageError(
      where,
      'rows of unknown cause need a model; leave otherHazard out to count them as failures.',
    );
  }
}
