/** A fleet's problem in the shape that the search works on: lines, places with their schedules, shared limits as rows. */
import { itemAt, wholeAt } from '../../numeric/columns.js';
import { type Arcs, arcsOf } from './arcs.js';
import { type WindowDays, windowDays } from './calendar.js';
import { continuations, type FarScratch, farSchedules, farScratch } from './farSchedules.js';
import { type LimitRows, limitRows } from './limitRows.js';
import { MOST_SETS } from './relaxation.js';
import { shutFor } from './reply.js';
import { MOST_LISTED, type Schedules, worthwhile } from './schedules.js';
import { ownOf, type SharedParts, weightOf } from './sharedParts.js';
import type { FleetLine, FleetPosition, FleetProblem, FleetWindow } from './types.js';

/** A line: its known windows in order, and those of them at which it matters whether it is open at all. */
export interface ModelLine {
  name: string;
  /** Places in the list of all windows. */
  windows: Int32Array;
  stopCost: Float64Array;
  /** By window of the line: 1 where other work has opened it already; then the row of the limit on open lines, or -1. */
  isOpen: Uint8Array;
  lineRow: Int32Array;
  /** Windows of the line, by their place in it, with a stop to pay or a limit on open lines. */
  special: number[];
  /** True where each replacement pays a share of a stop, because the sets of special windows are too many to look at. */
  isShared: boolean;
  places: number[];
  /** Where the counts of this line begin in a column over lines and their windows. */
  offset: number;
}

/** A position as the search sees it. */
export interface ModelPlace {
  line: number;
  fitterHours: number;
  instrumentHours: number;
  /** Index of its item in the stock list; -1 where its stock is not limited. */
  item: number;
  windows: WindowDays;
  arcs: Arcs;
  schedules: Schedules;
  /** By schedule: which of the special windows of its line it uses, as bits in their order; empty where stops are shared or free. */
  setOf: Int32Array;
  /** Number of those that share continuations at all prices; -1 where every schedule is on the list. */
  far: number;
  /** Windows of its line, by their place in it, that are too small for it; worked out where `far` is given. */
  shut: readonly number[];
  must: Uint8Array;
  /** What a demand that is not met counts. */
  unmetCost: number;
}

export interface Model {
  windows: FleetWindow[];
  lines: ModelLine[];
  places: ModelPlace[];
  rows: LimitRows;
  unmetCost: number;
  scratch: FarScratch;
}

/** Builds the model of a checked problem; what it has in common with another one may be known already. */
export function modelOf(problem: FleetProblem, unmetCost: number, shared: SharedParts): Model {
  const windows = [...problem.windows].sort((a, b) => a.day - b.day || (a.name < b.name ? -1 : 1));
  const lines = modelLines(problem, windows);
  const lineIndex = new Map(lines.map(({ name }, i) => [name, i]));
  const items = new Map((problem.stock ?? []).map(({ item }, i) => [item, i]));
  const scratch = farScratch();
  const build = placeBuilder(problem, windows, unmetCost, shared, scratch);
  const places = problem.positions.map((position, p) => {
    const line = lineIndex.get(position.line) as number;
    itemAt(lines, line).places.push(p);
    const { fitterHours, instrumentHours } = position;
    const item = position.item === null ? -1 : (items.get(position.item) ?? -1);
    const own = build(position, itemAt(lines, line), itemAt(problem.lines, line));
    const cost = weightOf(position) * unmetCost;
    return {
      line,
      fitterHours,
      instrumentHours,
      item,
      unmetCost: cost,
      setOf: NO_SETS,
      far: -1,
      shut: [],
      ...own,
    };
  });
  const rows = limitRows(windows, lines, places, problem.stock ?? []);
  for (const line of lines) {
    line.lineRow = line.windows.map((w, k) => (line.isOpen[k] === 1 ? -1 : (rows.lines[w] ?? -1)));
    line.special = [...line.windows.keys()].filter(
      (k) => (line.stopCost[k] ?? 0) > 0 || (line.lineRow[k] ?? -1) >= 0,
    );
    line.isShared = line.special.length > MOST_SETS || line.windows.length > MOST_LISTED;
    if (!line.isShared && line.special.length > 0) {
      for (const p of line.places) fillSets(itemAt(places, p), line.special);
    }
  }
  const model = { windows, lines, places, rows, unmetCost, scratch };
  numberFar(model);
  return model;
}

const NO_SETS = new Int32Array(0);

/** The special windows that each schedule uses, as bits. */
function fillSets(place: ModelPlace, special: readonly number[]): void {
  const { count, start, nodes } = place.schedules;
  const setOf = new Int32Array(count);
  place.setOf = setOf;
  for (let c = 0; c < count; c++) {
    for (let n = wholeAt(start, c); n < wholeAt(start, c + 1); n++) {
      const i = special.indexOf(wholeAt(nodes, n));
      if (i >= 0) setOf[c] = wholeAt(setOf, c) | (1 << i);
    }
  }
}

/**
 * Numbers the places of lines with many windows: those with one number cost the same once something is replaced, at all
 * prices, and follow each other on the list of their line.
 */
function numberFar(model: Model): void {
  const { places, lines } = model;
  const tables = new Map<Float64Array, number>();
  const numbers = new Map<string, number>();
  for (const place of places) {
    if (place.windows.known <= MOST_LISTED) continue;
    const { arcs, line, fitterHours, instrumentHours, item, unmetCost } = place;
    const table = tables.get(arcs.cost) ?? tables.size;
    tables.set(arcs.cost, table);
    const key = [table, line, fitterHours, instrumentHours, item, unmetCost].join('/');
    place.far = numbers.get(key) ?? numbers.size;
    numbers.set(key, place.far);
    place.shut = shutFor(model, place);
  }
  const farOf = (p: number): number => itemAt(places, p).far;
  for (const { places: own } of lines) own.sort((p, q) => farOf(p) - farOf(q) || p - q);
}

function modelLines({ lines }: FleetProblem, windows: readonly FleetWindow[]): ModelLine[] {
  const index = new Map(windows.map(({ name }, w) => [name, w]));
  let offset = 0;
  return lines.map(({ line, windows: own }) => {
    const known = own
      .map(({ window, stopCost, isOpen = false }) => ({ w: index.get(window) as number, stopCost, isOpen }))
      .sort((a, b) => a.w - b.w);
    const made: ModelLine = {
      name: line,
      windows: Int32Array.from(known, ({ w }) => w),
      stopCost: Float64Array.from(known, ({ stopCost }) => stopCost),
      isOpen: Uint8Array.from(known, ({ isOpen }) => (isOpen ? 1 : 0)),
      lineRow: new Int32Array(known.length).fill(-1),
      special: [],
      isShared: false,
      places: [],
      offset,
    };
    offset += known.length;
    return made;
  });
}

type Built = Pick<ModelPlace, 'windows' | 'arcs' | 'schedules' | 'must'>;

/** Places with the same data share what is worked out for them. */
function placeBuilder(
  { today, must = [], frozen = [] }: FleetProblem,
  windows: readonly FleetWindow[],
  unmetCost: number,
  shared: SharedParts,
  scratch: FarScratch,
): (position: FleetPosition, line: ModelLine, source: FleetLine) => Built {
  const mustAt = new Set(must.map(({ position, window }) => JSON.stringify([position, window])));
  const closed = new Set(
    frozen.map((each) =>
      'line' in each
        ? JSON.stringify([each.line, null, each.window])
        : JSON.stringify([null, each.position, each.window]),
    ),
  );
  const known = new Map<string, Built>();
  return (position, line, source) => {
    const names = Array.from(line.windows, (w) => itemAt(windows, w).name);
    const isFrozen = (i: number): boolean =>
      closed.has(JSON.stringify([line.name, null, itemAt(names, i)])) ||
      closed.has(JSON.stringify([null, position.position, itemAt(names, i)]));
    const days = windowDays(
      today,
      names.map((_, i) => ({
        day: itemAt(windows, line.windows[i] ?? 0).day,
        made: (line.stopCost[i] ?? 0) > 0,
      })),
      [...source.later].sort((a, b) => a.day - b.day),
      position.until,
      isFrozen,
    );
    const asked = new Uint8Array(days.known + 1);
    for (let i = 0; i < days.known; i++) {
      const isAsked = mustAt.has(JSON.stringify([position.position, itemAt(names, i)]));
      asked[i + 1] = isAsked && days.frozen[i + 1] === 0 ? 1 : 0;
    }
    const key = shared.key(days, position, asked);
    const found = known.get(key) ?? built(shared, days, position, asked, unmetCost, scratch);
    known.set(key, found);
    return found;
  };
}

function built(
  shared: SharedParts,
  days: WindowDays,
  position: FleetPosition,
  must: Uint8Array,
  unmetCost: number,
  scratch: FarScratch,
): Built {
  const { after, fresh } = shared.goingOn(days, position, must);
  const standing = shared.standing(days, position);
  const age =
    position.ages.reduce((sum, { age: each, chance }) => sum + each * chance, 0) / totalOf(position);
  const now = { now: position.now, curve: standing, age };
  const arcs = arcsOf(days, ownOf(position), after, now, must, fresh);
  const unmet = weightOf(position) * unmetCost;
  const schedules =
    days.known > MOST_LISTED
      ? farFrom(arcs, days, position, unmet, scratch)
      : worthwhile(arcs, days.frozen, unmet);
  return { windows: days, arcs, schedules, must };
}

function farFrom(
  arcs: Arcs,
  days: WindowDays,
  { stopShare }: FleetPosition,
  unmetCost: number,
  scratch: FarScratch,
): Schedules {
  const node = Float64Array.from({ length: days.known }, (_, k) => (days.made[k + 1] === 1 ? stopShare : 0));
  const after = continuations(arcs, days.known, days.frozen, node, unmetCost, scratch);
  return farSchedules(arcs, days.frozen, unmetCost, node, after);
}

function totalOf({ ages }: FleetPosition): number {
  return ages.reduce((sum, { chance }) => sum + chance, 0);
}
