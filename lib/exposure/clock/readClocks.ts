/** The columns of a choice of clock: checked, and cut to the lives on which all candidates are known. */
import { UsageError } from '../../errors.js';
import { failureCount, isFailure } from '../../life/sample.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { at, columnOf, floatAt, sum } from '../../numeric/columns.js';
import { count } from '../../numeric/words.js';
import { type ClockColumns, type ClockExposure, DAYS } from './types.js';

const WHERE = 'chooseClock';
/** An exposure is a candidate where so many failures and this share of all lives have it. */
const FEWEST_FAILURES = 5;
const LEAST_SHARE = 0.5;

/** Counts of one candidate at the ends of the lives compared; days are such a candidate, with rate 1. */
export interface ClockEnds {
  lower: Float64Array;
  upper: Float64Array;
  entry: Float64Array;
  rate: Float64Array;
  /** Numbers behind it that were estimated from the same lives. */
  estimated: number;
}

export interface KnownClocks {
  /** The lives compared, in days. */
  sample: LifeSample;
  days: ClockEnds;
  exposures: Map<string, ClockEnds>;
  /** Rows of the lives that are not compared. */
  unknown: number[];
  leftOut: string[];
}

/**
 * @throws UsageError for a candidate called days or without a name, columns of another length than the sample, counts that are
 * negative or fall along a life, entries that are missing, and rows of unknown cause
 */
export function readClocks({ days, exposures, names }: ClockColumns): KnownClocks {
  if (days.otherHazard?.some((hazard) => hazard > 0)) {
    throw new UsageError(WHERE, 'rows of unknown cause are not taken.');
  }
  if (names !== undefined && names.length !== days.lower.length) {
    throw new UsageError(WHERE, `names must be as long as the sample (${days.lower.length}).`, names.length);
  }
  const all = Object.entries(exposures).map(([name, columns]) => ({
    name,
    ends: endsOf(days, name, columns),
  }));
  const leftOut: string[] = [];
  const used = all.filter(({ name, ends }) => {
    const reason = tooFew(days, ends);
    if (reason !== null) leftOut.push(`${name}: ${reason}`);
    return reason === null;
  });
  const rows = Array.from(days.lower.keys());
  const isKnown = (i: number): boolean => used.every(({ ends }) => hasAll(ends, i));
  const known = rows.filter(isKnown);
  const cut = (ends: ClockEnds): ClockEnds => ({
    lower: picked(ends.lower, known),
    upper: picked(ends.upper, known),
    entry: picked(ends.entry, known),
    rate: picked(ends.rate, known),
    estimated: ends.estimated,
  });
  return {
    sample: sampleOf(days, known),
    days: cut(daysEnds(days)),
    exposures: new Map(used.map(({ name, ends }) => [name, cut(ends)])),
    unknown: rows.filter((i) => !isKnown(i)),
    leftOut,
  };
}

/** Some rows of a sample. */
export function sampleOf(sample: LifeSample, rows: readonly number[]): LifeSample {
  return {
    lower: picked(sample.lower, rows),
    upper: picked(sample.upper, rows),
    entry: picked(sample.entry, rows),
    count: picked(sample.count, rows),
    cluster: Int32Array.from(rows, (i) => at(sample.cluster, i)),
  };
}

function picked(column: Float64Array, rows: readonly number[]): Float64Array {
  return columnOf(rows, (i) => floatAt(column, i));
}

function daysEnds({ lower, upper, entry }: LifeSample): ClockEnds {
  const start = columnOf(lower, (x, i) => Math.max(x, floatAt(entry, i)));
  return { lower: start, upper, entry, rate: new Float64Array(lower.length).fill(1), estimated: 0 };
}

function endsOf(days: LifeSample, name: string, exposure: ClockExposure): ClockEnds {
  if (name === '' || name === DAYS)
    throw new UsageError(WHERE, 'an exposure needs a name other than days.', name);
  const rows = days.lower.length;
  for (const column of ['exit', 'rate', 'entry', 'lower'] as const) {
    const length = exposure[column]?.length ?? rows;
    if (length !== rows) {
      throw new UsageError(WHERE, `${column} of ${name} must be as long as the sample (${rows}).`, length);
    }
  }
  if (exposure.entry === undefined && days.entry.some((entry) => entry > 0)) {
    throw new UsageError(WHERE, `lives came under watch late, so ${name} needs the column entry.`);
  }
  const out: ClockEnds = {
    lower: new Float64Array(rows),
    upper: new Float64Array(rows),
    entry: new Float64Array(rows),
    rate: Float64Array.from(exposure.rate),
    estimated: exposure.estimated ?? 0,
  };
  for (let i = 0; i < rows; i++) fillRow(out, days, name, exposure, i);
  return out;
}

function fillRow(out: ClockEnds, days: LifeSample, name: string, exposure: ClockExposure, i: number): void {
  const exit = at(exposure.exit, i);
  const rate = at(exposure.rate, i);
  const entry = floatAt(days.entry, i) > 0 ? at(exposure.entry ?? [], i) : 0;
  for (const [column, value] of Object.entries({ exit, rate, entry })) requireCount(name, column, i, value);
  if (exit < entry) fail(name, i, 'the count must not fall from entry to exit.', `${entry} and ${exit}`);
  const failed = isFailure(days, i);
  out.entry[i] = entry;
  out.upper[i] = failed ? exit : Infinity;
  const [low, high] = [floatAt(days.lower, i), floatAt(days.upper, i)];
  if (!failed || low === high) {
    out.lower[i] = exit;
    return;
  }
  const from = Math.max(low, floatAt(days.entry, i));
  const given = exposure.lower === undefined ? exit - rate * (high - from) : at(exposure.lower, i);
  if (exposure.lower !== undefined) {
    requireCount(name, 'lower', i, given);
    if (given > exit) fail(name, i, 'the count must not fall from lower to exit.', `${given} and ${exit}`);
  }
  // A life new at the lower age has no count yet, whatever a rate says.
  out.lower[i] = from === 0 ? 0 : Number.isNaN(given) ? given : Math.max(given, entry);
}

function requireCount(name: string, column: string, i: number, value: unknown): void {
  if (typeof value !== 'number') fail(name, i, `${column} must be a number, NaN where not known.`, value);
  if ((value as number) < 0 || value === Infinity) {
    fail(name, i, `${column} must be finite and not negative.`, value);
  }
}

function fail(name: string, i: number, rule: string, value: unknown): never {
  throw new UsageError(WHERE, `${name}, row ${i + 1}: ${rule}`, value);
}

function hasAll({ lower, upper, entry, rate }: ClockEnds, i: number): boolean {
  return ![lower, upper, entry, rate].some((column) => Number.isNaN(floatAt(column, i)));
}

function tooFew(days: LifeSample, ends: ClockEnds): string | null {
  const rows = Array.from(days.lower.keys()).filter((i) => hasAll(ends, i));
  const known = sampleOf(days, rows);
  const [lives, failures] = [sum(known.count), failureCount(known)];
  if (failures >= FEWEST_FAILURES && lives >= LEAST_SHARE * sum(days.count)) return null;
  const asked = `at least ${FEWEST_FAILURES} failures and half of the lives are needed`;
  return `known of ${count(lives, 'life', 'lives')} with ${count(failures, 'failure')}; ${asked}.`;
}
