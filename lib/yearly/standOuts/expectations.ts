/** What a unit would leak in the year to come if it were like its groups, by group: what its excess is counted on. */
import type { Fleet } from '../../fleet/types.js';
import { EARLY_DAYS } from '../../group/history.js';
import { type GroupHazards, groupHazards } from '../../group/standOut/hazards.js';
import type { StandOut } from '../../group/standOut/types.js';
import type { GroupedFleet } from '../../group/types.js';
import { at, floatAt, itemAt, sum } from '../../numeric/columns.js';

const DAYS_PER_YEAR = 365.25;
/** Lives shorter than this in all say too little of a year. */
const SHORTEST_YEARS = 1;

/** A diaphragm of the unit that is still fitted. */
export interface FittedPiece {
  /** Index into Fleet.positions. */
  position: number;
  group: number;
  /** Days; null where not known. */
  age: number | null;
}

/** Hazards by group, worked out when first asked for. */
export type HazardsOf = (group: number) => GroupHazards;

export function hazardsOf({ groups }: GroupedFleet): HazardsOf {
  const known = new Map<number, GroupHazards>();
  return (g) => {
    const hazards = known.get(g) ?? groupHazards(itemAt(groups, g));
    known.set(g, hazards);
    return hazards;
  };
}

/** Diaphragms of a unit that run in positions in service at the end of the data. */
export function fittedPieces(
  fleet: Fleet,
  { running }: GroupedFleet,
  { lives: rows }: StandOut,
): FittedPiece[] {
  const { lives, site } = fleet;
  const byPosition = new Map(running.map((each) => [each.position, each]));
  return rows.flatMap((i) => {
    const position = at(lives.position, i);
    const inPlace = byPosition.get(position);
    if (!Number.isNaN(floatAt(lives.removed, i)) || inPlace === undefined) return [];
    const fitted = floatAt(lives.fitted, i);
    const worn = inPlace.pace === undefined ? undefined : inPlace.ages[0]?.age;
    const age = Number.isNaN(fitted) ? null : (worn ?? Math.max(site.dataUntil - fitted, 0));
    return [{ position, group: inPlace.groupNow, age }];
  });
}

/** Leaks a year that are expected of a position or a fitter, as the years on record had it, spread over its groups by lives. */
export function perYear(
  fleet: Fleet,
  groupOfLife: ReadonlyMap<number, number>,
  one: StandOut,
  recorded: number,
): Map<number, number> {
  const years = one.kind === 'fitter' ? yearsAtWork(fleet, one) : yearsWatched(fleet, one);
  const shares = new Map<number, number>();
  for (const life of one.lives) {
    const g = groupOfLife.get(life);
    if (g !== undefined) shares.set(g, (shares.get(g) ?? 0) + 1 / one.lives.length);
  }
  const each = one.expected / recorded / Math.max(years, SHORTEST_YEARS);
  return new Map([...shares].map(([g, share]) => [g, share * each]));
}

/** Years from the first to the last of the lives' days on record. */
function yearsWatched({ lives, site }: Fleet, { lives: rows }: StandOut): number {
  const from = site.recordsFrom ?? Number.NEGATIVE_INFINITY;
  const days = rows.map((i) => {
    const removed = floatAt(lives.removed, i);
    const until = Number.isNaN(removed) ? site.dataUntil : removed;
    return until - Math.max(floatAt(lives.fitted, i), from);
  });
  return days.reduce((total, each) => total + each, 0) / DAYS_PER_YEAR;
}

function yearsAtWork({ lives }: Fleet, { lives: rows }: StandOut): number {
  const days = rows.map((i) => floatAt(lives.fitted, i));
  const [first, last] = [Math.min(...days), Math.max(...days)];
  return (last - first) / DAYS_PER_YEAR;
}

/** Whether only leaks before 60 days are too many: pieces older than that are past it. */
export function isEarlyOnly({ tested, excess }: StandOut): boolean {
  return tested === 'early leaks' || excess === 'early leaks';
}

/** Leaks expected in the year to come of pieces that are still fitted, by group: of the sort that is too many. */
export function ofPieces(
  pieces: readonly FittedPiece[],
  hazards: HazardsOf,
  earlyOnly: boolean,
): Map<number, number> {
  const expected = new Map<number, number>();
  for (const { group, age } of pieces) {
    if (age === null) continue;
    const { raised } = hazardAhead(hazards(group), age, DAYS_PER_YEAR, earlyOnly);
    expected.set(group, (expected.get(group) ?? 0) + sum(raised) / raised.length);
  }
  return expected;
}

/** By draw, of one diaphragm over so many days: expected leaks of the sort that is too many, and of any other. */
export function hazardAhead(
  hazard: GroupHazards,
  age: number,
  days: number,
  earlyOnly: boolean,
): { raised: Float64Array; usual: Float64Array } {
  const end = age + days;
  const until = earlyOnly ? Math.min(Math.max(age, EARLY_DAYS), end) : end;
  return { raised: byDraw(hazard, age, until), usual: byDraw(hazard, until, end) };
}

function byDraw(hazard: GroupHazards, from: number, to: number): Float64Array {
  const sums = hazard.none();
  hazard.add(sums, from, to);
  const fault = hazard.faultByDraw(sums);
  return hazard.wearByDraw(sums).map((wear, d) => wear + floatAt(fault, d));
}

export function totalOf(expected: ReadonlyMap<number, number>): number {
  return sum([...expected.values()]);
}
