/** A plan in the making: a schedule for every place, what it uses of every limit, and its cost. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { addUse, ROUNDING } from './limitRows.js';
import type { Model, ModelLine } from './model.js';
import type { Schedules } from './schedules.js';

export interface Draft {
  model: Model;
  /** Number of the schedule, by place. */
  chosen: Int32Array;
  /** By row of the limits. */
  use: Float64Array;
  /** Number of replacements by line and window of the line. */
  open: Int32Array;
  /** Stops and demands missed included. */
  cost: number;
  /** Changes to the rows while a move is looked at; all 0 in between. */
  scratch: Float64Array;
}

/** A draft with these schedules, within the limits or not. */
export function draftOf(model: Model, chosen: Int32Array): Draft {
  const counts = model.lines.reduce((sum, { windows }) => sum + windows.length, 0);
  const rows = model.rows.list.length;
  const draft: Draft = {
    model,
    chosen: Int32Array.from(model.places, ({ schedules }) => schedules.empty),
    use: new Float64Array(rows),
    open: new Int32Array(counts),
    cost: 0,
    scratch: new Float64Array(rows),
  };
  for (const { schedules } of model.places) draft.cost += floatAt(schedules.cost, schedules.empty);
  for (let p = 0; p < chosen.length; p++) move(draft, p, wholeAt(chosen, p));
  return draft;
}

/** Number of a place's schedule in the draft, and what it costs without stops. */
export function costNow({ model, chosen }: Draft, p: number): number {
  return floatAt(itemAt(model.places, p).schedules.cost, wholeAt(chosen, p));
}

/** What the stops would cost less if a place were not replaced at all. */
export function stopsToSave({ model, open, chosen }: Draft, p: number): number {
  const { line: l, schedules } = itemAt(model.places, p);
  const line = itemAt(model.lines, l);
  const { start, nodes } = schedules;
  const now = wholeAt(chosen, p);
  let saved = 0;
  for (let n = wholeAt(start, now), end = wholeAt(start, now + 1); n < end; n++) {
    const k = wholeAt(nodes, n);
    if (wholeAt(open, line.offset + k) === 1) saved += floatAt(line.stopCost, k);
  }
  return saved;
}

/** What the stops cost more if a place goes from its schedule to another. */
export function stopChange({ model, open, chosen }: Draft, p: number, to: number): number {
  const { line: l, schedules } = itemAt(model.places, p);
  const { offset, stopCost } = itemAt(model.lines, l);
  const { start, nodes } = schedules;
  const from = wholeAt(chosen, p);
  let [a, b, change] = [wholeAt(start, from), wholeAt(start, to), 0];
  const [endA, endB] = [wholeAt(start, from + 1), wholeAt(start, to + 1)];
  // Both lists of windows in order, what they have in common left out.
  while (a < endA || b < endB) {
    const left = a < endA ? wholeAt(nodes, a) : Infinity;
    const come = b < endB ? wholeAt(nodes, b) : Infinity;
    if (left < come && wholeAt(open, offset + left) === 1) change -= floatAt(stopCost, left);
    if (come < left && wholeAt(open, offset + come) === 0) change += floatAt(stopCost, come);
    if (left <= come) a++;
    if (come <= left) b++;
  }
  return change;
}

/** Gives a place another schedule. */
export function move(draft: Draft, p: number, to: number): void {
  const { model, chosen, use } = draft;
  const from = wholeAt(chosen, p);
  if (from === to) return;
  const place = itemAt(model.places, p);
  const line = itemAt(model.lines, place.line);
  const { cost } = place.schedules;
  draft.cost += floatAt(cost, to) - floatAt(cost, from) + stopChange(draft, p, to);
  addUse(model, p, from, -1, use);
  addUse(model, p, to, 1, use);
  countOpen(draft, line, place.schedules, from, -1);
  countOpen(draft, line, place.schedules, to, 1);
  chosen[p] = to;
}

/** Counts a schedule in, or out, at the windows of its line; one that opens or closes the line is counted there. */
function countOpen(
  { open, use }: Draft,
  line: ModelLine,
  { start, nodes }: Schedules,
  schedule: number,
  step: number,
): void {
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++) {
    const k = wholeAt(nodes, n);
    const before = wholeAt(open, line.offset + k);
    open[line.offset + k] = before + step;
    const row = wholeAt(line.lineRow, k);
    if (row >= 0 && before + (step < 0 ? -1 : 0) === 0) use[row] = floatAt(use, row) + step;
  }
}

/** Whether a place could go to another schedule without more of anything that would then be over its limit. */
export function fits(draft: Draft, p: number, to: number): boolean {
  const { model, chosen, scratch } = draft;
  const from = wholeAt(chosen, p);
  if (!linesFit(draft, p, to)) return false;
  addUse(model, p, from, -1, scratch);
  addUse(model, p, to, 1, scratch);
  return settledAll(draft, p, from) + settledAll(draft, p, to) === 0;
}

/** Number of rows that a change looked at puts over their limits, at the windows of a schedule. */
function settledAll(draft: Draft, p: number, schedule: number): number {
  const { rows, windows, lines, places } = draft.model;
  const { line, item, schedules } = itemAt(places, p);
  const { start, nodes } = schedules;
  const own = itemAt(lines, line).windows;
  let over = 0;
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++) {
    const w = wholeAt(own, wholeAt(nodes, n));
    over += settled(draft, wholeAt(rows.crew, w)) + settled(draft, wholeAt(rows.fitter, w));
    over += settled(draft, wholeAt(rows.instrument, w)) + settled(draft, wholeAt(rows.replacements, w));
    if (item < 0) continue;
    let row = wholeAt(rows.stock, item * windows.length + w);
    for (; row >= 0; row = wholeAt(rows.nextOfItem, row)) over += settled(draft, row);
  }
  return over;
}

/** 1 where the change looked at puts a row over its limit, or further over; the change is forgotten. */
function settled({ model, use, scratch }: Draft, row: number): number {
  if (row < 0) return 0;
  const more = floatAt(scratch, row);
  scratch[row] = 0;
  return more > ROUNDING && floatAt(use, row) + more > itemAt(model.rows.list, row).capacity + ROUNDING
    ? 1
    : 0;
}

function linesFit({ model, open, use }: Draft, p: number, to: number): boolean {
  const { line: l, schedules } = itemAt(model.places, p);
  const line = itemAt(model.lines, l);
  const { start, nodes } = schedules;
  for (let n = wholeAt(start, to), end = wholeAt(start, to + 1); n < end; n++) {
    const k = wholeAt(nodes, n);
    const row = wholeAt(line.lineRow, k);
    if (row < 0 || wholeAt(open, line.offset + k) > 0) continue;
    if (floatAt(use, row) + 1 > itemAt(model.rows.list, row).capacity + ROUNDING) return false;
  }
  return true;
}

/** Whether a row is over its limit. */
export function isOver({ model, use }: Draft, row: number): boolean {
  return floatAt(use, row) > itemAt(model.rows.list, row).capacity + ROUNDING;
}
