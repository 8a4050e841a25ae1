/** The cheapest schedule of a position with many windows where all others keep theirs: also one that is not on its list yet. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { costNow, type Draft, fits, move, stopChange, stopsToSave } from './draft.js';
import { addSchedule, cheapestFar, continuations } from './farSchedules.js';
import { ROUNDING } from './limitRows.js';
import type { Model, ModelPlace } from './model.js';

/** A gain below this share of the cost is rounding. */
const WORTH = 1e-12;

/** Gives a place its cheapest schedule in what the others leave; several pieces of one item may not fit, then nothing moves. */
export function reply(draft: Draft, p: number): void {
  const { model, chosen } = draft;
  const place = itemAt(model.places, p);
  const { arcs, windows, schedules, unmetCost } = place;
  const now = wholeAt(chosen, p);
  const enough = costNow(draft, p) + stopsToSave(draft, p) - WORTH * Math.abs(draft.cost);
  move(draft, p, schedules.empty);
  const node = stopsFor(draft, place);
  const after = continuations(arcs, arcs.known, windows.frozen, node, unmetCost, model.scratch);
  const best = cheapestFar(arcs, windows.frozen, node, unmetCost, after);
  move(draft, p, now);
  if (best.cost >= enough) return;
  const to = addSchedule(schedules, arcs, unmetCost, best.windows);
  const change = floatAt(schedules.cost, to) - costNow(draft, p) + stopChange(draft, p, to);
  if (change < -WORTH * Math.abs(draft.cost) && fits(draft, p, to)) move(draft, p, to);
}

/** What a replacement costs in stops, by window of the line of a place that does nothing; Infinity where it does not fit. */
function stopsFor({ model, open, use }: Draft, place: ModelPlace): Float64Array {
  const { lines, rows } = model;
  const line = itemAt(lines, place.line);
  const node = new Float64Array(line.windows.length);
  for (let k = 0; k < node.length; k++) {
    const closed = wholeAt(open, line.offset + k) === 0;
    const row = wholeAt(line.lineRow, k);
    const isShut = closed && row >= 0 && floatAt(use, row) + 1 > itemAt(rows.list, row).capacity + ROUNDING;
    if (closed) node[k] = floatAt(line.stopCost, k);
    if (isShut || isFull(model, place, wholeAt(line.windows, k), use)) node[k] = Infinity;
  }
  return node;
}

/** Windows of a place's line, by their place in it, at which it does not fit even if nothing else is done there. */
export function shutFor(
  model: Pick<Model, 'lines' | 'rows' | 'windows'>,
  place: Pick<ModelPlace, 'line' | 'fitterHours' | 'instrumentHours' | 'item'>,
): number[] {
  const { windows } = itemAt(model.lines, place.line);
  return [...windows.keys()].filter((k) => isFull(model, place, wholeAt(windows, k), null));
}

/** Whether one replacement of a place is too much for a window, with what is used of it already. */
function isFull(
  { rows, windows }: Pick<Model, 'rows' | 'windows'>,
  place: Pick<ModelPlace, 'fitterHours' | 'instrumentHours' | 'item'>,
  w: number,
  use: Float64Array | null,
): boolean {
  const { fitterHours, instrumentHours, item } = place;
  const over = (row: number, more: number): boolean =>
    row >= 0 && (use === null ? 0 : floatAt(use, row)) + more > itemAt(rows.list, row).capacity + ROUNDING;
  if (over(wholeAt(rows.crew, w), fitterHours + instrumentHours)) return true;
  if (over(wholeAt(rows.fitter, w), fitterHours) || over(wholeAt(rows.instrument, w), instrumentHours))
    return true;
  if (over(wholeAt(rows.replacements, w), 1)) return true;
  if (item < 0) return false;
  let row = wholeAt(rows.stock, item * windows.length + w);
  for (; row >= 0; row = wholeAt(rows.nextOfItem, row)) if (over(row, 1)) return true;
  return false;
}
