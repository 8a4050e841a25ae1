/** The schedules of a position that can be best at some price: all of them, less those that do more for no gain. */
import { at, floatAt } from '../../numeric/columns.js';
import type { Arcs } from './arcs.js';

/** Schedules as bits (window k is bit k - 1), cheapest first; amounts for demands missed are in `cost`. */
export interface Schedules {
  windows: Int32Array;
  cost: Float64Array;
  /** Where a schedule stands in the two columns; -1 where it is not among them. */
  place: Int32Array;
}

/** Expected cost of a schedule, without demands missed. */
export function scheduleCost({ cost, chance, width, known, base }: Arcs, windows: number): number {
  let [total, reached, from] = [-base, 1, 0];
  for (let j = 1; j <= known; j++) {
    if ((windows & (1 << (j - 1))) === 0) continue;
    total += reached * floatAt(cost, from * width + j);
    reached *= floatAt(chance, from * width + j);
    from = j;
  }
  return total + reached * floatAt(cost, from * width + known + 1);
}

/** Least expected cost of any schedule that leaves frozen windows alone, whatever demands it misses. */
export function leastCost({ cost, chance, width, known, base }: Arcs, frozen: Uint8Array): number {
  const goingOn = new Float64Array(known + 1);
  for (let i = known; i >= 0; i--) {
    let least = floatAt(cost, i * width + known + 1);
    for (let j = i + 1; j <= known; j++) {
      if (frozen[j] === 1) continue;
      const arc = i * width + j;
      least = Math.min(least, floatAt(cost, arc) + floatAt(chance, arc) * floatAt(goingOn, j));
    }
    goingOn[i] = least;
  }
  return floatAt(goingOn, 0) - base;
}

/** Number of demands that a schedule misses. */
export function missedBy({ missed, width, known }: Arcs, windows: number): number {
  let [count, from] = [0, 0];
  for (let j = 1; j <= known; j++) {
    if ((windows & (1 << (j - 1))) === 0) continue;
    count += at(missed, from * width + j);
    from = j;
  }
  return count + at(missed, from * width + known + 1);
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
  const place = new Int32Array(all).fill(-1);
  for (const [c, windows] of kept.entries()) place[windows] = c;
  return {
    windows: Int32Array.from(kept),
    cost: Float64Array.from(kept, (windows) => floatAt(cost, windows)),
    place,
  };
}

function fillCosts(arcs: Arcs, frozen: Uint8Array, unmetCost: number, out: Float64Array): void {
  const { cost, chance, missed, width, known, base } = arcs;
  const from = (i: number, windows: number, paid: number, reached: number, unmet: number): void => {
    const last = i * width + known + 1;
    out[windows] = paid + reached * floatAt(cost, last) + (unmet + at(missed, last)) * unmetCost;
    for (let j = i + 1; j <= known; j++) {
      if (frozen[j] === 1) continue;
      const arc = i * width + j;
      from(
        j,
        windows | (1 << (j - 1)),
        paid + reached * floatAt(cost, arc),
        reached * floatAt(chance, arc),
        unmet + at(missed, arc),
      );
    }
  };
  from(0, 0, -base, 1, 0);
}
