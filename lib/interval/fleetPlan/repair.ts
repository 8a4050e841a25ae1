/** A plan within the limits from one that is not: what costs least to move goes first, per unit of what is over. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { costOfSchedule, type Draft, fits, isOver, move } from './draft.js';
import type { ModelLine } from './model.js';
import { fillNodePrices, type WindowPrices, windowPrices } from './relaxation.js';

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
    const used = useOf(draft, p, wholeAt(draft.chosen, p), row);
    if (used <= 0) continue;
    const place = itemAt(model.places, p);
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
  const { windows, cost } = itemAt(draft.model.places, p).schedules;
  let best: Ease = { p, to: 0, score: Infinity };
  const from = wholeAt(draft.chosen, p);
  const now = costOfSchedule(itemAt(draft.model.places, p).schedules, from) + priceOf(from, node);
  for (let c = 0; c < windows.length; c++) {
    // Schedules are in order of cost, and no move eases more than all that is used.
    if (best.score >= 0 && (floatAt(cost, c) - now) / used >= best.score) break;
    const to = wholeAt(windows, c);
    const less = used - useOf(draft, p, to, row);
    if (less <= 0) continue;
    const score = (floatAt(cost, c) + priceOf(to, node) - now) / less;
    if (score < best.score && fits(draft, p, to)) best = { p, to, score };
  }
  return best;
}

function priceOf(schedule: number, node: Float64Array): number {
  let total = 0;
  for (let bits = schedule; bits !== 0; bits &= bits - 1)
    total += floatAt(node, 31 - Math.clz32(bits & -bits));
  return total;
}

/** What a place uses of a row by a schedule. */
export function useOf({ model }: Draft, p: number, schedule: number, row: number): number {
  const { kind, window, item } = itemAt(model.rows.list, row);
  const place = itemAt(model.places, p);
  if (kind === 'stock' && place.item !== item) return 0;
  const own = itemAt(model.lines, place.line).windows;
  let times = 0;
  for (let bits = schedule; bits !== 0; bits &= bits - 1) {
    const w = wholeAt(own, 31 - Math.clz32(bits & -bits));
    if (kind === 'stock' ? w <= window : w === window) times++;
  }
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
    if (((wholeAt(draft.chosen, p) >> k) & 1) === 0) continue;
    const { windows } = itemAt(draft.model.places, p).schedules;
    let to = 0;
    for (let c = 0; c < windows.length; c++) {
      const other = wholeAt(windows, c);
      if (((other >> k) & 1) === 1 || !fits(draft, p, other)) continue;
      to = other;
      break;
    }
    move(draft, p, to);
  }
}
