/** A plan within the limits from one that is not: what costs least to move goes first, per unit of what is over. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { costNow, type Draft, fits, isOver, move } from './draft.js';
import type { Model, ModelLine, ModelPlace } from './model.js';
import { fillNodePrices, type WindowPrices, windowPrices } from './relaxation.js';
import { hasWindow, type Schedules } from './schedules.js';

/** Moves places until no limit is exceeded; every place can always be left alone, so that this ends. */
export function repair(draft: Draft, prices: Float64Array): void {
  const { list } = draft.model.rows;
  const byWindow = windowPrices(draft.model, prices);
  for (const [row, { kind }] of list.entries()) {
    while (isOver(draft, row)) {
      if (kind === 'lines') closeCheapest(draft, row);
      else easeRow(draft, row, byWindow);
    }
  }
}

interface Ease {
  p: number;
  to: number;
  score: number;
}

/** One pass over the places that use a row, cheapest to move first. */
function easeRow(draft: Draft, row: number, prices: WindowPrices): void {
  const { model } = draft;
  const node = new Float64Array(model.windows.length);
  const moves: Ease[] = [];
  for (let p = 0; p < model.places.length; p++) {
    const place = itemAt(model.places, p);
    const used = useOf(draft, place, wholeAt(draft.chosen, p), row);
    if (used <= 0) continue;
    fillNodePrices(place, itemAt(model.lines, place.line), model.windows.length, prices, node);
    moves.push(easiest(draft, p, row, used, node));
  }
  moves.sort((a, b) => a.score - b.score || a.p - b.p);
  let moved = false;
  for (const { p, to } of moves) {
    if (!isOver(draft, row)) return;
    if (moved && !fits(draft, p, to)) continue;
    move(draft, p, to);
    moved = true;
  }
}

/** The best schedule of a place that uses less of a row and no more of what is short; stops are left to moves of lines. */
function easiest(draft: Draft, p: number, row: number, used: number, node: Float64Array): Ease {
  const place = itemAt(draft.model.places, p);
  const { schedules } = place;
  const { count, cost, order } = schedules;
  let [found, least] = [schedules.empty, Infinity];
  const now = costNow(draft, p) + priceOf(schedules, wholeAt(draft.chosen, p), node);
  for (let n = 0; n < count; n++) {
    const to = wholeAt(order, n);
    // Schedules are in order of cost, and no move eases more than all that is used.
    if (least >= 0 && (floatAt(cost, to) - now) / used >= least) break;
    const less = used - useOf(draft, place, to, row);
    if (less <= 0) continue;
    const score = (floatAt(cost, to) + priceOf(schedules, to, node) - now) / less;
    if (score < least && fits(draft, p, to)) [found, least] = [to, score];
  }
  return { p, to: found, score: least };
}

function priceOf({ start, nodes }: Schedules, schedule: number, node: Float64Array): number {
  let total = 0;
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++)
    total += floatAt(node, wholeAt(nodes, n));
  return total;
}

/** What a place uses of a row by a schedule. */
function useOf({ model }: Draft, place: ModelPlace, schedule: number, row: number): number {
  const { kind, window, item } = itemAt(model.rows.list, row);
  if (kind === 'stock' && place.item !== item) return 0;
  const own = itemAt(model.lines, place.line).windows;
  const { start, nodes } = place.schedules;
  let times = 0;
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++) {
    const w = wholeAt(own, wholeAt(nodes, n));
    if (kind === 'stock' ? w <= window : w === window) times++;
  }
  return useOfTimes(model, place, row, times);
}

/** What a place uses of a row by so many replacements. */
export function useOfTimes({ rows }: Model, place: ModelPlace, row: number, times: number): number {
  const { kind } = itemAt(rows.list, row);
  if (kind === 'crew hours') return times * (place.fitterHours + place.instrumentHours);
  if (kind === 'fitter hours') return times * place.fitterHours;
  if (kind === 'instrument hours') return times * place.instrumentHours;
  return kind === 'lines' ? 0 : times;
}

/** Closes the line whose work at a window costs least to do at others or not at all. */
function closeCheapest(draft: Draft, row: number): void {
  const { model } = draft;
  const { window } = itemAt(model.rows.list, row);
  let [best, least, index] = [null as ModelLine | null, Infinity, 0];
  for (const line of model.lines) {
    const k = line.windows.indexOf(window);
    if (k < 0 || wholeAt(line.lineRow, k) < 0 || wholeAt(draft.open, line.offset + k) === 0) continue;
    const before = Array.from(line.places, (p) => wholeAt(draft.chosen, p));
    const cost = draft.cost;
    emptyWindow(draft, line, k);
    const loss = draft.cost - cost;
    for (const [i, p] of line.places.entries()) move(draft, p, itemAt(before, i));
    if (loss < least) [best, least, index] = [line, loss, k];
  }
  if (best !== null) emptyWindow(draft, best, index);
}

/** Moves every place of a line out of one of its windows. */
export function emptyWindow(draft: Draft, line: ModelLine, k: number): void {
  for (const p of line.places) {
    const { schedules } = itemAt(draft.model.places, p);
    if (!hasWindow(schedules, wholeAt(draft.chosen, p), k)) continue;
    let to = schedules.empty;
    for (let n = 0; n < schedules.count; n++) {
      const other = wholeAt(schedules.order, n);
      if (hasWindow(schedules, other, k) || !fits(draft, p, other)) continue;
      to = other;
      break;
    }
    move(draft, p, to);
  }
}
