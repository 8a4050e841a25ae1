/** Leaks and expected leaks of a set of lives, by draw of their groups' laws, with their own part in the fit taken out. */
import { at, floatAt, itemAt, sum } from '../../numeric/columns.js';
import { EARLY_DAYS } from '../history.js';
import type { Group } from '../types.js';
import type { FollowedLives } from './followed.js';
import { type GroupHazards, groupHazards, type HazardSums, yearLog } from './hazards.js';
import { hazardWithout, type LeftOut, leaveOut, type Moments } from './leaveOut.js';

type MeasuredGroup = Pick<Group, 'draws' | 'material' | 'inflation'>;

/** What lives are counted against. */
export interface Yardstick {
  followed: FollowedLives;
  groups: readonly Pick<Group, 'material' | 'inflation'>[];
  hazards: readonly GroupHazards[];
  /** Share of leaks whose reason is on record. */
  recorded: number;
  /** Of each life, days: when watching began and ended, and where early ends between the two. */
  entry: Float64Array;
  exit: Float64Array;
  between: Float64Array;
}

export function yardstick(
  followed: FollowedLives,
  groups: readonly MeasuredGroup[],
  recorded: number,
): Yardstick {
  const { entry, length } = followed;
  const [exit, between] = [new Float64Array(length), new Float64Array(length)];
  for (let i = 0; i < length; i++) {
    // A leak between two days ends watching at the middle of them.
    const end = (floatAt(followed.lower, i) + floatAt(followed.upper, i)) / 2;
    exit[i] = end;
    between[i] = Math.min(Math.max(EARLY_DAYS, floatAt(entry, i)), end);
  }
  return { followed, groups, hazards: groups.map(groupHazards), recorded, entry, exit, between };
}

/** Of a life that leaked: whether early. */
export function leakedEarly({ exit }: Yardstick, i: number): boolean {
  return floatAt(exit, i) < EARLY_DAYS;
}

/** Expected leaks on record of each life before 60 days and from then on, averaged over the draws. */
export function meanExpected(stick: Yardstick): { early: Float64Array; later: Float64Array } {
  const { followed, hazards, recorded, entry, exit, between } = stick;
  const [early, later] = [new Float64Array(followed.length), new Float64Array(followed.length)];
  for (let i = 0; i < followed.length; i++) {
    const hazard = itemAt(hazards, at(followed.group, i));
    const total = (age: number): number => hazard.meanWear(age) + hazard.meanFault(age);
    const [from, middle, to] = [floatAt(entry, i), floatAt(between, i), floatAt(exit, i)];
    const until = total(middle);
    early[i] = middle > from ? recorded * Math.max(until - total(from), 0) : 0;
    later[i] = to > middle ? recorded * Math.max(total(to) - until, 0) : 0;
  }
  return { early, later };
}

export interface PartTally {
  leaks: number;
  /** By draw. */
  expected: Float64Array;
}

/** Leaks of a set of lives, and by draw how many were expected. */
export interface Tally {
  early: PartTally;
  later: PartTally;
}

/** Which part of which life counts. */
export type Counts = (life: number, part: keyof Tally) => boolean;

/** Sums over the lives of one group; leaks by what is likely to have caused them. */
interface GroupSums {
  early: HazardSums;
  later: HazardSums;
  /** Wear-out at the mean law, by part: H, H u, H u². */
  moments: { early: [number, number, number]; later: [number, number, number] };
  wearLeaks: number;
  /** Sum of u over the wear-out leaks. */
  wearLeaksU: number;
  faultLeaks: number;
}

/**
 * H(exit) - H(entry) summed over lives: what the law expects of them, leaks counted until each life ended (compensator of the
 * leaks: Andersen, Borgan, Gill & Keiding 1993, from memory). The fit contains these lives; their part is taken out of it by one
 * Newton step in level and shape of each group's wear-out (leaveOut.ts), and exactly for the share of faulty fittings of a material: known
 * as if from a gamma law of A leaks, it is (A - O) / (A - E) times itself without O leaks where E were expected. What groups
 * lend each other is left as fitted.
 */
export function tally(stick: Yardstick, lives: readonly number[], counts: Counts): Tally {
  const byGroup = new Map<number, GroupSums>();
  const leaks = { early: 0, later: 0 };
  for (const i of lives) {
    const g = at(stick.followed.group, i);
    let sums = byGroup.get(g);
    if (sums === undefined) {
      const { none } = itemAt(stick.hazards, g);
      sums = emptySums(none);
      byGroup.set(g, sums);
    }
    addLife(sums, stick, i, counts, leaks);
  }
  const parts = [...byGroup].map(([g, sums]) => partOf(stick, g, sums));
  const faults = faultFactors(parts, stick);
  const { draws } = itemAt(stick.hazards, 0);
  const out: Tally = {
    early: { leaks: leaks.early, expected: new Float64Array(draws) },
    later: { leaks: leaks.later, expected: new Float64Array(draws) },
  };
  for (const part of parts) {
    const wear = withoutOwn(stick, part);
    const fault = faults.get(itemAt(stick.groups, part.g).material) ?? 1;
    for (const when of ['early', 'later'] as const) {
      const [hazard, hazardU] = part.moments[when];
      const { factor, stretch } = hazardWithout(wear, hazard > 0 ? hazardU / hazard : 0);
      addScaled(out[when].expected, part[when].wear, stick.recorded * factor, stretch);
      addScaled(out[when].expected, part[when].fault, stick.recorded * fault, 1);
    }
  }
  return out;
}

function emptySums(none: GroupHazards['none']): GroupSums {
  const moments: GroupSums['moments'] = { early: [0, 0, 0], later: [0, 0, 0] };
  return { early: none(), later: none(), moments, wearLeaks: 0, wearLeaksU: 0, faultLeaks: 0 };
}

function addLife(
  sums: GroupSums,
  { followed, hazards, entry, exit, between }: Yardstick,
  i: number,
  counts: Counts,
  leaks: { early: number; later: number },
): void {
  const [from, middle, to] = [floatAt(entry, i), floatAt(between, i), floatAt(exit, i)];
  const hazard = itemAt(hazards, at(followed.group, i));
  if (middle > from && counts(i, 'early')) addSpan(sums, 'early', hazard, from, middle);
  if (to > middle && counts(i, 'later')) addSpan(sums, 'later', hazard, middle, to);
  const when = to < EARLY_DAYS ? 'early' : 'later';
  if (at(followed.leak, i) === 0 || !counts(i, when)) return;
  leaks[when]++;
  const share = faultChance(hazard, floatAt(followed.lower, i), floatAt(followed.upper, i));
  sums.faultLeaks += share;
  sums.wearLeaks += 1 - share;
  sums.wearLeaksU += (1 - share) * yearLog(to);
}

function addSpan(sums: GroupSums, when: keyof Tally, hazard: GroupHazards, from: number, to: number): void {
  hazard.add(sums[when], from, to);
  const [before, after] = [hazard.moments(from), hazard.moments(to)];
  const moments = sums.moments[when];
  for (let j = 0; j < moments.length; j++) {
    moments[j] = itemAt(moments, j) + itemAt(after, j) - itemAt(before, j);
  }
}

/** Chance that a leak between two ages was a faulty fitting's: hazards at the mean of the draws. */
function faultChance(hazard: GroupHazards, lower: number, upper: number): number {
  const fault = hazard.meanFault(upper) - hazard.meanFault(lower);
  const wear = hazard.meanWear(upper) - hazard.meanWear(lower);
  return fault + wear > 0 ? fault / (fault + wear) : 0;
}

/** What one group expects of the lives, by draw. */
interface GroupPart {
  g: number;
  early: { wear: Float64Array; fault: Float64Array };
  later: { wear: Float64Array; fault: Float64Array };
  moments: GroupSums['moments'];
  wearLeaks: number;
  wearLeaksU: number;
  faultLeaks: number;
}

function partOf({ hazards }: Yardstick, g: number, sums: GroupSums): GroupPart {
  const { wearByDraw, faultByDraw } = itemAt(hazards, g);
  const of = (each: HazardSums): GroupPart['early'] => ({ wear: wearByDraw(each), fault: faultByDraw(each) });
  const { moments, wearLeaks, wearLeaksU, faultLeaks } = sums;
  return { g, early: of(sums.early), later: of(sums.later), moments, wearLeaks, wearLeaksU, faultLeaks };
}

/** Per material: by how much the share of faulty fittings changes without these lives. */
function faultFactors(parts: readonly GroupPart[], stick: Yardstick): Map<string, number> {
  const sums = new Map<string, { leaks: number; expected: number; known: number }>();
  for (const { g, early, later, faultLeaks } of parts) {
    const { material, inflation } = itemAt(stick.groups, g);
    const one = sums.get(material) ?? { leaks: 0, expected: 0, known: itemAt(stick.hazards, g).faultKnown };
    one.leaks += faultLeaks / inflation;
    one.expected += (stick.recorded * (mean(early.fault) + mean(later.fault))) / inflation;
    sums.set(material, one);
  }
  return new Map(
    [...sums].map(([material, { leaks, expected, known }]) => [
      material,
      remaining(known, leaks) / remaining(known, expected),
    ]),
  );
}

/** Level and shape of the group's wear-out without these lives. */
function withoutOwn({ groups, hazards, recorded }: Yardstick, part: GroupPart): LeftOut {
  const { inflation } = itemAt(groups, part.g);
  const { covariance, shape } = itemAt(hazards, part.g);
  const { early, later } = part.moments;
  const of = (j: 0 | 1 | 2): number => recorded * (early[j] + later[j]);
  const lives: Moments = {
    hazard: of(0),
    hazardU: of(1),
    hazardUU: of(2),
    leaks: part.wearLeaks,
    leaksU: part.wearLeaksU,
  };
  return leaveOut(covariance, shape, lives, inflation);
}

/** What is left of the knowledge; never less than a tenth of it, however many leaks the lives had. */
function remaining(known: number, taken: number): number {
  return Math.max(known - taken, known / 10);
}

function mean(values: Float64Array): number {
  return sum(values) / values.length;
}

/** Adds values times a factor, spread about their mean by a power of `stretch`. */
function addScaled(into: Float64Array, values: Float64Array, factor: number, stretch: number): void {
  const middle = mean(values);
  if (!(middle > 0)) return;
  for (let d = 0; d < into.length; d++) {
    const value = floatAt(values, d);
    const spread = stretch === 1 ? value : middle * (value / middle) ** stretch;
    into[d] = floatAt(into, d) + factor * spread;
  }
}
