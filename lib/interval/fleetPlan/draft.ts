/** A plan in the making: a schedule for every place, what it uses of every limit, and its cost. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { addUse, ROUNDING } from './limitRows.js';
import type { Model, ModelLine, ModelPlace } from './model.js';
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
  const place = itemAt(draft.model.places, p);
  const from = wholeAt(draft.chosen, p);
  return windowsFit(draft, place, from, to) && (place.item < 0 || piecesFit(draft, place, from, to));
}

/** Whether the windows that are new by a schedule have the hours and replacements for a place, and its line may be open. */
function windowsFit(draft: Draft, place: ModelPlace, from: number, to: number): boolean {
  const { rows, lines } = draft.model;
  const { windows, lineRow, offset } = itemAt(lines, place.line);
  const { fitterHours, instrumentHours, schedules } = place;
  const { start, nodes } = schedules;
  let a = wholeAt(start, from);
  const endA = wholeAt(start, from + 1);
  for (let b = wholeAt(start, to), endB = wholeAt(start, to + 1); b < endB; b++) {
    const k = wholeAt(nodes, b);
    while (a < endA && wholeAt(nodes, a) < k) a++;
    if (a < endA && wholeAt(nodes, a) === k) continue;
    const w = wholeAt(windows, k);
    if (!hasRoom(draft, wholeAt(rows.crew, w), fitterHours + instrumentHours)) return false;
    if (!hasRoom(draft, wholeAt(rows.fitter, w), fitterHours)) return false;
    if (!hasRoom(draft, wholeAt(rows.instrument, w), instrumentHours)) return false;
    if (!hasRoom(draft, wholeAt(rows.replacements, w), 1)) return false;
    if (wholeAt(draft.open, offset + k) === 0 && !hasRoom(draft, wholeAt(lineRow, k), 1)) return false;
  }
  return true;
}

/** Whether there are pieces for a schedule at every window from its first one on, those of the present one given back. */
function piecesFit(draft: Draft, place: ModelPlace, from: number, to: number): boolean {
  const { rows, lines, windows: all } = draft.model;
  const { windows } = itemAt(lines, place.line);
  const { start, nodes } = place.schedules;
  let a = wholeAt(start, from);
  const endA = wholeAt(start, from + 1);
  let b = wholeAt(start, to);
  const endB = wholeAt(start, to + 1);
  if (b === endB) return true;
  let row = wholeAt(rows.stock, place.item * all.length + wholeAt(windows, wholeAt(nodes, b)));
  for (let more = 0; row >= 0; row = wholeAt(rows.nextOfItem, row)) {
    const { window } = itemAt(rows.list, row);
    for (; b < endB && wholeAt(windows, wholeAt(nodes, b)) <= window; b++) more++;
    for (; a < endA && wholeAt(windows, wholeAt(nodes, a)) <= window; a++) more--;
    if (!hasRoom(draft, row, more)) return false;
  }
  return true;
}

/** Whether so much more of a row is within its limit; where nothing more is used it is. */
function hasRoom({ model, use }: Draft, row: number, more: number): boolean {
  if (row < 0 || more <= ROUNDING) return true;
  return floatAt(use, row) + more <= itemAt(model.rows.list, row).capacity + ROUNDING;
}

/** Whether a row is over its limit. */
export function isOver({ model, use }: Draft, row: number): boolean {
  return floatAt(use, row) > itemAt(model.rows.list, row).capacity + ROUNDING;
}
