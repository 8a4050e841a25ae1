/**
 * What a position's schedule costs, in pieces: from one planned replacement to the next if nothing leaks between. Node
 * 0 is what stands today, node k a replacement at known window k, the node after the last one is going on from there.
 */
import { floatAt } from '../../numeric/columns.js';
import { type FreshChances, gapsOf, lossCost, PARTS, partDay, type WindowDays } from './calendar.js';
import type { GoingOn, OwnCosts } from './goingOn.js';
import { chanceAfter, type HazardCurve } from './hazardCurve.js';
import type { FleetDiaphragm } from './types.js';

/** What lies between a replacement and the next: columns over pairs of nodes, i * width + j; what stands today has a row of its own. */
export interface FreshArcs {
  /** Expected cost from node i to node j, the replacement at j included, given that all went as planned up to i. */
  cost: Float64Array;
  /** Chance that nothing leaks in between. */
  chance: Float64Array;
  /** Demands missed in between: windows at which it must be replaced, or gets too old. */
  missed: Uint8Array;
}

export interface Arcs extends FreshArcs {
  known: number;
  /** Nodes: `known` + 2. */
  width: number;
  /** From what stands today, by node. */
  first: FreshArcs;
  /** What going on with a fresh one costs at the last known window: taken off, so that the cost ends there. */
  base: number;
}

/** How what stands today holds and costs. */
export interface Standing {
  now: FleetDiaphragm;
  curve: HazardCurve;
  /** Age today; the mean where it is not known. */
  age: number;
}

/** Arcs from each replacement on: positions with the same windows, costs and demands have them in common. */
export function freshArcs(
  windows: WindowDays,
  chances: FreshChances,
  own: OwnCosts,
  after: GoingOn,
  must: Uint8Array,
): FreshArcs {
  const { known, days } = windows;
  const width = known + 2;
  const arcs = emptyArcs(width * width);
  for (let i = 1; i <= known; i++) {
    const fresh = chances.chance.subarray(i * chances.width, (i + 1) * chances.width);
    fillFrom(arcs, i, windows, fresh, own.next, own, after, floatAt(after.leftAtLast, i));
    fillMissed(arcs, i, windows, own.latestAge, floatAt(days, i), must);
  }
  return arcs;
}

/** Arcs of a position: those from what stands today, and those that it has in common with others. */
export function arcsOf(
  windows: WindowDays,
  own: OwnCosts,
  after: GoingOn,
  standing: Standing,
  must: Uint8Array,
  fresh: FreshArcs,
): Arcs {
  const { known } = windows;
  const width = known + 2;
  const first = emptyArcs(width);
  const row = standingRow(windows, standing);
  fillFrom(first, 0, windows, row, standing.now, own, after, leftAtLast(windows, row, standing, own, after));
  fillMissed(first, 0, windows, own.latestAge, floatAt(windows.days, 0) - standing.age, must);
  // Without a window there is nothing to plan and no cost to tell.
  const base = known === 0 ? floatAt(first.cost, 1) : floatAt(after.fresh, known);
  return { known, width, ...fresh, first, base };
}

function emptyArcs(size: number): FreshArcs {
  return { cost: new Float64Array(size), chance: new Float64Array(size), missed: new Uint8Array(size) };
}

/** Chance of what stands today to be in place at the start of each part. */
function standingRow(windows: WindowDays, { curve }: Standing): Float64Array {
  const start = floatAt(windows.days, 0);
  return Float64Array.from({ length: gapsOf(windows) * PARTS + 1 }, (_, b) =>
    chanceAfter(curve, partDay(windows, b) - start),
  );
}

/** Cost of going on from the last known window if what stands today is left there too. */
function leftAtLast(
  windows: WindowDays,
  row: Float64Array,
  { now, age }: Standing,
  own: OwnCosts,
  { afterLeak, fresh, atEnd }: GoingOn,
): number {
  const { days, made, known } = windows;
  const gaps = gapsOf(windows);
  const oldAt = (window: number): number => age + floatAt(days, window) - floatAt(days, 0);
  let value = atEnd(oldAt(gaps));
  for (let gap = gaps - 1; gap >= known; gap--) {
    const start = floatAt(row, gap * PARTS);
    const left =
      start > 0
        ? (gapCost(windows, gap, row, now, afterLeak) + floatAt(row, (gap + 1) * PARTS) * value) / start
        : now.leakCost + floatAt(afterLeak, gap * PARTS);
    if (gap === known) return left;
    const renewed = own.replacementCost + (made[gap] === 1 ? own.stopShare : 0) + floatAt(fresh, gap);
    const mustGo = own.latestAge !== null && oldAt(gap + 1) > own.latestAge;
    value = mustGo ? renewed : Math.min(left, renewed);
  }
  return value;
}

/** Expected cost of losing it in a gap, and of going on after that. */
function gapCost(
  { days }: WindowDays,
  gap: number,
  row: Float64Array,
  diaphragm: FleetDiaphragm,
  afterLeak: Float64Array,
): number {
  const length = (floatAt(days, gap + 1) - floatAt(days, gap)) / PARTS;
  let cost = 0;
  for (let b = gap * PARTS; b < (gap + 1) * PARTS; b++) {
    const [from, to] = [floatAt(row, b), floatAt(row, b + 1)];
    cost += lossCost(diaphragm, from, to, length) + (from - to) * floatAt(afterLeak, b);
  }
  return cost;
}

function fillFrom(
  { cost, chance }: FreshArcs,
  i: number,
  windows: WindowDays,
  row: Float64Array,
  diaphragm: FleetDiaphragm,
  own: OwnCosts,
  { afterLeak }: GoingOn,
  left: number,
): void {
  const { known } = windows;
  const width = known + 2;
  let before = 0;
  for (let j = i + 1; j <= known; j++) {
    before += gapCost(windows, j - 1, row, diaphragm, afterLeak);
    const inPlace = floatAt(row, j * PARTS);
    cost[i * width + j] = before + inPlace * own.replacementCost;
    chance[i * width + j] = inPlace;
  }
  cost[i * width + known + 1] = before + floatAt(row, known * PARTS) * left;
}

function fillMissed(
  { missed }: FreshArcs,
  i: number,
  { days, frozen, known }: WindowDays,
  latestAge: number | null,
  fitted: number,
  must: Uint8Array,
): void {
  const width = known + 2;
  let count = 0;
  for (let j = i + 1; j <= known + 1; j++) {
    missed[i * width + j] = count;
    if (j > known || frozen[j] === 1) continue;
    const tooOld = latestAge !== null && floatAt(days, j + 1) - fitted > latestAge;
    if (must[j] === 1 || tooOld) count++;
  }
}
