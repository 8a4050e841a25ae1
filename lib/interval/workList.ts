/** Positions as the work list sees them: what is fitted, when it is due, what the work takes, and what waiting costs. */
import { itemFor } from '../cost/itemFor.js';
import { meanOf } from '../cost/spread.js';
import { replacementWork, retightenings } from '../cost/tasks.js';
import type { GroupCost } from '../cost/types.js';
import type { Fleet, Position } from '../fleet/types.js';
import type { Group, GroupedFleet, RunningLife } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR, type Day } from '../numeric/day.js';
import { standByUse } from './byUse.js';
import type { ShortOf } from './capacity.js';
import type { ReplacementPolicy } from './dueRule.js';
import { type Holding, holdingOf } from './holding.js';
import type { ShutdownTask } from './types.js';

/** Waiting is priced over this many days where no later window is known. */
export const NO_LATER_WINDOW_DAYS = 365;

/** A group as the work list needs it. */
export interface WorkGroup {
  group: Group;
  /** Days; null = run until it leaks. */
  intervalDays: number | null;
  /** Whether the interval is counted in use (byUse.ts). */
  byUse: boolean;
  /** What a leak costs above the replacement that it saves. */
  extraOfLeak: number;
  item: string | null;
  /** How its diaphragms hold, over the posterior draws. */
  holding: Holding;
}

/** A position and the diaphragm in it, as the plan runs on. */
export interface WorkPosition {
  position: Position;
  /** What is done, in order. */
  tasks: string[];
  /** Hours within the window, by craft. */
  fitterHours: number;
  instrumentHours: number;
  /** Fitter hours of re-tightening after the first steam cycle, which is after start-up and outside the window. */
  afterStartUpHours: number;
  /** Group of what is fitted now; after a planned replacement, of what will be fitted. */
  now: WorkGroup;
  next: WorkGroup;
  /** Day of fitting: as recorded, or the middle of what fits the records. */
  fitted: Day;
  /** The same by the calendar: `fitted` is the day from which its interval counts where that goes by use. */
  fittedOn: Day;
  /** False where the day of fitting is not on record and nothing has been fitted since. */
  fittedKnown: boolean;
  /** Ages on the day of the data, with chances, until a planned replacement makes the age known. */
  ages: { age: number; chance: number }[];
  /** Day from which `ages` count: the day of the data, then the day of the last planned replacement. */
  since: Day;
  /** Chance that all went as planned up to `since`. */
  chance: number;
  /** First day out of service; null where none is known. */
  ends: Day | null;
}

/** Groups of a plan; the intervals of the policy and `costs` are in their order. */
export function workGroups(
  fleet: Fleet,
  { groups }: GroupedFleet,
  { intervalDays, byUse }: Pick<ReplacementPolicy, 'intervalDays' | 'byUse'>,
  costs: readonly GroupCost[],
): WorkGroup[] {
  return groups.map((group, g) => {
    const cost = itemAt(costs, g);
    return {
      group,
      intervalDays: itemAt(intervalDays, g),
      byUse: byUse?.[g] ?? false,
      extraOfLeak: Math.max(0, meanOf(cost.leak) - meanOf(cost.replacement)),
      item: itemFor(fleet, group.material, group.size)?.item ?? null,
      holding: holdingOf(group.draws),
    };
  });
}

/** Every position in service, as the plan starts on the day of the data. */
export function workPositions(
  fleet: Fleet,
  { running }: GroupedFleet,
  groups: readonly WorkGroup[],
): WorkPosition[] {
  return running.map((life) => {
    const position = itemAt(fleet.positions, life.position);
    const now = itemAt(groups, life.groupNow);
    const { dataUntil, limits } = fleet.site;
    const counted = now.byUse && now.intervalDays !== null;
    const ages = counted ? standByUse(life, now.intervalDays ?? 0, now.group, limits, dataUntil) : life.ages;
    const meant = dataUntil - Math.round(meanAge(ages));
    return {
      position,
      ...hoursOf(fleet, position),
      now,
      next: itemAt(groups, life.groupNext),
      fitted: counted ? meant : (life.fitted ?? meant),
      fittedOn: life.fitted ?? meant,
      fittedKnown: life.fitted !== null,
      ages,
      since: fleet.site.dataUntil,
      chance: 1,
      ends: position.outOfServiceSince,
    };
  });
}

/** Work of one replacement: what happens within the window, and what after start-up. */
function hoursOf(
  fleet: Fleet,
  position: Position,
): Pick<WorkPosition, 'tasks' | 'fitterHours' | 'instrumentHours' | 'afterStartUpHours'> {
  const { money } = fleet.site;
  const work = replacementWork(money, position);
  const once = money.retightenHours === null ? 0 : meanOf(money.retightenHours);
  const afterStartUpHours = (retightenings(position) - 1) * once;
  return {
    tasks: work.tasks,
    fitterHours: meanOf(work.fitterHours) - afterStartUpHours,
    instrumentHours: meanOf(work.instrumentHours),
    afterStartUpHours,
  };
}

/** Chance that the diaphragm fitted now is still in place on a day: no leak, no opening, and all as planned before. */
export function chanceInPlace(place: WorkPosition, day: Day): number {
  const wait = day - place.since;
  const unopened = Math.exp((-place.now.group.openingsPerYear / DAYS_PER_YEAR) * wait);
  return place.chance * unopened * holdsUntil(place, day);
}

/** Chance of no leak from `since` to a day, over what is known of the age and over the draws. */
function holdsUntil({ ages, since, now }: WorkPosition, day: Day): number {
  let holds = 0;
  for (const { age, chance } of ages) holds += chance * now.holding.mean(age, day - since);
  return holds;
}

/** Expected cost of leaks from one window to the next, above the replacement that a leak saves. */
export interface WaitingCost {
  /** If the diaphragm in place at the first window is left. */
  left: number;
  /** If a fresh one is fitted there. */
  fresh: number;
  /** What leaving costs on balance; below 0 where the fresh one is the dearer. */
  net: number;
}

/** What leaving a position from one window to a later one costs, over the draws that the plan is made on. */
export function costOfWaiting(place: WorkPosition, from: Day, to: Day): WaitingCost {
  const reached = holdsUntil(place, from);
  const leaks = reached > 0 ? 1 - holdsUntil(place, to) / reached : 1;
  const left = leaks * place.now.extraOfLeak;
  const fresh = (1 - place.next.holding.mean(0, to - from)) * place.next.extraOfLeak;
  return { left, fresh, net: left - fresh };
}

/** The position after its diaphragm was replaced on a day. */
export function afterReplacement(place: WorkPosition, day: Day): WorkPosition {
  return {
    ...place,
    now: place.next,
    fitted: day,
    fittedOn: day,
    fittedKnown: true,
    ages: [{ age: 0, chance: 1 }],
    since: day,
    chance: chanceInPlace(place, day),
  };
}

/** Whether a position is in service on a day. */
export function inService({ ends }: WorkPosition, day: Day): boolean {
  return ends === null || day < ends;
}

/** The day up to which a diaphragm must hold from one window to the next: the day out of service where that is first. */
export function holdsTo({ ends }: WorkPosition, next: Day): Day {
  return ends === null ? next : Math.min(next, ends);
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
  shortOf: ShortOf | null,
  because: string,
  costOfWaitingNet: number | null,
): ShutdownTask {
  const { position, next } = place;
  return {
    shutdown: window.name,
    start: window.startText,
    position: position.position,
    line: position.line,
    location: position.location,
    item: next.item,
    material: next.group.material,
    size: next.group.size,
    criticality: position.criticality,
    ageDays: place.fittedKnown ? window.start - place.fittedOn : null,
    overdueDays: place.fittedKnown ? overdueOn(place, window.start) : null,
    fitterHours: place.fitterHours,
    instrumentHours: place.instrumentHours,
    afterStartUpHours: place.afterStartUpHours,
    tasks: place.tasks,
    chanceStillDue: chanceInPlace(place, window.start),
    fits: shortOf === null,
    shortOf,
    costOfWaiting: costOfWaitingNet,
    because,
  };
}

function meanAge(ages: RunningLife['ages']): number {
  return ages.reduce((sum, { age, chance }) => sum + age * chance, 0);
}
