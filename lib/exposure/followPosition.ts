/** All counters of one position: its readings, then the spans that ask for them. */
import { at, floatAt, itemAt, wholeAt } from '../numeric/columns.js';
import { copyClean } from './copyClean.js';
import { type CounterMoment, type CounterView, counterAt, counterMoment, markBetween } from './counterAt.js';
import { type CounterNotes, counterNotes, setValueAside, tell } from './counterNotes.js';
import {
  addUp,
  type CounterTrail,
  counterTrail,
  ownRate,
  type RawReadings,
  rawReadings,
} from './counterTrail.js';
import type { CountedFleet, CountedPosition, DaySpans } from './exposeSpans.js';
import {
  ASIDE_REASONS,
  COUNTERS,
  type CounterColumns,
  type CounterTables,
  type ExposureLimits,
  UNKNOWN,
} from './exposureTypes.js';
import { bridgeFlatSpan } from './flatSpan.js';
import { type CounterSetting, mendCounter } from './mendCounter.js';
import { neverMoved, rateAgainstDuty } from './rateQuestions.js';
import type { SortedRows } from './sortReadings.js';
import { useCalendar, useDay } from './useDays.js';

export interface Asked {
  spans: DaySpans;
  /** 1 for spans that are lives; the others only ask. */
  isLife: Uint8Array;
  rows: SortedRows;
  asked: SortedRows;
  limits: ExposureLimits;
  tables: CounterTables;
}

/** Everything of one run: what is given, room for one position at a time, and what is noted. */
export interface ReadingsWork extends Asked {
  fleet: CountedFleet;
  counters: readonly Float64Array[];
  raw: RawReadings;
  trail: CounterTrail;
  room: Float64Array;
  /** Rows of the present position up to the day of the data. */
  day: Float64Array;
  use: Float64Array;
  rowUsed: Uint8Array;
  notes: CounterNotes;
  valuesIn: Float64Array;
  valuesUsed: Float64Array;
  /** Rows by the reason for which they are set aside. */
  rowsAside: Float64Array;
  rowsUsed: number;
  rowsOutside: number;
  start: CounterMoment;
  end: CounterMoment;
}

export function readingsWork(fleet: CountedFleet, asked: Asked): ReadingsWork {
  const { strokes, steamCycles, hotCleans } = fleet.readings;
  const { start } = asked.rows;
  let most = 0;
  for (let p = 0; p + 1 < start.length; p++) most = Math.max(most, wholeAt(start, p + 1) - wholeAt(start, p));
  return {
    ...asked,
    fleet,
    counters: [strokes, steamCycles, hotCleans],
    raw: rawReadings(most),
    trail: counterTrail(most),
    room: new Float64Array(most),
    day: new Float64Array(most),
    use: new Float64Array(most),
    rowUsed: new Uint8Array(most),
    notes: counterNotes(COUNTERS.length, asked.limits.mostListed, most),
    valuesIn: new Float64Array(COUNTERS.length),
    valuesUsed: new Float64Array(COUNTERS.length),
    rowsAside: new Float64Array(ASIDE_REASONS.length),
    rowsUsed: 0,
    rowsOutside: 0,
    start: counterMoment(),
    end: counterMoment(),
  };
}

export function followPosition(work: ReadingsWork, p: number): void {
  const { fleet, rows, notes } = work;
  const position = itemAt(fleet.positions, p);
  const calendar = useCalendar(position);
  const count = at(rows.start, p + 1) - at(rows.start, p);
  const lives = livesOf(work, p);
  notes.position = p;
  notes.rowReason.fill(0, 0, count);
  work.rowUsed.fill(0, 0, count);
  for (let i = 0; i < count; i++) {
    const day = floatAt(fleet.readings.date, rowAt(rows, p, i));
    work.day[i] = day;
    work.use[i] = useDay(calendar, day);
  }
  for (let c = 0; c < COUNTERS.length; c++) {
    notes.counter = c;
    const duty = dutyOf(position, c);
    gather(work, p, c, count, lives.from.length > 0);
    const setting = { fittings: lives.from, calendar, duty, othersFell: fellElsewhere(work, p, c) };
    answer(work, p, c, viewOf(work, setting, lives.from[0] ?? 0));
    countUsed(work, c, count);
  }
  countRows(work, count, lives);
}

interface PositionLives {
  from: number[];
  to: number[];
}

/** Known spans of the lives of a position, in order of fitting. */
function livesOf({ spans, asked, isLife }: ReadingsWork, p: number): PositionLives {
  const lives: PositionLives = { from: [], to: [] };
  for (let k = at(asked.start, p); k < at(asked.start, p + 1); k++) {
    const i = asked.order === null ? k : wholeAt(asked.order, k);
    const from = floatAt(spans.from, i);
    if (at(isLife, i) === 0 || Number.isNaN(from) || Number.isNaN(floatAt(spans.to, i))) continue;
    lives.from.push(from);
    lives.to.push(floatAt(spans.to, i));
  }
  return lives;
}

function rowAt({ start, order }: SortedRows, p: number, i: number): number {
  const k = wholeAt(start, p) + i;
  return order === null ? k : wholeAt(order, k);
}

/** Whether another counter than c fell between two rows of the position. */
function fellElsewhere({ counters, rows }: ReadingsWork, p: number, c: number): CounterSetting['othersFell'] {
  return (before, after) =>
    counters.some(
      (counter, other) =>
        other !== c && floatAt(counter, rowAt(rows, p, after)) < floatAt(counter, rowAt(rows, p, before)),
    );
}

const DAYS_PER_WEEK = 7;

function dutyOf(position: CountedPosition, counter: number): number | null {
  if (counter === 0) return position.strokesPerDay;
  const perWeek = counter === 1 ? position.steamCyclesPerWeek : position.hotCleansPerWeek;
  return perWeek === null ? null : perWeek / DAYS_PER_WEEK;
}

/** The readings of one counter that can be used, in order of day; the others are set aside. */
function gather(work: ReadingsWork, p: number, c: number, count: number, hasLife: boolean): void {
  const { raw, rows, notes, fleet, day, use } = work;
  const counter = itemAt(work.counters, c);
  const until = fleet.site.dataUntil;
  let length = 0;
  let seen = 0;
  let whole = true;
  for (let i = 0; i < count; i++) {
    const value = floatAt(counter, rowAt(rows, p, i));
    notes.pending[i] = 0;
    if (Number.isNaN(value)) continue;
    seen += 1;
    notes.pending[i] = 1;
    const date = floatAt(day, i);
    if (date > until) setValueAside(notes, 'after-data', i);
    else if (!(value >= 0 && value < Infinity)) setValueAside(notes, 'not-a-count', i);
    else if (!hasLife) setValueAside(notes, 'no-life', i);
    else {
      raw.day[length] = date;
      raw.use[length] = floatAt(use, i);
      raw.value[length] = value;
      raw.row[length] = i;
      whole = whole && value % 1 === 0;
      length += 1;
    }
  }
  raw.length = length;
  raw.resolution = whole ? 1 : 0;
  work.valuesIn[c] = floatAt(work.valuesIn, c) + seen;
}

/** Mends the readings gathered, and finds rates. */
function viewOf(work: ReadingsWork, setting: CounterSetting, origin: number): CounterView {
  const { raw, trail, notes, limits, room } = work;
  const { duty, calendar } = setting;
  trail.length = 0;
  if (raw.length > 0 && !copyClean(raw, trail)) {
    mendCounter(raw, trail, setting, room, notes);
    if (limits.flat === 'stood still') bridgeFlatSpan(trail, raw.resolution, notes);
  }
  if (neverMoved(trail, duty)) {
    tell(notes, 'never-moved', [floatAt(trail.day, 0), floatAt(trail.value, 0)], lastOf(trail));
    for (let k = 0; k < raw.length; k++) setValueAside(notes, 'never-moved', wholeAt(raw.row, k));
    trail.length = 0;
  }
  const rates = ownRate(trail, duty);
  rateAgainstDuty(trail, rates, notes);
  if (trail.length > 0) addUp(trail, rates, limits.longestBridgeDays);
  return { trail, rates, calendar, limits, origin, hint: 0 };
}

function lastOf(trail: CounterTrail): [number, number] {
  const last = trail.length - 1;
  return [floatAt(trail.day, last), floatAt(trail.value, last)];
}

/** Answers the spans of a position, in order of their start. */
function answer(work: ReadingsWork, p: number, c: number, view: CounterView): void {
  const { spans, asked, tables, start, end } = work;
  const columns = tables[itemAt(COUNTERS, c)];
  for (let k = at(asked.start, p); k < at(asked.start, p + 1); k++) {
    const i = asked.order === null ? k : wholeAt(asked.order, k);
    const [from, to] = [floatAt(spans.from, i), floatAt(spans.to, i)];
    if (Number.isNaN(from) || Number.isNaN(to)) continue;
    counterAt(view, from, start);
    counterAt(view, to, end);
    fill(columns, i, view, start, end);
  }
}

function fill(
  columns: CounterColumns,
  i: number,
  view: CounterView,
  start: CounterMoment,
  end: CounterMoment,
): void {
  const mark = markBetween(view, start, end);
  const unknown = mark === UNKNOWN;
  columns.mark[i] = mark;
  // Sums of many rises differ by rounding; a counter never goes back.
  columns.exposure[i] = unknown ? Number.NaN : Math.max(0, end.total - start.total);
  columns.byRate[i] = unknown ? Number.NaN : Math.max(0, end.byRate - start.byRate);
  columns.atStart[i] = start.total;
  columns.atEnd[i] = end.total;
  columns.markAtStart[i] = start.mark;
  columns.markAtEnd[i] = end.mark;
}

/** Values that were gathered and not set aside since. */
function countUsed({ notes, rowUsed, valuesUsed }: ReadingsWork, c: number, count: number): void {
  let used = 0;
  for (let i = 0; i < count; i++) {
    if (at(notes.pending, i) === 0) continue;
    rowUsed[i] = 1;
    used += 1;
  }
  valuesUsed[c] = floatAt(valuesUsed, c) + used;
}

/** A row is used where one of its counters is; else it is told by its first reason. */
function countRows(work: ReadingsWork, count: number, { from, to }: PositionLives): void {
  const { rowUsed, rowsAside, notes, day } = work;
  let begun = 0;
  let until = -Infinity;
  for (let i = 0; i < count; i++) {
    if (at(rowUsed, i) === 0) {
      const reason = Math.max(0, at(notes.rowReason, i) - 1);
      rowsAside[reason] = floatAt(rowsAside, reason) + 1;
      continue;
    }
    work.rowsUsed += 1;
    const date = floatAt(day, i);
    for (; begun < from.length && at(from, begun) <= date; begun++) until = Math.max(until, at(to, begun));
    if (date > until) work.rowsOutside += 1;
  }
}
