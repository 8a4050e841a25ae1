/** A plan in the making: a schedule for every place, what it uses of every limit, and its cost. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { addUse, ROUNDING } from './limitRows.js';
import type { Model } from './model.js';
import type { Schedules } from './schedules.js';

export interface Draft {
  model: Model;
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
    chosen: new Int32Array(chosen.length),
    use: new Float64Array(rows),
    open: new Int32Array(counts),
    cost: 0,
    scratch: new Float64Array(rows),
  };
  for (let p = 0; p < chosen.length; p++) draft.cost += costOfSchedule(itemAt(model.places, p).schedules, 0);
  for (let p = 0; p < chosen.length; p++) move(draft, p, wholeAt(chosen, p));
  return draft;
}

/** Cost of one of the schedules of a place, without stops; it must be among them. */
export function costOfSchedule({ place, cost }: Schedules, schedule: number): number {
  return floatAt(cost, wholeAt(place, schedule));
}

/** What the stops would cost less if a place were not replaced at all. */
export function stopsToSave({ model, open, chosen }: Draft, p: number): number {
  const line = itemAt(model.lines, itemAt(model.places, p).line);
  let saved = 0;
  for (let bits = wholeAt(chosen, p); bits !== 0; bits &= bits - 1) {
    const k = 31 - Math.clz32(bits & -bits);
    if (wholeAt(open, line.offset + k) === 1) saved += floatAt(line.stopCost, k);
  }
  return saved;
}

/** What the stops cost more if a place goes from its schedule to another. */
export function stopChange({ model, open, chosen }: Draft, p: number, to: number): number {
  const line = itemAt(model.lines, itemAt(model.places, p).line);
  const from = wholeAt(chosen, p);
  let change = 0;
  for (let bits = from ^ to; bits !== 0; bits &= bits - 1) {
    const k = 31 - Math.clz32(bits & -bits);
    const others = wholeAt(open, line.offset + k) - ((from >> k) & 1);
    if (others === 0) change += floatAt(line.stopCost, k) * ((to >> k) & 1 ? 1 : -1);
  }
  return change;
}

/** Gives a place another schedule. */
export function move(draft: Draft, p: number, to: number): void {
  const { model, chosen, use, open } = draft;
  const from = wholeAt(chosen, p);
  if (from === to) return;
  const place = itemAt(model.places, p);
  const line = itemAt(model.lines, place.line);
  draft.cost +=
    costOfSchedule(place.schedules, to) - costOfSchedule(place.schedules, from) + stopChange(draft, p, to);
  addUse(model, p, from, -1, use);
  addUse(model, p, to, 1, use);
  for (let bits = from ^ to; bits !== 0; bits &= bits - 1) {
    const k = 31 - Math.clz32(bits & -bits);
    const step = (to >> k) & 1 ? 1 : -1;
    const before = wholeAt(open, line.offset + k);
    open[line.offset + k] = before + step;
    const row = wholeAt(line.lineRow, k);
    if (row >= 0 && before + (step < 0 ? -1 : 0) === 0) use[row] = floatAt(use, row) + step;
  }
  chosen[p] = to;
}

/** Whether a place could go to another schedule without more of anything that would then be over its limit. */
export function fits(draft: Draft, p: number, to: number): boolean {
  const { model, chosen, scratch } = draft;
  const { rows, windows, lines } = model;
  const from = wholeAt(chosen, p);
  if (!linesFit(draft, p, to)) return false;
  addUse(model, p, from, -1, scratch);
  addUse(model, p, to, 1, scratch);
  const { line, item } = itemAt(model.places, p);
  const own = itemAt(lines, line).windows;
  let over = 0;
  for (let bits = from | to; bits !== 0; bits &= bits - 1) {
    const w = wholeAt(own, 31 - Math.clz32(bits & -bits));
    over += settled(draft, wholeAt(rows.crew, w)) + settled(draft, wholeAt(rows.fitter, w));
    over += settled(draft, wholeAt(rows.instrument, w)) + settled(draft, wholeAt(rows.replacements, w));
    if (item < 0) continue;
    let row = wholeAt(rows.stock, item * windows.length + w);
    for (; row >= 0; row = wholeAt(rows.nextOfItem, row)) over += settled(draft, row);
  }
  return over === 0;
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

function linesFit({ model, chosen, open, use }: Draft, p: number, to: number): boolean {
  const line = itemAt(model.lines, itemAt(model.places, p).line);
  for (let bits = to & ~wholeAt(chosen, p); bits !== 0; bits &= bits - 1) {
    const k = 31 - Math.clz32(bits & -bits);
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
