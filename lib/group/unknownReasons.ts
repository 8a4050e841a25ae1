/**
 * How likely a removal of unknown reason was a leak (METHODS 3.4, k = 1): the share of leaks among removals of known
 * reason, same material and duty, near the same age. The neighbours are the nearest 40 by log(age + 10 days), ties taken
 * whole, so that they stay within days of a spike of scheduled ages and spread out where removals are few.
 */
import { type Fleet, REASONS } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { CONDITION, dutyOf, FAILED, type History, isRemoval, rowsByMaterial, UNKNOWN } from './history.js';

const NEIGHBOURS = 40;
/**
 * With fewer known removals of a material and duty than there are neighbours, all duties of the material are asked; with
 * fewer of the material than this, every material.
 */
const FEWEST_KNOWN = 10;
/** Taken where the reason of no removal at all is known. */
const NOTHING_KNOWN = 0.5;
const AGE_OFFSET = 10;

/** Outcome: weights are written into `history.leakWeight`; openings per unknown row beside them. */
export interface UnknownReasons {
  /** Removals of unknown reason that entered the fits. */
  rows: number;
  /** Leaks that their weights add up to. */
  leaks: number;
  /** Chance per life (row of Fleet.lives) that an unknown removal was an opening for other work. */
  openedChance: Map<number, number>;
}

/** Known removals in ascending order of place, with running totals of leaks and openings. */
interface Known {
  place: Float64Array;
  leaksBefore: Float64Array;
  openedBefore: Float64Array;
}

export function weighUnknownReasons(fleet: Fleet, history: History): UnknownReasons {
  const byMaterial = rowsByMaterial(history, fleet.materials.length);
  const all = Array.from({ length: history.length }, (_, i) => i);
  const unknown = all.filter((i) => at(history.kind, i) === UNKNOWN);
  const result: UnknownReasons = { rows: unknown.length, leaks: 0, openedChance: new Map() };
  if (unknown.length === 0) return result;
  const everyKnown = knownOf(fleet, history, all);
  const knownOfMaterial = byMaterial.map((rows) => knownOf(fleet, history, rows));
  const knownOfDuty = new Map(
    [...rowsByDuty(fleet, history)].map(([key, rows]) => [key, knownOf(fleet, history, rows)]),
  );
  for (const i of unknown) {
    const ofMaterial = itemAt(knownOfMaterial, at(history.material, i));
    const wider = ofMaterial.place.length >= FEWEST_KNOWN ? ofMaterial : everyKnown;
    const own = knownOfDuty.get(dutyKey(fleet, history, i)) ?? wider;
    const share = shareNear(own.place.length >= NEIGHBOURS ? own : wider, placeOf(floatAt(history.age, i)));
    history.leakWeight[i] = share.leaks;
    result.leaks += share.leaks;
    result.openedChance.set(at(history.life, i), share.opened);
  }
  return result;
}

/** Rows of each material and duty: practised ages differ between duties, and with them what a removal at an age is. */
function rowsByDuty(fleet: Fleet, history: History): Map<string, number[]> {
  const rows = new Map<string, number[]>();
  for (let i = 0; i < history.length; i++) {
    const key = dutyKey(fleet, history, i);
    const list = rows.get(key);
    if (list === undefined) rows.set(key, [i]);
    else list.push(i);
  }
  return rows;
}

function dutyKey(fleet: Fleet, history: History, i: number): string {
  return `${at(history.material, i)}/${dutyOf(fleet, at(history.life, i))}`;
}

function placeOf(age: number): number {
  return Math.log(age + AGE_OFFSET);
}

function knownOf(fleet: Fleet, history: History, rows: readonly number[]): Known {
  const known = rows
    .filter((i) => isRemoval(fleet, at(history.life, i)))
    .filter((i) => at(history.kind, i) !== UNKNOWN && at(history.kind, i) !== CONDITION)
    .sort((i, j) => floatAt(history.age, i) - floatAt(history.age, j) || i - j);
  const opened = (i: number): number =>
    REASONS[at(fleet.lives.reason, at(history.life, i))] === 'opened' ? 1 : 0;
  return {
    place: Float64Array.from(known, (i) => placeOf(floatAt(history.age, i))),
    leaksBefore: runningTotal(known.map((i) => (at(history.kind, i) === FAILED ? 1 : 0))),
    openedBefore: runningTotal(known.map(opened)),
  };
}

function runningTotal(values: readonly number[]): Float64Array {
  const totals = new Float64Array(values.length + 1);
  values.forEach((value, i) => {
    totals[i + 1] = floatAt(totals, i) + value;
  });
  return totals;
}

/** Shares of leaks and openings among the nearest known removals. */
function shareNear(
  { place, leaksBefore, openedBefore }: Known,
  where: number,
): { leaks: number; opened: number } {
  const count = place.length;
  if (count === 0) return { leaks: NOTHING_KNOWN, opened: 0 };
  const reach = distanceOfNearest(place, where, Math.min(NEIGHBOURS, count)) + 1e-12;
  const first = firstAtOrAbove(place, where - reach);
  const end = firstAtOrAbove(place, where + reach);
  const near = Math.max(end - first, 1);
  return {
    leaks: (floatAt(leaksBefore, end) - floatAt(leaksBefore, first)) / near,
    opened: (floatAt(openedBefore, end) - floatAt(openedBefore, first)) / near,
  };
}

/** Distance from `where` to the n-th nearest of sorted places. */
function distanceOfNearest(place: Float64Array, where: number, n: number): number {
  let right = firstAtOrAbove(place, where);
  let left = right - 1;
  let distance = 0;
  for (let taken = 0; taken < n; taken++) {
    const toLeft = left >= 0 ? where - floatAt(place, left) : Infinity;
    const toRight = right < place.length ? floatAt(place, right) - where : Infinity;
    distance = Math.min(toLeft, toRight);
    if (toLeft <= toRight) left--;
    else right++;
  }
  return distance;
}

function firstAtOrAbove(place: Float64Array, value: number): number {
  let low = 0;
  let high = place.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (floatAt(place, middle) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
