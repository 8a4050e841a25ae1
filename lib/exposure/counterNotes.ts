/** What is told about counters, as numbers while the work goes on. */
import type { AsideReason, CounterEventCode } from './exposureTypes.js';
import { ASIDE_REASONS } from './exposureTypes.js';

/** An event in numbers. */
export interface NotedEvent {
  code: CounterEventCode;
  position: number;
  counter: number;
  dayBefore: number;
  valueBefore: number;
  dayAfter: number;
  valueAfter: number;
}

/** Notes of one run: events (the first of each kind, all counted) and why values were set aside. */
export interface CounterNotes {
  position: number;
  counter: number;
  mostListed: number;
  events: NotedEvent[];
  counts: Map<CounterEventCode, number>;
  /** By counter, then by reason. */
  asideValues: Int32Array[];
  /** By row of the present position: 1 + reason, 0 where none. */
  rowReason: Uint8Array;
  /** By row of the present position: 1 where its value of the present counter is used as far as is known. */
  pending: Uint8Array;
}

export function counterNotes(counters: number, mostListed: number, rows: number): CounterNotes {
  return {
    position: 0,
    counter: 0,
    mostListed,
    events: [],
    counts: new Map(),
    asideValues: Array.from({ length: counters }, () => new Int32Array(ASIDE_REASONS.length)),
    rowReason: new Uint8Array(rows),
    pending: new Uint8Array(rows),
  };
}

export function tell(
  notes: CounterNotes,
  code: CounterEventCode,
  [dayBefore, valueBefore]: readonly [number, number],
  [dayAfter, valueAfter]: readonly [number, number],
): void {
  const { position, counter, mostListed, events, counts } = notes;
  const before = counts.get(code) ?? 0;
  counts.set(code, before + 1);
  if (before < mostListed) {
    events.push({ code, position, counter, dayBefore, valueBefore, dayAfter, valueAfter });
  }
}

/** Sets one value of the present counter aside; its row is told by the first reason that it meets. What was set aside stays so. */
export function setValueAside(notes: CounterNotes, reason: AsideReason, row: number): void {
  if (notes.pending[row] !== 1) return;
  notes.pending[row] = 0;
  const place = ASIDE_REASONS.indexOf(reason);
  const values = notes.asideValues[notes.counter] as Int32Array;
  values[place] = (values[place] as number) + 1;
  if (notes.rowReason[row] === 0) notes.rowReason[row] = 1 + place;
}
