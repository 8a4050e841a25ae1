/** The schedules of a position that can be best at some price: all of them, less those that do more for no gain. */
import { at, floatAt, wholeAt } from '../../numeric/columns.js';
import type { Arcs } from './arcs.js';

/** Up to so many windows every schedule is looked at; with more, those that prices ask for are found one by one. */
export const MOST_LISTED = 12;

/** Schedules by number. Windows of a line are counted from 0 here. Amounts for demands missed are in `cost`. */
export interface Schedules {
  count: number;
  /** Windows of schedule c, in order: nodes[start[c]] up to nodes[start[c + 1] - 1]. */
  start: Int32Array;
  nodes: Int32Array;
  cost: Float64Array;
  /** Numbers in order of cost. */
  order: Int32Array;
  /** Number of the one that does nothing. */
  empty: number;
}

/** Expected cost of a schedule, by its windows from 0 on in order, without demands missed. */
export function scheduleCost(arcs: Arcs, windows: readonly number[]): number {
  const { first, cost, chance, width, known, base } = arcs;
  let [total, reached, from] = [-base, 1, 0];
  for (const k of windows) {
    const arc = from * width + k + 1;
    total += reached * (from === 0 ? floatAt(first.cost, arc) : floatAt(cost, arc));
    reached *= from === 0 ? floatAt(first.chance, arc) : floatAt(chance, arc);
    from = k + 1;
  }
  const last = from * width + known + 1;
  return total + reached * (from === 0 ? floatAt(first.cost, last) : floatAt(cost, last));
}

/** Least expected cost of any schedule that leaves frozen windows alone, whatever demands it misses. */
export function leastCost({ first, cost, chance, width, known, base }: Arcs, frozen: Uint8Array): number {
  const goingOn = new Float64Array(known + 1);
  for (let i = known; i >= 0; i--) {
    const [costs, chances] = i === 0 ? [first.cost, first.chance] : [cost, chance];
    let least = floatAt(costs, i * width + known + 1);
    for (let j = i + 1; j <= known; j++) {
      if (frozen[j] === 1) continue;
      const arc = i * width + j;
      least = Math.min(least, floatAt(costs, arc) + floatAt(chances, arc) * floatAt(goingOn, j));
    }
    goingOn[i] = least;
  }
  return floatAt(goingOn, 0) - base;
}

/** Number of demands that a schedule misses. */
export function missedBy({ first, missed, width, known }: Arcs, windows: readonly number[]): number {
  let [count, from] = [0, 0];
  for (const k of [...windows, known]) {
    count += at(from === 0 ? first.missed : missed, from * width + k + 1);
    from = k + 1;
  }
  return count;
}

/** Windows of a schedule, from 0 on. */
export function windowsOf({ start, nodes }: Schedules, c: number): number[] {
  return Array.from(nodes.subarray(wholeAt(start, c), wholeAt(start, c + 1)));
}

/** Whether a schedule does something at a window. */
export function hasWindow({ start, nodes }: Schedules, c: number, k: number): boolean {
  for (let n = wholeAt(start, c), end = wholeAt(start, c + 1); n < end; n++) {
    if (wholeAt(nodes, n) === k) return true;
  }
  return false;
}

/**
 * Every schedule of a position that leaves frozen windows alone, but for those with a part that costs no more: hours,
 * pieces and stops have no negative price, so that they are never better.
 */
export function worthwhile(arcs: Arcs, frozen: Uint8Array, unmetCost: number): Schedules {
  const all = 1 << arcs.known;
  const cost = new Float64Array(all).fill(Infinity);
  fillCosts(arcs, frozen, unmetCost, cost);
  // Least cost of a schedule and all its parts.
  const least = Float64Array.from(cost);
  const kept: number[] = [0];
  for (let windows = 1; windows < all; windows++) {
    let ofParts = Infinity;
    for (let bits = windows; bits !== 0; bits &= bits - 1) {
      ofParts = Math.min(ofParts, floatAt(least, windows & ~(bits & -bits)));
    }
    if (floatAt(cost, windows) < ofParts) kept.push(windows);
    else least[windows] = ofParts;
  }
  kept.sort((a, b) => floatAt(cost, a) - floatAt(cost, b) || a - b);
  return listed(kept, cost);
}

/** Schedules given as bits, in order of cost. */
function listed(kept: readonly number[], costs: Float64Array): Schedules {
  const start = new Int32Array(kept.length + 1);
  const cost = new Float64Array(kept.length);
  const order = new Int32Array(kept.length);
  const nodes: number[] = [];
  for (const [c, windows] of kept.entries()) {
    for (let bits = windows; bits !== 0; bits &= bits - 1) nodes.push(31 - Math.clz32(bits & -bits));
    start[c + 1] = nodes.length;
    cost[c] = floatAt(costs, windows);
    order[c] = c;
  }
  return {
    count: kept.length,
    start,
    nodes: Int32Array.from(nodes),
    cost,
    order,
    empty: kept.indexOf(0),
  };
}

function fillCosts(arcs: Arcs, frozen: Uint8Array, unmetCost: number, out: Float64Array): void {
  const { first, cost, chance, missed, width, known, base } = arcs;
  const from = (i: number, windows: number, paid: number, reached: number, unmet: number): void => {
    const [costs, chances, misses] =
      i === 0 ? [first.cost, first.chance, first.missed] : [cost, chance, missed];
    const last = i * width + known + 1;
    out[windows] = paid + reached * floatAt(costs, last) + (unmet + at(misses, last)) * unmetCost;
    for (let j = i + 1; j <= known; j++) {
      if (frozen[j] === 1) continue;
      const arc = i * width + j;
      from(
        j,
        windows | (1 << (j - 1)),
        paid + reached * floatAt(costs, arc),
        reached * floatAt(chances, arc),
        unmet + at(misses, arc),
      );
    }
  };
  from(0, 0, -base, 1, 0);
}
