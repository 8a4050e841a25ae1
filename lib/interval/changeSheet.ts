/** What change control asks of a changed interval: old and new, what it rests on, what was asked of the evidence. */
import type { Criticality, Fleet } from '../fleet/types.js';
import type { Drawn, Group } from '../group/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { localNumber } from '../numeric/localWords.js';
import { ageWords, chanceWords, fixed, percent } from '../numeric/words.js';
import { kindOf } from './adviceKind.js';
import {
  AGE_CHANCE,
  chanceAsked,
  type Decision,
  LENGTHEN_LEAKS,
  NO_WEAR_SHAPE,
  RUN_CHANCE,
  RUN_LEAKS,
  SHORTEN_LEAKS,
  shapeBounds,
} from './decide.js';
import { leaksFrom, livesWatchedAt } from './evidence.js';
import type { IntervalAdvice } from './types.js';
import type { Weighed } from './weigh.js';

/** One demand on the evidence, what the records show, and whether that is enough. */
export interface EvidencePoint {
  what: string;
  asked: string;
  found: string;
  /** Null where only people can tell. */
  met: boolean | null;
}

export interface ChangeSheet {
  group: string;
  material: string;
  size: number;
  duty: string | null;
  kind: 'shorter' | 'longer' | 'first schedule' | 'no schedule';
  /** Days; null = none. */
  fromDays: number | null;
  toDays: number | null;
  /** Positions that hold the group's diaphragm now or will be refitted with it, in order of tag. */
  positions: string[];
  byCriticality: Partial<Record<Criticality, number>>;
  data: {
    /** Lives in the fit, and of these leaks of any age, wear-out leaks, early leaks. */
    lives: number;
    leaks: number;
    wearLeaks: number;
    earlyLeaks: number;
    /** Removals in the fit whose reason is not known. */
    withoutReason: number;
    /** Lives of this material, size and duty that are not in the fit, because their age is not known. */
    setAside: number;
  };
  /** What the change rests on: own lives and those of groups alike. */
  model: {
    shape: Drawn;
    scaleDays: Drawn;
    b10Days: Drawn;
    borrowed: number;
    supportedAgeDays: number | null;
  };
  evidence: EvidencePoint[];
  /** What held the new interval down, or null. */
  limit: { text: string; days: number } | null;
  because: string;
}

/** The sheet of one advice, or null where nothing changes. */
export function changeSheet(
  fleet: Fleet,
  weighed: Weighed,
  decision: Decision,
  advice: IntervalAdvice,
): ChangeSheet | null {
  const kind = changeKind(advice);
  if (kind === null) return null;
  const { group, makersCap } = weighed;
  const places = group.positions.map((i) => itemAt(fleet.positions, i));
  const byCriticality: ChangeSheet['byCriticality'] = {};
  for (const { criticality } of places) byCriticality[criticality] = (byCriticality[criticality] ?? 0) + 1;
  return {
    group: group.name,
    material: group.material,
    size: group.size,
    duty: group.duty,
    kind,
    fromDays: group.today.days,
    toDays: advice.days,
    positions: places.map(({ position }) => position).sort(),
    byCriticality,
    data: {
      lives: group.lives,
      leaks: group.failures,
      wearLeaks: group.wearLeaks,
      earlyLeaks: group.earlyLeaks,
      withoutReason: group.unknown?.removals ?? 0,
      setAside: unknownAges(fleet, group),
    },
    model: {
      shape: group.planned.shape,
      scaleDays: group.planned.scale,
      b10Days: group.planned.b10,
      borrowed: group.borrowed,
      supportedAgeDays: group.supportedAge,
    },
    evidence: evidenceOf(weighed, decision, advice, kind),
    limit: makersCap === null ? null : { text: makersCap.text, days: makersCap.days },
    because: advice.because,
  };
}

/** What running until it leaks or a schedule is beside what is practised; null where nothing changes. */
function changeKind(advice: IntervalAdvice): ChangeSheet['kind'] | null {
  const isNew = advice.today === null;
  switch (kindOf(advice)) {
    case 'run':
      return isNew ? null : 'no schedule';
    case 'shorten':
    case 'start':
      return isNew ? 'first schedule' : 'shorter';
    case 'lengthen':
      return 'longer';
    default:
      return null;
  }
}

/** Lives of the group's kind without a known age. They count as demand. */
function unknownAges({ lives, materials, positions }: Fleet, { material, size, duty }: Group): number {
  let aside = 0;
  for (let i = 0; i < lives.length; i++) {
    if (!Number.isNaN(floatAt(lives.fitted, i)) || floatAt(lives.size, i) !== size) continue;
    const isKind = materials[at(lives.material, i)] === material;
    if (isKind && (duty === null || itemAt(positions, at(lives.position, i)).duty === duty)) aside += 1;
  }
  return aside;
}

/** Longer asks for more than shorter, and no schedule for more than both. */
function evidenceOf(
  weighed: Weighed,
  decision: Decision,
  advice: IntervalAdvice,
  kind: ChangeSheet['kind'],
): EvidencePoint[] {
  if (decision.action === 'keep') return [limitPoint(weighed, advice)];
  if (kind === 'no schedule') return [...noWearPoints(weighed), limitPoint(weighed, advice)];
  if (decision.ground === 'no wear-out, but a limit')
    return [...noWearPoints(weighed), limitPoint(weighed, advice)];
  return [
    ...wearPoints(weighed, advice, kind),
    ...(kind === 'longer' ? longerPoints(weighed, advice) : []),
    supportPoint(weighed, advice),
    limitPoint(weighed, advice),
  ];
}

function wearPoints(
  { group, chanceBeatsRun, candidate }: Weighed,
  { chanceBetter, today }: IntervalAdvice,
  kind: ChangeSheet['kind'],
): EvidencePoint[] {
  const leaks = kind === 'longer' ? LENGTHEN_LEAKS : SHORTEN_LEAKS;
  const { low } = shapeBounds(group);
  const chance = chanceAsked(candidate, today);
  return [
    {
      what: 'Wear-out leaks on record',
      asked: `${leaks} or more`,
      found: oneDecimal(group.wearLeaks),
      met: group.wearLeaks >= leaks,
    },
    {
      what: 'Wears out: lower one-sided 90 % bound of the shape',
      asked: 'above 1',
      found: fixed(low, 2),
      met: low > 1,
    },
    chancePoint('Chance that it costs less than running until a leak', AGE_CHANCE, chanceBeatsRun),
    ...(today === null
      ? []
      : [chancePoint('Chance that it costs less than today’s practice', chance, chanceBetter)]),
  ];
}

/** What only a longer interval is asked: what was seen beyond the age at which today's schedule ends. */
function longerPoints({ group }: Weighed, { days, today }: IntervalAdvice): EvidencePoint[] {
  if (days === null || today === null) return [];
  const watched = Math.round(livesWatchedAt(group.sample, days));
  const after = leaksFrom(group.sample, today);
  return [
    {
      what: `Lives still watched at ${ageWords(days)}`,
      asked: '5 or more',
      found: String(watched),
      met: watched >= 5,
    },
    {
      what: `Leaks on record after ${ageWords(today)}, today’s age`,
      asked: 'what was found at them',
      found: oneDecimal(after),
      met: null,
    },
  ];
}

function noWearPoints({ group, chanceRunBetter }: Weighed): EvidencePoint[] {
  const { high } = shapeBounds(group);
  const outlived = group.today.exceededShare;
  return [
    {
      what: 'Wear-out leaks on record',
      asked: `${RUN_LEAKS} or more`,
      found: oneDecimal(group.wearLeaks),
      met: group.wearLeaks >= RUN_LEAKS,
    },
    {
      what: 'Does not wear out: upper one-sided 90 % bound of the shape',
      asked: `below ${localNumber(NO_WEAR_SHAPE)}`,
      found: fixed(high, 2),
      met: high < NO_WEAR_SHAPE,
    },
    {
      what: 'Lives that got clearly older than today’s age',
      asked: 'some',
      found: percent(outlived),
      met: group.today.days === null || outlived > 0,
    },
    chancePoint('Chance that running costs less than today’s practice', RUN_CHANCE, chanceRunBetter),
  ];
}

function supportPoint({ group }: Weighed, { days }: IntervalAdvice): EvidencePoint {
  const supported = group.supportedAge;
  return {
    what: 'Age up to which the records support a statement',
    asked: `at least ${ageWords(days ?? 0)}`,
    found: supported === null ? 'none' : ageWords(supported),
    met: supported !== null && supported >= (days ?? Infinity) - 0.5,
  };
}

function limitPoint({ makersCap }: Weighed, { days }: IntervalAdvice): EvidencePoint {
  if (makersCap === null)
    return { what: 'Maker’s limit', asked: 'not passed', found: 'none is given: ask the maker', met: null };
  return {
    what: 'Maker’s limit',
    asked: 'not passed',
    found: makersCap.text,
    met: days !== null && days <= makersCap.days + 0.5,
  };
}

function chancePoint(what: string, asked: number, found: number): EvidencePoint {
  return { what, asked: `above ${percent(asked)}`, found: chanceWords(found), met: found > asked };
}

function oneDecimal(value: number): string {
  return Number.isInteger(value) ? String(value) : fixed(value, 1);
}
