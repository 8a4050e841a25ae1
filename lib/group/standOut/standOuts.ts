/** Positions, lots, fitters and weeks of fitting that leak more often than the laws of their groups expect (METHODS 3.5). */
import type { Fleet } from '../../fleet/types.js';
import { at, floatAt, itemAt, sum } from '../../numeric/columns.js';
import type { GroupedFleet } from '../types.js';
import { averagedTail } from './chance.js';
import type { FollowedLives } from './followed.js';
import { counted, type Searched, searchKind, testsEarly } from './search.js';
import { shrunkenRatio } from './spreadOfRatios.js';
import { type Tally, tally, type Yardstick, yardstick } from './tally.js';
import { STAND_OUT_KINDS, type StandOut, type StandOutKind, type StandOuts } from './types.js';
import { unitsOf } from './units.js';
import { standOutWarnings } from './warnings.js';

/** Of those found in one kind, no more than one in ten comes by chance, on average. */
const RATE = 0.1;
/** Lives that share something with so many of a unit's cannot tell the two apart. */
const SAME = 0.9;
/** Share of the excess from which on it is of one sort. */
const MOSTLY = 2 / 3;

/**
 * Leaks against those expected, P(X >= O | E) averaged over the plan's draws with the unit's own lives taken out of the fit (`tally`
 * tells how), Benjamini and Hochberg at 10 % within each kind, nothing found on fewer than three leaks. Strongest first: what was found
 * no longer counts for units of other kinds, so that a lot does not stand out by the leaks of a position that does. Leaks
 * whose reason is not on record are taken to be missing by chance: neither counted nor expected.
 * Pure, and without chance: the plan's draws are all that is drawn.
 */
export function standOuts(fleet: Fleet, grouped: GroupedFleet): StandOuts {
  const { followed, groups, leaksWithoutReason } = grouped;
  const leaks = groups.reduce((total, { failures }) => total + failures, 0);
  const recorded = leaks > 0 ? Math.max(1 - leaksWithoutReason / leaks, 0.01) : 1;
  const stick = yardstick(followed, groups, recorded);
  const sums = counted(stick);
  const searches = STAND_OUT_KINDS.map((kind) =>
    searchKind(stick, sums, unitsOf(fleet, followed, kind), RATE),
  );
  const { found, explained } = strongestFirst(fleet, stick, searches);
  const summaries = searches.map(({ summary }) => ({
    ...summary,
    found: found.filter(({ kind }) => kind === summary.kind).length,
  }));
  return {
    found,
    explained,
    searches: summaries,
    recorded,
    rate: RATE,
    warnings: standOutWarnings(found, summaries),
  };
}

/** A unit found before others are looked at. */
interface Candidate {
  search: Searched;
  place: number;
}

/** Every candidate looked at again without the lives of stronger ones of other kinds, which `taken` marks by kind and part. */
function strongestFirst(
  fleet: Fleet,
  stick: Yardstick,
  searches: readonly Searched[],
): Pick<StandOuts, 'found' | 'explained'> {
  const candidates = searches
    .flatMap((search) => search.found.map((place): Candidate => ({ search, place })))
    .sort((a, b) => itemAt(a.search.p, a.place) - itemAt(b.search.p, b.place));
  const taken = { early: new Int8Array(stick.followed.length), later: new Int8Array(stick.followed.length) };
  const found: StandOut[] = [];
  const explained: StandOuts['explained'] = [];
  for (const candidate of candidates) {
    const one = lookAgain(fleet, stick, searches, candidate, taken);
    if (one.p <= candidate.search.threshold) {
      found.push(one);
      take(taken, candidate);
      continue;
    }
    const by = strongestSharing(found, one);
    if (by !== null) explained.push({ kind: one.kind, name: one.name, by });
  }
  return { found, explained };
}

/** Marks the lives of a found unit: 1 and up by kind; the part that was not tested stays. */
function take(taken: { early: Int8Array; later: Int8Array }, { search, place }: Candidate): void {
  const { kind } = search.units;
  const mark = STAND_OUT_KINDS.indexOf(kind) + 1;
  for (const i of membersAt(search, place)) {
    if (at(taken.early, i) === 0) taken.early[i] = mark;
    if (!testsEarly(kind) && at(taken.later, i) === 0) taken.later[i] = mark;
  }
}

function membersAt({ members, tested }: Searched, place: number): readonly number[] {
  return itemAt(members, itemAt(tested, place));
}

function lookAgain(
  fleet: Fleet,
  stick: Yardstick,
  searches: readonly Searched[],
  { search, place }: Candidate,
  taken: { early: Int8Array; later: Int8Array },
): StandOut {
  const { units, summary } = search;
  const members = membersAt(search, place);
  const unit = itemAt(search.tested, place);
  const counts = tally(stick, members, (i, part) => at(taken[part], i) === 0);
  const early = testsEarly(units.kind);
  const expected = early
    ? counts.early.expected
    : counts.early.expected.map((value, d) => value + floatAt(counts.later.expected, d));
  const leaks = counts.early.leaks + (early ? 0 : counts.later.leaks);
  const mean = sum(expected) / expected.length;
  const p = averagedTail(leaks, expected);
  const name = itemAt(units.names, unit);
  return {
    kind: units.kind,
    name,
    unit,
    lives: members.map((i) => at(stick.followed.life, i)),
    tested: early ? 'early leaks' : 'all leaks',
    leaks,
    expected: mean,
    early: countOf(counts.early),
    later: countOf(counts.later),
    excess: excessOf(counts),
    ratio: shrunkenRatio(leaks, mean, summary.k),
    p,
    adjusted: Math.min(
      1,
      Math.max(itemAt(search.adjusted, place), (p * summary.tested) / search.found.length),
    ),
    sameAs: sameAs(fleet, stick.followed, searches, members, units.kind),
  };
}

function countOf({ leaks, expected }: Tally['early']): { leaks: number; expected: number } {
  return { leaks, expected: sum(expected) / expected.length };
}

function excessOf({ early, later }: Tally): StandOut['excess'] {
  const over = ({ leaks, expected }: Tally['early']): number =>
    Math.max(0, leaks - sum(expected) / expected.length);
  const share = over(early) / (over(early) + over(later));
  return share >= MOSTLY ? 'early leaks' : share <= 1 - MOSTLY ? 'wear-out' : 'both';
}

/** Units of other kinds, and a line, that nine in ten of its lives share; not one that holds half of all lives anyway. */
function sameAs(
  fleet: Fleet,
  followed: FollowedLives,
  searches: readonly Searched[],
  members: readonly number[],
  kind: StandOutKind,
): StandOut['sameAs'] {
  const others = searches
    .filter(({ units }) => units.kind !== kind && units.kind !== 'position')
    .flatMap(({ units, members: inUnits }) => {
      const unit = shared(members.map((i) => at(units.of, i)));
      const common = unit === null || unit < 0 || 2 * itemAt(inUnits, unit).length > followed.length;
      return common ? [] : [{ kind: units.kind, name: itemAt(units.names, unit) }];
    });
  if (kind === 'position') return others;
  const line = shared(members.map((i) => lineOf(fleet, followed, i)));
  if (line === null || line === '') return others;
  const onLine = followed.life.reduce(
    (total, _life, i) => total + (lineOf(fleet, followed, i) === line ? 1 : 0),
    0,
  );
  return 2 * onLine > followed.length ? others : [{ kind: 'line', name: line }, ...others];
}

function lineOf({ positions, lives }: Fleet, { life }: FollowedLives, i: number): string {
  return itemAt(positions, at(lives.position, at(life, i))).line;
}

/** What at least nine in ten have in common. */
function shared<T>(values: readonly T[]): T | null {
  const counts = new Map<T, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  for (const [value, count] of counts) if (count >= SAME * values.length) return value;
  return null;
}

/** The strongest of those found that shares lives with a unit. */
function strongestSharing(
  found: readonly StandOut[],
  { kind, lives }: StandOut,
): { kind: StandOutKind; name: string } | null {
  const own = new Set(lives);
  const by = found.find((other) => other.kind !== kind && other.lives.some((life) => own.has(life)));
  return by === undefined ? null : { kind: by.kind, name: by.name };
}
