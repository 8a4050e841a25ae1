/**
 * The plan with every shared limit replaced by a price: then each line is planned for itself, and what the prices bring
 * in is less than any plan within the limits costs (Lagrangian relaxation: Fisher, Management Science 27 (1981) 1, from
 * memory). The stop of a line is decided exactly, over the sets of its windows in which it is opened, where these are
 * few; else each replacement pays a share of it, which keeps the bound valid.
 */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { addSchedule, cheapestFar, continuations } from './farSchedules.js';
import type { LimitRows } from './limitRows.js';
import type { Model, ModelLine, ModelPlace } from './model.js';

/** Up to so many windows with a stop to pay, every set of them is looked at. */
export const MOST_SETS = 6;
/** All special windows are allowed, or there are none. */
const EVERY_SET = ~0;

/** What is best for every line at some prices. */
export interface Relaxed {
  /** Lower bound. */
  bound: number;
  /** Numbers of the schedules chosen, by place. */
  chosen: Int32Array;
}

/** Prices by window for a replacement: per fitter hour, per instrument hour, per piece; and per line open. */
export interface WindowPrices {
  fitter: Float64Array;
  instrument: Float64Array;
  each: Float64Array;
  line: Float64Array;
  /** By item and window: of that row and all later ones. */
  piece: Float64Array;
}

/** The least cost of all lines at prices of the rows, with what keeps to the limits taken off. */
export function relaxed(model: Model, prices: Float64Array): Relaxed {
  const byWindow = windowPrices(model, prices);
  const chosen = new Int32Array(model.places.length);
  let bound = 0;
  model.scratch.far = -1;
  for (const line of model.lines) bound += lineLeast(model, line, byWindow, chosen);
  for (const [row, { capacity }] of model.rows.list.entries()) bound -= floatAt(prices, row) * capacity;
  return { bound, chosen };
}

export function windowPrices({ rows, windows }: Model, prices: Float64Array): WindowPrices {
  const priceOf = (row: number): number => (row < 0 ? 0 : floatAt(prices, row));
  const column = (value: (w: number) => number): Float64Array =>
    Float64Array.from({ length: windows.length }, (_, w) => value(w));
  const crew = column((w) => priceOf(wholeAt(rows.crew, w)));
  return {
    fitter: column((w) => floatAt(crew, w) + priceOf(wholeAt(rows.fitter, w))),
    instrument: column((w) => floatAt(crew, w) + priceOf(wholeAt(rows.instrument, w))),
    each: column((w) => priceOf(wholeAt(rows.replacements, w))),
    line: column((w) => priceOf(wholeAt(rows.lines, w))),
    piece: Float64Array.from(rows.stock, (row) => piecePrice(rows, row, prices)),
  };
}

function piecePrice({ nextOfItem }: LimitRows, first: number, prices: Float64Array): number {
  let price = 0;
  for (let row = first; row >= 0; row = wholeAt(nextOfItem, row)) price += floatAt(prices, row);
  return price;
}

/** Price of a replacement of a place, by window of its line; `count` is the number of all windows. */
export function fillNodePrices(
  place: ModelPlace,
  line: ModelLine,
  count: number,
  prices: WindowPrices,
  out: Float64Array,
): void {
  for (let k = 0; k < line.windows.length; k++) {
    const w = wholeAt(line.windows, k);
    out[k] =
      place.fitterHours * floatAt(prices.fitter, w) +
      place.instrumentHours * floatAt(prices.instrument, w) +
      floatAt(prices.each, w) +
      (place.item < 0 ? 0 : floatAt(prices.piece, place.item * count + w));
  }
}

function lineLeast(model: Model, line: ModelLine, prices: WindowPrices, chosen: Int32Array): number {
  const opening = line.special.map(
    (k) =>
      floatAt(line.stopCost, k) +
      (wholeAt(line.lineRow, k) < 0 ? 0 : floatAt(prices.line, wholeAt(line.windows, k))),
  );
  const shared = line.isShared;
  const node = new Float64Array(line.windows.length);
  const fill = (p: number): void => {
    fillNodePrices(itemAt(model.places, p), line, model.windows.length, prices, node);
    if (shared) addShares(line, opening, node);
  };
  if (shared || opening.length === 0) {
    let total = 0;
    for (const p of line.places) {
      fill(p);
      const place = itemAt(model.places, p);
      total +=
        place.far < 0 ? cheapest(place, node, EVERY_SET, p, chosen) : cheapestOfFar(model, node, p, chosen);
    }
    return total;
  }
  const best = leastBySet(model, line, opening, fill, node);
  for (const p of line.places) {
    fill(p);
    cheapest(itemAt(model.places, p), node, best.set, p, chosen);
  }
  return best.cost;
}

/** An equal share of each stop for every place of the line. */
function addShares(line: ModelLine, opening: readonly number[], node: Float64Array): void {
  for (const [i, k] of line.special.entries())
    node[k] = floatAt(node, k) + itemAt(opening, i) / line.places.length;
}

/** The cheapest schedule of a place within a set of special windows; chosen, and its cost with prices. */
function cheapest(
  { schedules: { count, cost, start, nodes }, setOf }: ModelPlace,
  node: Float64Array,
  allowed: number,
  p: number,
  chosen: Int32Array,
): number {
  let [least, found] = [Infinity, 0];
  for (let c = 0; c < count; c++) {
    // Schedules are in order of cost, and prices only add to it.
    let total = floatAt(cost, c);
    if (total >= least) break;
    if (allowed !== EVERY_SET && (wholeAt(setOf, c) & ~allowed) !== 0) continue;
    for (let n = wholeAt(start, c), end = wholeAt(start, c + 1); n < end; n++)
      total += floatAt(node, wholeAt(nodes, n));
    if (total < least) {
      least = total;
      found = c;
    }
  }
  chosen[p] = found;
  return least;
}

/** The cheapest of all schedules of a place with many windows, which is put on its list. Places of one number follow each other. */
function cheapestOfFar(
  { places, scratch }: Model,
  node: Float64Array,
  p: number,
  chosen: Int32Array,
): number {
  const { arcs, windows, schedules, unmetCost, far, shut } = itemAt(places, p);
  for (const k of shut) node[k] = Infinity;
  if (scratch.far !== far) continuations(arcs, arcs.known, windows.frozen, node, unmetCost, scratch);
  scratch.far = far;
  const best = cheapestFar(arcs, windows.frozen, node, unmetCost, scratch.found);
  chosen[p] = addSchedule(schedules, arcs, unmetCost, best.windows);
  return best.cost;
}

/** Which windows of a line to open: the cheapest set of them, every place at its best within it. */
function leastBySet(
  model: Model,
  line: ModelLine,
  opening: readonly number[],
  fill: (p: number) => void,
  node: Float64Array,
): { set: number; cost: number } {
  const sets = 1 << opening.length;
  const total = new Float64Array(sets);
  const best = new Float64Array(sets);
  for (let set = 0; set < sets; set++) {
    for (const [i, cost] of opening.entries())
      if ((set & (1 << i)) !== 0) total[set] = floatAt(total, set) + cost;
  }
  for (const p of line.places) {
    fill(p);
    fillBySet(itemAt(model.places, p), node, best);
    for (let set = 0; set < sets; set++) total[set] = floatAt(total, set) + floatAt(best, set);
  }
  let found = 0;
  for (let set = 1; set < sets; set++) if (floatAt(total, set) < floatAt(total, found)) found = set;
  return { set: found, cost: floatAt(total, found) };
}

/** Least cost of a place by the set of special windows it may use. */
function fillBySet(
  { schedules: { count, cost, start, nodes }, setOf }: ModelPlace,
  node: Float64Array,
  best: Float64Array,
): void {
  best.fill(Infinity);
  for (let c = 0; c < count; c++) {
    let total = floatAt(cost, c);
    if (total >= floatAt(best, 0)) break;
    for (let n = wholeAt(start, c), end = wholeAt(start, c + 1); n < end; n++)
      total += floatAt(node, wholeAt(nodes, n));
    const set = wholeAt(setOf, c);
    if (total < floatAt(best, set)) best[set] = total;
  }
  for (let bit = 1; bit < best.length; bit <<= 1) {
    for (let set = 0; set < best.length; set++) {
      if ((set & bit) !== 0) best[set] = Math.min(floatAt(best, set), floatAt(best, set & ~bit));
    }
  }
}
