/** The clock of each group: compared on its own lives, or on all sizes of its material where it has too few leaks. */
import { type ClockComparison, compareClocks } from '../../exposure/clock/compareClocks.js';
import { LEAST_LEAD } from '../../exposure/clock/pickClock.js';
import { type ClockColumns, type ClockLaw, DAYS } from '../../exposure/clock/types.js';
import type { Fleet } from '../../fleet/types.js';
import { supportedAge } from '../../life/empirical/supportedAge.js';
import type { WeibullModel } from '../../life/model.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { columnOf, floatAt, itemAt, sum } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import type { Group, GroupedFleet } from '../types.js';
import { DOSE, doseAlike } from './doseApart.js';
import { type EnergyDoubt, toldDoseWords } from './doseWords.js';
import type { WearClock, WearCounter, WearLaw } from './types.js';
import { energyOfMaterial, type UsedLives } from './usedLives.js';
import { assumedShare, clockColumns, runningCounters, type WearLives, wearLives } from './wearLives.js';
import { notComparedWords, toldWords, untoldWords, type WhyNotCompared } from './wearWords.js';

/** A group with fewer leaks of 60 days and older is compared together with the other sizes of its material and duty. */
const FEWEST_OWN_LEAKS = 10;
/** With fewer nothing is compared. */
export const FEWEST_LEAKS = 5;
/** Lives compared at most; of more, whole positions are drawn. */
export const MOST_LIVES = 4000;
/** Resampled sets of positions. */
export const WEAR_DRAWS = 100;
/** Counts that come from positions.csv for more of the lives than this are no record of use. */
const MOST_ASSUMED = 0.5;

/** Resampled sets of positions at the ends of the range of an activation energy, where only the lead is asked. */
const FEWEST_DRAWS = 20;

/** What is compared: some groups' lives under one name. */
interface Pool {
  name: string;
  material: string;
  lives: WearLives;
}

export interface ToldClock {
  clock: WearClock;
  /** Null unless a clock other than days is told. */
  model: WeibullModel | null;
  /** The clock that equivalent hours cannot be told from there, so that they are not weighed; null where they are, or are not known. */
  alike: string | null;
}

/** Groups in which equivalent hours are not weighed, and the clock that they cannot be told from. */
export interface AlikeGroup {
  group: string;
  clock: string;
}

/** Verdicts by group, in their order; what several groups are compared on is compared once. */
export function wearClocks(
  fleet: Fleet,
  { groups, followed }: GroupedFleet,
  exposed: UsedLives,
  seed: number,
): { told: ToldClock[]; drawn: string[]; alike: AlikeGroup[] } {
  const rowsOf: number[][] = groups.map(() => []);
  followed.group.forEach((g, i) => {
    itemAt(rowsOf, g).push(i);
  });
  const drawn: string[] = [];
  const pool = (name: string, material: string, members: readonly number[]): Pool => {
    const rows = members.flatMap((g) => itemAt(rowsOf, g));
    const lives = wearLives(fleet, followed, rows, MOST_LIVES, randomStream(seed, `wear/${name}`));
    if (lives.drawnFrom !== null) drawn.push(name);
    return { name, material, lives };
  };
  const known = new Map<string, ToldClock>();
  const told = groups.map((group, g): ToldClock => {
    const own = pool(group.name, group.material, [g]);
    const alike = groups.flatMap((other, h) => (isAlike(group, other) ? [h] : []));
    const few = own.lives.leaks < FEWEST_OWN_LEAKS && alike.length > 1;
    const name = few ? poolName(group) : group.name;
    const result =
      known.get(name) ??
      verdictOf(fleet, few ? pool(name, group.material, alike) : own, followed, exposed, seed);
    known.set(name, result);
    return { ...result, clock: { ...result.clock, group: group.name } };
  });
  const alike = told.flatMap(({ clock: { comparedOn }, alike: clock }) =>
    clock === null ? [] : [{ group: comparedOn, clock }],
  );
  return { told, drawn: [...new Set(drawn)], alike };
}

function isAlike(a: Group, b: Group): boolean {
  return a.material === b.material && a.duty === b.duty;
}

function poolName({ material, duty }: Group): string {
  return duty === null || duty === '' ? `${material}, all sizes` : `${material}, ${duty}, all sizes`;
}

function verdictOf(
  fleet: Fleet,
  { name, material, lives }: Pool,
  followed: GroupedFleet['followed'],
  exposed: UsedLives,
  seed: number,
): ToldClock {
  const running = runningCounters(lives, followed, exposed);
  const alike = running.includes(DOSE) ? doseAlike(lives, followed, exposed, running) : null;
  const counters = alike === null ? running : running.filter((counter) => counter !== DOSE);
  const energy = counters.includes(DOSE) ? energyOfMaterial(exposed, material) : null;
  const estimated = energy?.from === 'lives' ? 1 : 0;
  const nothing = { name, lives: sum(lives.days.count), leaks: lives.leaks };
  if (counters.length === 0) return untold(nothing, 'nothing read');
  if (lives.leaks < FEWEST_LEAKS) return untold(nothing, 'few leaks');
  const columns = clockColumns(lives, followed, exposed, counters, estimated);
  const compared = comparedOrNull(columns, seed, WEAR_DRAWS);
  if (compared === null || compared.rows.length < 2) return untold(nothing, 'few counts');
  const judged = counters.filter((counter) => isJudged(counter, compared.best, compared.rival));
  const assumed = Math.max(0, ...judged.map((counter) => assumedShare(lives, followed, exposed, counter)));
  const isAssumed = assumed > MOST_ASSUMED;
  const few = decisivePositions(fleet, compared);
  const stands = compared.verdict === 'told' && !isAssumed && few.length === 0;
  const doubt =
    stands && energy !== null ? energyDoubt(lives, followed, exposed, counters, compared, seed) : null;
  const isTold = stands && doubt === null;
  const law = isTold && compared.clock !== DAYS ? compared.lawOnChosen() : null;
  const clock = isTold ? compared.clock : DAYS;
  const best = compared.rows[0]?.aic ?? null;
  const facts: Omit<WearClock, 'text' | 'todo'> = {
    group: name,
    comparedOn: name,
    lives: compared.lives,
    leaks: compared.failures,
    verdict: isTold ? 'told' : 'cannot tell',
    clock,
    parts: isTold ? compared.parts : [DAYS],
    best: compared.best,
    rival: compared.rival,
    lead: compared.lead,
    agreement: compared.agreement,
    rateSpread: compared.rateSpread,
    clocks: compared.rows.map(({ clock: each, aic, agreed, weight }) => ({
      clock: each,
      behind: aic === null || best === null ? null : aic - best,
      agreed,
      weight,
    })),
    law: law === null ? null : wearLaw(law, columns, compared.parts),
  };
  const words = isTold
    ? toldWords(facts, law)
    : untoldWords(facts, { assumed: isAssumed ? assumed : null, positions: few, energy: doubt });
  if (energy !== null && exposed.heat !== null && compared.parts.includes(DOSE) && isTold) {
    words.text += toldDoseWords(energy, exposed.heat.referenceCelsius);
  }
  const { model } = law ?? { model: null };
  return { clock: { ...facts, ...words }, model: model?.kind === 'weibull' ? model : null, alike };
}

/** Whose counts must be read: those of the best clock, and of a rival but for what it adds to days where a counter is told. */
function isJudged(counter: string, best: string, rival: string | null): boolean {
  const others = best === DAYS ? (rival?.split(' and ') ?? []) : [rival];
  return best.split(' and ').includes(counter) || others.includes(counter);
}

/**
 * Positions without which a lead would be no difference: a few that wear fast for reasons of their own, and happen to be used much or
 * little, must not choose the clock of all. Telling days takes a lead that stands without any one position, telling a counter one that
 * stands without any two, as a counter gives every position another interval (shares of false verdicts: test/calibrate/wearClocks.md).
 */
function decisivePositions({ positions }: Fleet, compared: ClockComparison): string[] {
  if (compared.verdict !== 'told' || compared.lead === null) return [];
  const most = compared.leadParts().slice(0, compared.clock === DAYS ? 1 : 2);
  const rest = compared.lead - most.reduce((total, { lead }) => total + Math.max(lead, 0), 0);
  return rest >= LEAST_LEAD ? [] : most.map(({ cluster }) => itemAt(positions, cluster).position);
}

/** Whether another clock does as well at an end of the range in which the activation energy lies; null where none does. */
function energyDoubt(
  lives: WearLives,
  followed: GroupedFleet['followed'],
  exposed: UsedLives,
  counters: readonly WearCounter[],
  { best }: ClockComparison,
  seed: number,
): EnergyDoubt | null {
  for (const [end, dose] of exposed.doseRange.entries()) {
    const columns = clockColumns(lives, followed, { ...exposed, dose }, counters, 0);
    const compared = comparedOrNull(columns, seed, FEWEST_DRAWS);
    if (compared === null) return { end: end === 0 ? 'low' : 'high', other: DAYS };
    const isSame = compared.best === best;
    if (isSame && (compared.lead ?? 0) >= LEAST_LEAD) continue;
    return { end: end === 0 ? 'low' : 'high', other: isSame ? (compared.rival ?? DAYS) : compared.best };
  }
  return null;
}

/** Null where no law fits on any clock: leaks are too few or all at one age. */
function comparedOrNull(columns: ClockColumns, seed: number, draws: number) {
  try {
    return compareClocks(columns, { draws, effort: 'quick', seed });
  } catch (cause) {
    if (cause instanceof Error && cause.name === 'UsageError') return null;
    throw cause;
  }
}

function untold(
  { name, lives, leaks }: { name: string; lives: number; leaks: number },
  why: WhyNotCompared,
): ToldClock {
  const facts: Omit<WearClock, 'text' | 'todo'> = {
    group: name,
    comparedOn: name,
    lives,
    leaks,
    verdict: 'cannot tell',
    clock: DAYS,
    parts: [DAYS],
    best: null,
    rival: null,
    lead: null,
    agreement: null,
    rateSpread: {},
    clocks: [],
    law: null,
  };
  return { clock: { ...facts, ...notComparedWords(facts, why) }, model: null, alike: null };
}

function wearLaw(law: ClockLaw, columns: ClockColumns, parts: readonly string[]): WearLaw {
  const { shape, tenth, half, weight, level, model } = law;
  const scale = model.kind === 'weibull' ? model.scale : half.estimate;
  return {
    shape: shape ?? { estimate: 1, low: 1, high: 1 },
    scale,
    tenth,
    half,
    weight,
    level,
    supported: supportedAge(onParts(columns, parts, weight?.estimate ?? 1)),
  };
}

/** Lives in the ages of a clock, failures exact. Lives of unknown count are left out. */
function onParts({ days, exposures }: ClockColumns, parts: readonly string[], weight: number): LifeSample {
  const counter = exposures[parts.find((part) => part !== DAYS) ?? ''];
  const joined = parts.length > 1;
  const age = (inDays: number, count: number | undefined): number =>
    joined ? inDays + weight * (count ?? Number.NaN) : (count ?? Number.NaN);
  const isLeak = (i: number): boolean => floatAt(days.upper, i) < Infinity;
  const rows = Array.from(days.lower.keys());
  const end = columnOf(rows, (i) =>
    age(isLeak(i) ? floatAt(days.upper, i) : floatAt(days.lower, i), counter?.exit[i]),
  );
  const entry = columnOf(rows, (i) => age(floatAt(days.entry, i), counter?.entry?.[i]));
  const known = rows.filter((i) => floatAt(end, i) > floatAt(entry, i));
  return {
    lower: columnOf(known, (i) => floatAt(end, i)),
    upper: columnOf(known, (i) => (isLeak(i) ? floatAt(end, i) : Infinity)),
    entry: columnOf(known, (i) => floatAt(entry, i)),
    count: columnOf(known, (i) => floatAt(days.count, i)),
    cluster: Int32Array.from(known, (i) => days.cluster[i] ?? 0),
  };
}
