/** Every life on the clocks of its counters. */
import type { LifeTable, Site } from '../fleet/types.js';
import { columnOf, floatAt, itemAt, wholeAt } from '../numeric/columns.js';
import { checkReadings, exposureLimits } from './checkExposure.js';
import { type CountedFleet, type DaySpans, followSpans } from './exposeSpans.js';
import {
  COUNTERS,
  type CounterColumns,
  type CounterName,
  type ExposureFindings,
  type ExposureOptions,
  MEASURED,
  UNKNOWN,
} from './exposureTypes.js';

/** One counter over lives, rows as in `Fleet.lives`. */
export interface LifeExposure extends CounterColumns {
  /** Counts from fitting to the day from which the records watch the life: 0 where it is watched from new. */
  toEntry: Float64Array;
  markToEntry: Uint8Array;
  /** Counts from fitting to the last test that found it tight; NaN where there is none. */
  toLastTight: Float64Array;
  markToLastTight: Uint8Array;
}

/** Rows as in `Fleet.lives`. NaN where not known. */
export interface ExposedLives extends Record<CounterName, LifeExposure> {
  length: number;
  /** Days from fitting to removal, or to the day of the data while running. */
  days: Float64Array;
  /** `measured`, or `unknown` where the day of fitting is not known or the life ends before it begins. */
  daysMark: Uint8Array;
  findings: ExposureFindings;
}

/** What of a fleet is needed. */
export interface ExposedFleet extends CountedFleet {
  lives: Pick<LifeTable, 'length' | 'position' | 'fitted' | 'removed' | 'lastTight'>;
  site: Pick<Site, 'dataUntil' | 'recordsFrom'>;
}

/**
 * Readings of strokes, steam cycles and hot cleans become the exposure of each life from its fitting to its removal, or to the day of the
 * data while it runs. Between readings a counter is a straight line over the days in use (it does not rise while the position is idle);
 * before the first and after the last it goes on by the position's own rate within limits, then by the duty in positions.csv; a
 * counter that went round (once between two readings), was set to zero or replaced is recognised and told. Each number says how well it is known.
 *
 * Exposures go into a life sample as ages on another clock; rows marked `unknown` are NaN and must be left out
 * and named.
 *
 *     const { strokes, findings } = exposeLives(fleet);
 *     strokes.exposure[0]; // 4 231
 *     EXPOSURE_MARKS[strokes.mark[0]]; // 'interpolated'
 *
 * @throws UsageError for limits that make no sense, and columns of readings that are no table
 */
export function exposeLives(fleet: ExposedFleet, options: ExposureOptions = {}): ExposedLives {
  const limits = exposureLimits('exposeLives', options);
  checkReadings('exposeLives', fleet.readings, fleet.positions.length);
  const { length } = fleet.lives;
  const { whole, toEntry, toLastTight } = spansOfLives(fleet);
  const spans = stacked(whole, toEntry, toLastTight);
  const isLife = new Uint8Array(3 * length);
  isLife.fill(1, 0, length);
  const exposed = followSpans(fleet, spans, isLife, limits);
  const days = columnOf(whole.from, (from, i) => floatAt(whole.to, i) - from);
  const [strokes, steamCycles, hotCleans] = COUNTERS.map((name) => lifeExposure(exposed[name], length));
  return {
    length,
    days,
    daysMark: Uint8Array.from(days, (each) => (Number.isNaN(each) ? UNKNOWN : MEASURED)),
    strokes: strokes as LifeExposure,
    steamCycles: steamCycles as LifeExposure,
    hotCleans: hotCleans as LifeExposure,
    findings: exposed.findings,
  };
}

/** Spans of each life from its fitting: to its end, to the day from which it is watched, and to the last test that found it tight. */
export function spansOfLives(
  fleet: Pick<ExposedFleet, 'positions' | 'lives' | 'site'>,
): Record<'whole' | 'toEntry' | 'toLastTight', DaySpans> {
  const whole = lifeSpans(fleet);
  return {
    whole,
    toEntry: partSpans(whole, entryDays(fleet)),
    toLastTight: partSpans(whole, fleet.lives.lastTight),
  };
}

/** Fitting to removal or the day of the data; not known where either is, or where they are out of order. */
function lifeSpans({ lives, site }: Pick<ExposedFleet, 'lives' | 'site'>): DaySpans {
  const from = lives.fitted.slice(0, lives.length);
  const to = new Float64Array(lives.length);
  for (let i = 0; i < lives.length; i++) {
    const removed = floatAt(lives.removed, i);
    to[i] = Number.isNaN(removed) ? site.dataUntil : removed;
    if (floatAt(to, i) < floatAt(from, i)) from[i] = Number.NaN;
  }
  return { position: lives.position, from, to };
}

/** The day from which the records watch each life. */
function entryDays({
  lives,
  positions,
  site,
}: Pick<ExposedFleet, 'lives' | 'positions' | 'site'>): Float64Array {
  return columnOf(lives.fitted, (fitted, i) => {
    const since = itemAt(positions, wholeAt(lives.position, i)).inServiceSince ?? -Infinity;
    return Math.max(fitted, site.recordsFrom ?? -Infinity, since);
  });
}

/** From fitting to a day within the life; not known where there is no such day. */
function partSpans({ position, from, to }: DaySpans, day: Float64Array): DaySpans {
  const until = columnOf(from, (start, i) => {
    const end = floatAt(day, i);
    return end >= start ? Math.min(end, floatAt(to, i)) : Number.NaN;
  });
  return { position, from, to: until };
}

function stacked(...parts: readonly DaySpans[]): DaySpans {
  const length = parts.reduce((total, { from }) => total + from.length, 0);
  const spans = {
    position: new Int32Array(length),
    from: new Float64Array(length),
    to: new Float64Array(length),
  };
  let place = 0;
  for (const { position, from, to } of parts) {
    spans.position.set(position, place);
    spans.from.set(from, place);
    spans.to.set(to, place);
    place += from.length;
  }
  return spans;
}

function lifeExposure(columns: CounterColumns, length: number): LifeExposure {
  const reals = (column: Float64Array, part = 0): Float64Array =>
    column.slice(part * length, (part + 1) * length);
  const marks = (column: Uint8Array, part = 0): Uint8Array =>
    column.slice(part * length, (part + 1) * length);
  const toEntry = reals(columns.exposure, 1);
  const markToEntry = marks(columns.mark, 1);
  return {
    exposure: reals(columns.exposure),
    byRate: reals(columns.byRate),
    mark: marks(columns.mark),
    atStart: reals(columns.atStart),
    atEnd: reals(columns.atEnd),
    markAtStart: marks(columns.markAtStart),
    markAtEnd: marks(columns.markAtEnd),
    toEntry,
    markToEntry,
    toLastTight: reals(columns.exposure, 2),
    markToLastTight: marks(columns.mark, 2),
  };
}
