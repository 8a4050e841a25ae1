/**
 * Schedules of a position with many windows, found as prices ask for them (column generation: Gilmore and Gomory, Operations
 * Research 9 (1961) 849, from memory). What follows a replacement costs r a + b: a if it is reached without a leak (chance r), b is
 * booked in any case. So the best continuation of each window is the lower envelope of such lines over r; windows backwards.
 */
import { at, floatAt, wholeAt } from '../../numeric/columns.js';
import type { Arcs, FreshArcs } from './arcs.js';
import { missedBy, type Schedules, scheduleCost } from './schedules.js';

/** Continuations that are best at some chance only below this are left out: it moves no cost. */
const LEAST_CHANCE = 1e-9;
/** Schedules that each begin with another window are known from the start: so many of the cheapest. */
const MOST_FIRST = 24;

/** The best continuations of every window, as lines. */
export interface Continuations {
  /** Lines of window j (from 1 on): first[j] up to first[j] + count[j] - 1, from chance 1 downwards. */
  first: Int32Array;
  count: Int32Array;
  expected: Float64Array;
  booked: Float64Array;
  /** The window that follows, 0 for none; and its line. */
  next: Int32Array;
  line: Int32Array;
}

/** Lines that may be on the envelope of one window. */
interface Candidates {
  size: number;
  a: Float64Array;
  b: Float64Array;
  next: Int32Array;
  line: Int32Array;
}

/** Columns that are used again for each place, and whose continuations they hold: a number by `far` of the places, or -1. */
export interface FarScratch {
  found: Continuations;
  candidates: Candidates;
  far: number;
}

export function farScratch(): FarScratch {
  const [first, count] = [new Int32Array(0), new Int32Array(0)];
  const [expected, booked] = [new Float64Array(0), new Float64Array(0)];
  const [a, b] = [new Float64Array(0), new Float64Array(0)];
  return {
    found: { first, count, expected, booked, ...lineColumns() },
    candidates: { size: 0, a, b, ...lineColumns() },
    far: -1,
  };
}

/**
 * Works out continuations; `node` has the price of a replacement by window from 0 on, Infinity where there is none. They
 * hold until the scratch is used again.
 */
export function continuations(
  arcs: FreshArcs,
  known: number,
  frozen: Uint8Array,
  node: Float64Array,
  unmetCost: number,
  scratch: FarScratch,
): Continuations {
  const { found, candidates } = scratch;
  scratch.far = -1;
  found.first = roomFor(found.first, known + 1);
  found.count = roomFor(found.count, known + 1);
  let lines = 0;
  for (let i = known; i >= 1; i--) {
    makeRoom(candidates, lines + 1);
    fillCandidates(candidates, i, arcs, known, frozen, node, unmetCost, found);
    found.first[i] = lines;
    const { a, b, size } = candidates;
    for (let l = lowestAt1(a, b, size); l >= 0; l = nextBelow(a, b, size, l)) {
      if (lines === found.expected.length) widen(found);
      found.expected[lines] = floatAt(a, l);
      found.booked[lines] = floatAt(b, l);
      found.next[lines] = wholeAt(candidates.next, l);
      found.line[lines] = wholeAt(candidates.line, l);
      lines++;
    }
    found.count[i] = lines - wholeAt(found.first, i);
  }
  return found;
}

function lineColumns(): Pick<Continuations, 'next' | 'line'> {
  return { next: new Int32Array(0), line: new Int32Array(0) };
}

function widen(found: Continuations): void {
  const length = found.expected.length + 1;
  found.expected = roomFor(found.expected, length);
  found.booked = roomFor(found.booked, length);
  found.next = roomFor(found.next, length);
  found.line = roomFor(found.line, length);
}

function makeRoom(candidates: Candidates, length: number): void {
  candidates.a = roomFor(candidates.a, length);
  candidates.b = roomFor(candidates.b, length);
  candidates.next = roomFor(candidates.next, length);
  candidates.line = roomFor(candidates.line, length);
}

/** From window i: nothing more, or any later window with each of its lines; those left out are above another one at every chance. */
function fillCandidates(
  candidates: Candidates,
  i: number,
  { cost, chance, missed }: FreshArcs,
  known: number,
  frozen: Uint8Array,
  node: Float64Array,
  unmetCost: number,
  { first, count, expected, booked }: Continuations,
): void {
  const { a, b, next, line } = candidates;
  const width = known + 2;
  const last = i * width + known + 1;
  a[0] = floatAt(cost, last);
  b[0] = at(missed, last) * unmetCost;
  next[0] = 0;
  line[0] = 0;
  let [size, lowest, books] = [1, floatAt(a, 0) + floatAt(b, 0), floatAt(b, 0)];
  for (let j = i + 1; j <= known; j++) {
    const price = floatAt(node, j - 1);
    if (at(frozen, j) === 1 || price === Infinity) continue;
    const arc = i * width + j;
    const paid = floatAt(cost, arc);
    const holds = floatAt(chance, arc);
    const fixed = price + at(missed, arc) * unmetCost;
    for (let l = wholeAt(first, j), end = l + wholeAt(count, j); l < end; l++) {
      const reached = paid + holds * floatAt(expected, l);
      const always = fixed + floatAt(booked, l);
      if (reached + always >= lowest && always >= books) continue;
      if (reached + always < lowest) {
        lowest = reached + always;
        books = always;
      }
      a[size] = reached;
      b[size] = always;
      next[size] = j;
      line[size] = l;
      size++;
    }
  }
  candidates.size = size;
}

/** The line that is lowest at chance 1; of equal ones the one that books less. */
function lowestAt1(a: Float64Array, b: Float64Array, size: number): number {
  let found = 0;
  for (let l = 1; l < size; l++) {
    const less = floatAt(a, l) + floatAt(b, l) - floatAt(a, found) - floatAt(b, found);
    if (less < 0 || (less === 0 && floatAt(b, l) < floatAt(b, found))) found = l;
  }
  return found;
}

/** The line that takes over from another as the chance falls; -1 where none does. */
function nextBelow(a: Float64Array, b: Float64Array, size: number, from: number): number {
  const [slope, fixed] = [floatAt(a, from), floatAt(b, from)];
  let [found, highest] = [-1, LEAST_CHANCE];
  for (let l = 0; l < size; l++) {
    const less = fixed - floatAt(b, l);
    if (!(less > 0)) continue;
    const chance = less / (floatAt(a, l) - slope);
    if (chance > highest || (chance === highest && found >= 0 && floatAt(b, l) < floatAt(b, found)))
      [found, highest] = [l, chance];
  }
  return found;
}

/** A schedule at prices: its cost with them, and its windows from 0 on. */
export interface Priced {
  cost: number;
  windows: number[];
}

/** The cheapest schedule at prices, that of `continuations`; `from` alone may be its first window where it is given. */
export function cheapestFar(
  { first, known, base }: Arcs,
  frozen: Uint8Array,
  node: Float64Array,
  unmetCost: number,
  after: Continuations,
  from: number | null = null,
): Priced {
  const end = known + 1;
  let [least, window, line] = [Infinity, 0, 0];
  if (from === null) least = floatAt(first.cost, end) + at(first.missed, end) * unmetCost;
  for (let j = from ?? 1; j <= (from ?? known); j++) {
    const price = floatAt(node, j - 1);
    if (frozen[j] === 1 || price === Infinity) continue;
    const paid = floatAt(first.cost, j) + price + at(first.missed, j) * unmetCost;
    const chance = floatAt(first.chance, j);
    for (let l = wholeAt(after.first, j), stop = l + wholeAt(after.count, j); l < stop; l++) {
      const total = paid + chance * floatAt(after.expected, l) + floatAt(after.booked, l);
      if (total < least) [least, window, line] = [total, j, l];
    }
  }
  const windows: number[] = [];
  while (window > 0) {
    windows.push(window - 1);
    [window, line] = [wholeAt(after.next, line), wholeAt(after.line, line)];
  }
  return { cost: least - base, windows };
}

/** Schedules to start with: none, the best of all if every stop costs its share, and the best that begin with each window. */
export function farSchedules(
  arcs: Arcs,
  frozen: Uint8Array,
  unmetCost: number,
  node: Float64Array,
  after: Continuations,
): Schedules {
  const schedules: Schedules = {
    count: 0,
    start: new Int32Array(1),
    nodes: new Int32Array(0),
    cost: new Float64Array(0),
    order: new Int32Array(0),
    empty: 0,
  };
  addSchedule(schedules, arcs, unmetCost, []);
  const starts: Priced[] = [];
  for (let j = 1; j <= arcs.known; j++) {
    if (frozen[j] === 0) starts.push(cheapestFar(arcs, frozen, node, unmetCost, after, j));
  }
  starts.sort((x, y) => x.cost - y.cost);
  for (const { windows } of starts.slice(0, MOST_FIRST)) addSchedule(schedules, arcs, unmetCost, windows);
  return schedules;
}

/** Number of a schedule, which is added where it is not known yet. Numbers stay what they are. */
export function addSchedule(
  schedules: Schedules,
  arcs: Arcs,
  unmetCost: number,
  windows: readonly number[],
): number {
  const cost = scheduleCost(arcs, windows) + missedBy(arcs, windows) * unmetCost;
  const place = placeOf(schedules, cost);
  for (let n = place; n < schedules.count; n++) {
    const c = wholeAt(schedules.order, n);
    if (floatAt(schedules.cost, c) !== cost) break;
    if (isSame(schedules, c, windows)) return c;
  }
  const { count, start } = schedules;
  const end = wholeAt(start, count);
  schedules.start = roomFor(start, count + 2);
  schedules.nodes = roomFor(schedules.nodes, end + windows.length);
  schedules.cost = roomFor(schedules.cost, count + 1);
  schedules.order = roomFor(schedules.order, count + 1);
  schedules.start[count + 1] = end + windows.length;
  schedules.nodes.set(windows, end);
  schedules.cost[count] = cost;
  schedules.order.copyWithin(place + 1, place, count);
  schedules.order[place] = count;
  schedules.count = count + 1;
  return count;
}

/** First place in the order at which the cost is not below another. */
function placeOf({ count, cost, order }: Schedules, value: number): number {
  let [low, high] = [0, count];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (floatAt(cost, wholeAt(order, middle)) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function isSame({ start, nodes }: Schedules, c: number, windows: readonly number[]): boolean {
  const from = wholeAt(start, c);
  return (
    wholeAt(start, c + 1) - from === windows.length && windows.every((k, n) => wholeAt(nodes, from + n) === k)
  );
}

/** The same column, in a larger one where it is full. */
function roomFor<T extends Int32Array | Float64Array>(column: T, length: number): T {
  if (column.length >= length) return column;
  const larger = new (column.constructor as new (size: number) => T)(Math.max(16, 2 * length));
  larger.set(column as never);
  return larger;
}
