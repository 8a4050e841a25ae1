/** Positions as the work list sees them: what is fitted, when it is due, what the work takes, and what waiting costs. */
import { itemFor } from '../cost/itemFor.js';
import { meanOf } from '../cost/spread.js';
import { type ReplacementWork, replacementWork } from '../cost/tasks.js';
import type { GroupCost } from '../cost/types.js';
import type { Fleet, Position } from '../fleet/types.js';
import type { Group, GroupedFleet, RunningLife } from '../group/types.js';
import { survival } from '../life/distribution/index.js';
import { itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR, type Day } from '../numeric/day.js';
import type { IntervalAdvice, ShutdownTask } from './types.js';

/** Waiting is priced over this many days where no later window is known. */
export const NO_LATER_WINDOW_DAYS = 365;

/** A group as the work list needs it. */
export interface WorkGroup {
  group: Group;
  /** Days; null = run until it leaks. */
  intervalDays: number | null;
  /** What a leak costs above the replacement that it saves. */
  extraOfLeak: number;
  item: string | null;
}

/** A position and the diaphragm in it, as the plan runs on. */
export interface WorkPosition {
  position: Position;
  running: RunningLife;
  work: ReplacementWork;
  fitterHours: number;
  instrumentHours: number;
  /** Group of what is fitted now; after a planned replacement, of what will be fitted. */
  now: WorkGroup;
  next: WorkGroup;
  /** Day of fitting: as recorded, or the middle of what fits the records. */
  fitted: Day;
  /** False where the day of fitting is not on record and nothing has been fitted since. */
  fittedKnown: boolean;
  /** Ages on the day of the data, with chances, until a planned replacement makes the age known. */
  ages: { age: number; chance: number }[];
  /** Day from which `ages` count: the day of the data, then the day of the last planned replacement. */
  since: Day;
  /** Chance that all went as planned up to `since`. */
  chance: number;
}

export function workGroups(
  fleet: Fleet,
  { groups }: GroupedFleet,
  intervals: readonly IntervalAdvice[],
  costs: readonly GroupCost[],
): WorkGroup[] {
  return groups.map((group, g) => {
    const cost = itemAt(costs, g);
    return {
      group,
      intervalDays: itemAt(intervals, g).days,
      extraOfLeak: Math.max(0, meanOf(cost.leak) - meanOf(cost.replacement)),
      item: itemFor(fleet, group.material, group.size)?.item ?? null,
    };
  });
}

export function workPositions(
  fleet: Fleet,
  { running }: GroupedFleet,
  groups: readonly WorkGroup[],
): WorkPosition[] {
  return running.map((life) => {
    const position = itemAt(fleet.positions, life.position);
    const work = replacementWork(fleet.site.money, position);
    return {
      position,
      running: life,
      work,
      fitterHours: meanOf(work.fitterHours),
      instrumentHours: meanOf(work.instrumentHours),
      now: itemAt(groups, life.groupNow),
      next: itemAt(groups, life.groupNext),
      fitted: life.fitted ?? fleet.site.dataUntil - Math.round(meanAge(life)),
      fittedKnown: life.fitted !== null,
      ages: life.ages,
      since: fleet.site.dataUntil,
      chance: 1,
    };
  });
}

/** Chance that the diaphragm fitted now is still in place on a day: no leak, no opening, and all as planned before. */
export function chanceInPlace({ ages, since, now, chance }: WorkPosition, day: Day): number {
  const wait = day - since;
  const unopened = Math.exp((-now.group.openingsPerYear / DAYS_PER_YEAR) * wait);
  let alive = 0;
  for (const { age, chance: share } of ages) alive += share * survivalOver(now.group, age, wait);
  return chance * unopened * alive;
}

/** Expected cost of leaving it from one day to a later one: chance of a leak between, times what a leak costs extra. */
export function costOfWaiting(place: WorkPosition, from: Day, to: Day): number {
  const age = Math.max(0, from - place.fitted);
  return (1 - survivalOver(place.now.group, age, to - from)) * place.now.extraOfLeak;
}

/** The position after its diaphragm was replaced on a day. */
export function afterReplacement(place: WorkPosition, day: Day): WorkPosition {
  return {
    ...place,
    now: place.next,
    fitted: day,
    fittedKnown: true,
    ages: [{ age: 0, chance: 1 }],
    since: day,
    chance: chanceInPlace(place, day),
  };
}

/** Days past its interval on a day; negative before. Null where it runs until it leaks. */
export function overdueOn({ fitted, now }: WorkPosition, day: Day): number | null {
  return now.intervalDays === null ? null : day - fitted - now.intervalDays;
}

export interface TaskWindow {
  name: string;
  start: Day;
  startText: string;
}

/** A row of the work list. */
export function taskOf(
  place: WorkPosition,
  window: TaskWindow,
  fits: boolean,
  because: string,
): ShutdownTask {
  const { position, next, work } = place;
  return {
    shutdown: window.name,
    start: window.startText,
    position: position.position,
    line: position.line,
    item: next.item,
    material: next.group.material,
    size: next.group.size,
    criticality: position.criticality,
    ageDays: place.fittedKnown ? window.start - place.fitted : null,
    overdueDays: place.fittedKnown ? overdueOn(place, window.start) : null,
    fitterHours: place.fitterHours,
    instrumentHours: place.instrumentHours,
    tasks: work.tasks,
    chanceStillDue: chanceInPlace(place, window.start),
    fits,
    because,
  };
}

function survivalOver({ model }: Group, age: number, days: number): number {
  const now = survival(model, age);
  // A diaphragm that the model would have given up long ago is as good as leaking.
  return now > 0 ? survival(model, age + days) / now : 0;
}

function meanAge({ ages }: RunningLife): number {
  return ages.reduce((sum, { age, chance }) => sum + age * chance, 0);
}
