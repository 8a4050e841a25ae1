/** Makes a plan within the limits cheaper by small moves: one place, two places, a line's window opened or closed. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { costNow, type Draft, fits, move, stopChange, stopsToSave } from './draft.js';
import type { ModelLine } from './model.js';
import { emptyWindow } from './repair.js';
import { reply } from './reply.js';

const MOST_PASSES = 30;
const MOST_EXCHANGES = 4;
/** Passes in which places with many windows look beyond their lists, and pairs of windows looked at in all of them. */
const MOST_REPLIES = 3;
const MOST_REPLY_PAIRS = 2e7;
/** Places that want another schedule most, and places asked to make room, in one pass of exchanges. */
const MOST_WANTING = 300;
const MOST_ASKED = 60;
/** Places looked at in one pass of exchanges: large fleets have small gaps without them. */
const MOST_LOOKS = 150_000;
/** A gain below this share of the cost is rounding. */
const WORTH = 1e-12;

/** How far to look: single places; also the stops of whole lines; also one place against another. */
export type Effort = 'places' | 'lines' | 'exchanges';

export function improve(draft: Draft, effort: Effort): void {
  let exchanges = effort === 'exchanges' ? MOST_EXCHANGES : 0;
  let pairs = effort === 'exchanges' ? MOST_REPLY_PAIRS : 0;
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const before = draft.cost;
    for (let p = 0; p < draft.chosen.length; p++) moveOne(draft, p);
    if (pass < MOST_REPLIES) pairs = replies(draft, pairs);
    if (effort !== 'places') for (const line of draft.model.lines) moveLine(draft, line);
    if (draft.cost < before - WORTH * Math.abs(before)) continue;
    if (exchanges-- <= 0) return;
    exchange(draft);
    if (draft.cost >= before - WORTH * Math.abs(before)) return;
  }
}

/** Schedules of places with many windows that are not on their lists, while pairs of windows are left to look at. */
function replies(draft: Draft, pairs: number): number {
  let left = pairs;
  for (const [p, { far, arcs }] of draft.model.places.entries()) {
    if (left <= 0) break;
    if (far < 0) continue;
    reply(draft, p);
    left -= arcs.known ** 2;
  }
  return left;
}

/** Gives a place the schedule that saves most and fits. */
function moveOne(draft: Draft, p: number): void {
  const { schedules } = itemAt(draft.model.places, p);
  const { count, cost, order } = schedules;
  const now = costNow(draft, p);
  const saved = stopsToSave(draft, p);
  let [to, gain] = [-1, -WORTH * Math.abs(draft.cost)];
  for (let n = 0; n < count; n++) {
    const schedule = wholeAt(order, n);
    if (floatAt(cost, schedule) - now - saved >= gain) break;
    if (schedule === wholeAt(draft.chosen, p)) continue;
    const change = floatAt(cost, schedule) - now + stopChange(draft, p, schedule);
    if (change < gain && fits(draft, p, schedule)) [to, gain] = [schedule, change];
  }
  if (to >= 0) move(draft, p, to);
}

/** Tries to close each stop of a line, and to open each that is closed. */
function moveLine(draft: Draft, line: ModelLine): void {
  for (const k of line.special) {
    const before = Array.from(line.places, (p) => wholeAt(draft.chosen, p));
    const cost = draft.cost;
    if (wholeAt(draft.open, line.offset + k) > 0) {
      emptyWindow(draft, line, k);
      for (const p of line.places) moveOne(draft, p);
    } else tryOpen(draft, line, k);
    if (draft.cost <= cost) continue;
    for (const [i, p] of line.places.entries()) move(draft, p, itemAt(before, i));
  }
}

/** Everything that would go to a window if its stop were paid already; it is paid if something does. */
function tryOpen(draft: Draft, line: ModelLine, k: number): void {
  const stop = floatAt(line.stopCost, k);
  const here = line.offset + k;
  const row = wholeAt(line.lineRow, k);
  if (row >= 0 && floatAt(draft.use, row) + 1 > itemAt(draft.model.rows.list, row).capacity) return;
  draft.open[here] = wholeAt(draft.open, here) + 1;
  draft.cost += stop;
  if (row >= 0) draft.use[row] = floatAt(draft.use, row) + 1;
  for (const p of line.places) moveOne(draft, p);
  draft.open[here] = wholeAt(draft.open, here) - 1;
  if (wholeAt(draft.open, here) > 0) return;
  draft.cost -= stop;
  if (row >= 0) draft.use[row] = floatAt(draft.use, row) - 1;
}

interface Wanting {
  p: number;
  to: number;
  gain: number;
}

/** Places that would gain most by a schedule that does not fit, each against another that makes room. */
function exchange(draft: Draft): void {
  const wanting = [...draft.chosen.keys()].map((p) => wish(draft, p)).filter(({ gain }) => gain > 0);
  wanting.sort((a, b) => b.gain - a.gain || a.p - b.p);
  const most = Math.min(MOST_WANTING, Math.floor(MOST_LOOKS / draft.chosen.length));
  for (const { p } of wanting.slice(0, most)) {
    const { to, gain } = wish(draft, p);
    if (gain > 0) makeRoom(draft, p, to, gain);
  }
}

/** The cheapest schedule of a place as things stand, whether it fits or not, and what it would save. */
function wish(draft: Draft, p: number): Wanting {
  const { schedules } = itemAt(draft.model.places, p);
  const now = costNow(draft, p);
  const stops = stopsToSave(draft, p);
  let [to, gain] = [-1, WORTH * Math.abs(draft.cost)];
  for (let n = 0; n < schedules.count; n++) {
    const schedule = wholeAt(schedules.order, n);
    const saved = now - floatAt(schedules.cost, schedule);
    if (saved + stops <= gain) break;
    const net = saved - stopChange(draft, p, schedule);
    if (net > gain) [to, gain] = [schedule, net];
  }
  return { p, to, gain: to < 0 ? 0 : gain };
}

/** Looks for one place in the same windows whose second best costs less than what is gained. */
function makeRoom(draft: Draft, p: number, to: number, gain: number): void {
  const others = neighbours(draft, p, to, gain).slice(0, MOST_ASKED);
  const own = wholeAt(draft.chosen, p);
  const before = draft.cost;
  for (const { p: other, to: away } of others) {
    const back = wholeAt(draft.chosen, other);
    move(draft, other, away);
    if (fits(draft, p, to)) {
      move(draft, p, to);
      if (draft.cost < before - WORTH * Math.abs(before)) return;
      move(draft, p, own);
    }
    move(draft, other, back);
  }
}

/** Places with work in a window that another wants, with a schedule that leaves it, least loss first. */
function neighbours(draft: Draft, p: number, to: number, gain: number): Wanting[] {
  const { model, chosen } = draft;
  const wanted = new Uint8Array(model.windows.length);
  mark(draft, p, to, 1, wanted);
  mark(draft, p, wholeAt(chosen, p), 0, wanted);
  const found: Wanting[] = [];
  for (let q = 0; q < chosen.length; q++) {
    if (q === p || !touches(draft, q, wholeAt(chosen, q), wanted)) continue;
    const { schedules } = itemAt(model.places, q);
    const now = costNow(draft, q);
    for (let n = 0; n < schedules.count; n++) {
      const away = wholeAt(schedules.order, n);
      const loss = floatAt(schedules.cost, away) - now;
      if (loss >= gain) break;
      if (away === wholeAt(chosen, q) || touches(draft, q, away, wanted) || !fits(draft, q, away)) continue;
      found.push({ p: q, to: away, gain: -loss });
      break;
    }
  }
  return found.sort((a, b) => b.gain - a.gain || a.p - b.p);
}

function mark({ model }: Draft, p: number, schedule: number, as: 0 | 1, windows: Uint8Array): void {
  const { line, schedules } = itemAt(model.places, p);
  const own = itemAt(model.lines, line).windows;
  const { start, nodes } = schedules;
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++)
    windows[wholeAt(own, wholeAt(nodes, n))] = as;
}

function touches({ model }: Draft, p: number, schedule: number, windows: Uint8Array): boolean {
  const { line, schedules } = itemAt(model.places, p);
  const own = itemAt(model.lines, line).windows;
  const { start, nodes } = schedules;
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++) {
    if (windows[wholeAt(own, wholeAt(nodes, n))] === 1) return true;
  }
  return false;
}
