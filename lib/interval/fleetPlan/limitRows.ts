/** What is shared, as rows with a capacity, and how much of each a plan uses. */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import type { Model, ModelLine, ModelPlace } from './model.js';
import type { FleetStock, FleetWindow, LimitKind } from './types.js';

/** Sums of hours may miss a limit by rounding only. */
export const ROUNDING = 1e-9;

export interface LimitRow {
  kind: LimitKind;
  window: number;
  item: number;
  capacity: number;
  /** One unit of it in the search: a typical task. */
  unit: number;
}

/** Rows, and where to find them: by window, -1 where there is none. */
export interface LimitRows {
  list: LimitRow[];
  crew: Int32Array;
  fitter: Int32Array;
  instrument: Int32Array;
  replacements: Int32Array;
  lines: Int32Array;
  /** By item and window: the row that first counts a piece taken in that window; later rows of the item count it too. */
  stock: Int32Array;
  /** Following row of the same item; -1 after the last. */
  nextOfItem: Int32Array;
}

/** Rows of the limits that everything together could exceed: the others never bind. */
export function limitRows(
  windows: readonly FleetWindow[],
  lines: readonly ModelLine[],
  places: readonly ModelPlace[],
  stock: readonly FleetStock[],
): LimitRows {
  const list: LimitRow[] = [];
  const most = mostAsked(windows.length, lines, places);
  const rowsOf = (
    kind: LimitKind,
    capacity: (window: FleetWindow) => number | null | undefined,
    asked: Float64Array,
  ) =>
    Int32Array.from(windows, (window, w) => {
      const limit = capacity(window) ?? Infinity;
      if (floatAt(asked, w) <= limit + ROUNDING) return -1;
      const tasks = Math.max(1, floatAt(most.replacements, w));
      const unit = kind === 'lines' || kind === 'replacements' ? 1 : floatAt(asked, w) / tasks;
      return list.push({ kind, window: w, item: -1, capacity: limit, unit }) - 1;
    });
  const crew = rowsOf('crew hours', ({ crewHours }) => crewHours, most.crew);
  const fitter = rowsOf('fitter hours', ({ fitterHours }) => fitterHours, most.fitter);
  const instrument = rowsOf('instrument hours', ({ instrumentHours }) => instrumentHours, most.instrument);
  const replacements = rowsOf('replacements', (window) => window.replacements, most.replacements);
  const linesOpen = rowsOf('lines', (window) => window.lines, most.lines);
  const stockRows = addStock(list, windows, stock);
  return { list, crew, fitter, instrument, replacements, lines: linesOpen, ...stockRows };
}

interface Asked {
  crew: Float64Array;
  fitter: Float64Array;
  instrument: Float64Array;
  replacements: Float64Array;
  lines: Float64Array;
}

/** What each window would be asked for if every position were replaced in it. */
function mostAsked(count: number, lines: readonly ModelLine[], places: readonly ModelPlace[]): Asked {
  const column = (): Float64Array => new Float64Array(count);
  const asked = {
    crew: column(),
    fitter: column(),
    instrument: column(),
    replacements: column(),
    lines: column(),
  };
  const add = (to: Float64Array, w: number, amount: number): void => {
    to[w] = floatAt(to, w) + amount;
  };
  for (const line of lines) {
    for (let k = 0; k < line.windows.length; k++) {
      const w = wholeAt(line.windows, k);
      if (line.places.length > 0 && line.isOpen[k] !== 1) add(asked.lines, w, 1);
      for (const p of line.places) {
        const { windows, fitterHours, instrumentHours } = itemAt(places, p);
        if (k >= windows.known || windows.frozen[k + 1] === 1) continue;
        add(asked.crew, w, fitterHours + instrumentHours);
        add(asked.fitter, w, fitterHours);
        add(asked.instrument, w, instrumentHours);
        add(asked.replacements, w, 1);
      }
    }
  }
  return asked;
}

function addStock(
  list: LimitRow[],
  windows: readonly FleetWindow[],
  stock: readonly FleetStock[],
): Pick<LimitRows, 'stock' | 'nextOfItem'> {
  const first = new Int32Array(stock.length * windows.length).fill(-1);
  const next: number[] = [];
  for (const [item, { ready }] of stock.entries()) {
    const pieces = new Map(ready.map((each) => [each.window, each.pieces]));
    let following = -1;
    for (let w = windows.length - 1; w >= 0; w--) {
      const capacity = pieces.get(itemAt(windows, w).name);
      if (capacity !== undefined) {
        const row = list.push({ kind: 'stock', window: w, item, capacity, unit: 1 }) - 1;
        next[row] = following;
        following = row;
      }
      first[item * windows.length + w] = following;
    }
  }
  return { stock: first, nextOfItem: Int32Array.from(list, (_, row) => next[row] ?? -1) };
}

/** Adds what a place uses by a schedule (its number), `times` 1 or -1, to a column over the rows. Open lines are counted apart. */
export function addUse(model: Model, p: number, schedule: number, times: number, use: Float64Array): void {
  const { rows, windows, lines } = model;
  const place = itemAt(model.places, p);
  const own = itemAt(lines, place.line).windows;
  const { start, nodes } = place.schedules;
  for (let n = wholeAt(start, schedule), end = wholeAt(start, schedule + 1); n < end; n++) {
    const w = wholeAt(own, wholeAt(nodes, n));
    addTo(use, wholeAt(rows.crew, w), times * (place.fitterHours + place.instrumentHours));
    addTo(use, wholeAt(rows.fitter, w), times * place.fitterHours);
    addTo(use, wholeAt(rows.instrument, w), times * place.instrumentHours);
    addTo(use, wholeAt(rows.replacements, w), times);
    if (place.item < 0) continue;
    let row = wholeAt(rows.stock, place.item * windows.length + w);
    for (; row >= 0; row = wholeAt(rows.nextOfItem, row)) addTo(use, row, times);
  }
}

function addTo(use: Float64Array, row: number, amount: number): void {
  if (row >= 0) use[row] = floatAt(use, row) + amount;
}
