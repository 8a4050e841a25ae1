/** Which positions are replaced at which shutdown, within the hours of the crew. */

import { groupCosts } from '../cost/groupCost.js';
import type { GroupCost } from '../cost/types.js';
import { type PieceStore, pieceStore } from '../fleet/pieces.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { dueList } from './dueList.js';
import { LATE_SHARE } from './dueRule.js';
import { type Choice, fillStop, type Wanted } from './fillStop.js';
import { makersLimits } from './fleetProblem.js';
import { limitWarnings } from './limitWarnings.js';
import { otherWork, type Placed, type PlacedCandidate, place, placeable, placedAt } from './placed.js';
import { practisedPolicy, proposedPolicy } from './policies.js';
import { isAt, type Judge, type JudgedCandidate, judgeOf, judgeStop } from './safety.js';
import { leftReason, reasonOf } from './shutdownReason.js';
import { shutdownWarnings } from './shutdownWarnings.js';
import {
  type Calendars,
  type Candidate,
  calendarsOf,
  carry,
  knownStops,
  nextWindow,
  type Stop,
  schedule,
} from './stopCalendar.js';
import { loadOf, type StopWork } from './stopLoad.js';
import { type AgeLimits, passesLimit } from './stopPieces.js';
import type { IntervalAdvice, LeftInPlace, ShutdownOptimum, ShutdownPlan, ShutdownTask } from './types.js';
import {
  afterReplacement,
  inService,
  overdueOn,
  taskOf,
  type WorkGroup,
  type WorkPosition,
  workGroups,
  workPositions,
} from './workList.js';

/** A plant and its calendar while the plan runs on. */
interface Walk {
  /** Where the fleet plan places positions; null = all go by the due rule. */
  placed: Placed | null;
  fleet: Fleet;
  stops: readonly Stop[];
  calendars: Calendars;
  judge: Judge;
  /** Pieces that are left as the plan runs on, and ages that the maker allows. */
  store: PieceStore;
  limits: AgeLimits;
  /** Positions as they stand; replaced in place. */
  state: WorkPosition[];
}

/**
 * Work list of every known shutdown: each position at the window at which its interval makes it due (dueRule.ts), then
 * again within the known calendar. Crew hours go to the highest criticality first, then to what is dearest to leave
 * until the next window; what does not fit is listed with `fits: false` and asks again at the line's next window.
 * Positions with a survival target, and those of safety criticality, are judged by safety.ts. Positions on a line
 * without a known window are listed by the month in which they are due. `costs` are in the order of the groups.
 */
export function planShutdowns(
  fleet: Fleet,
  grouped: GroupedFleet,
  intervals: readonly IntervalAdvice[],
  costs: readonly GroupCost[] = groupCosts(fleet, grouped),
): ShutdownPlan {
  const { intervalDays } = proposedPolicy(intervals);
  const groups = workGroups(fleet, grouped, intervalDays, costs);
  const places = workPositions(fleet, grouped, groups);
  const { work, due, optimum } = bestWork(fleet, groups, intervals, costs, places);
  const calendars = calendarsOf(fleet, knownStops(fleet), places);
  const overdueNow = countOverdue(fleet, places);
  const unserved = places.filter(({ position }) => calendars.get(position.line) === undefined);
  const listed = dueList(fleet, unserved);
  const loads = work.map(loadOf);
  const tasks = work.flatMap((each) => each.tasks);
  return {
    tasks: [...tasks, ...listed.tasks],
    loads: [...loads, ...listed.loads],
    overdueNow,
    backlogGoneAfter: overdueNow > 0 ? (work.find(({ clear }) => clear)?.stop.name ?? null) : null,
    optimum,
    warnings: [
      ...shutdownWarnings(fleet, work.length > 0, unserved, tasks, loads, optimum),
      ...limitWarnings(fleet, due, tasks),
    ],
  };
}

/**
 * The same replacements for today's practice, within the same crew hours, so that both can be priced alike: by the
 * practised intervals alone, for nobody compares chances to hold today. Only lines with a known window are on it.
 */
export function practisedWorkList(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[] = groupCosts(fleet, grouped),
): ShutdownTask[] {
  const { intervalDays } = practisedPolicy(grouped);
  const groups = workGroups(fleet, grouped, intervalDays, costs);
  const places = workPositions(fleet, grouped, groups);
  const stops = knownStops(fleet);
  const calendars = calendarsOf(fleet, stops, places);
  const [store, limits] = [pieceStore(fleet), makersLimits(fleet, groups)];
  const judge = (): null => null;
  const work = runCalendar({ placed: null, fleet, stops, calendars, judge, store, limits, state: places });
  return work.flatMap(({ tasks }) => tasks);
}

/** The work by the due rule; then, where data support intervals, with those positions placed by the fleet plan. */
function bestWork(
  fleet: Fleet,
  groups: readonly WorkGroup[],
  intervals: readonly IntervalAdvice[],
  costs: readonly GroupCost[],
  places: readonly WorkPosition[],
): { work: StopWork[]; due: ShutdownTask[]; optimum: ShutdownOptimum | null } {
  const limits = makersLimits(fleet, groups);
  const walk = (placed: Placed | null): Walk => {
    const stops = knownStops(fleet);
    const calendars = calendarsOf(fleet, stops, places);
    const own = { judge: judgeOf(fleet), store: pieceStore(fleet), limits, state: [...places] };
    return { placed, fleet, stops, calendars, ...own };
  };
  const first = walk(null);
  const byDueRule = runCalendar(first);
  const { stops, calendars } = first;
  const free = placeable(fleet, groups, intervals, places, calendars);
  const tasks = byDueRule.flatMap((each) => each.tasks);
  if (stops.length === 0 || free.length === 0) return { work: byDueRule, due: tasks, optimum: null };
  const names = new Set(free.map((p) => itemAt(places, p).position.position));
  const other = otherWork(tasks, stops, names);
  const placed = place(fleet, groups, costs, { places, free, stops, calendars, other }, tasks, limits);
  return { work: runCalendar(walk(placed)), due: tasks, optimum: placed.optimum };
}

/** Walks through the stops in order of date and fills each. */
function runCalendar(walk: Walk): StopWork[] {
  const { fleet, stops, state } = walk;
  for (const index of state.keys()) scheduleNext(walk, index, fleet.site.dataUntil);
  return stops.map((stop) => workAt(walk, stop));
}

/** A position that is placed does not ask by the due rule before the planned windows are over. */
function scheduleNext({ placed, state, calendars }: Walk, index: number, after: Day): void {
  const line = (state[index] as WorkPosition).position.line;
  const planned = placed?.stopsOf.has(index) === true ? (placed.plannedTo.get(line) ?? after) : after;
  schedule(index, state, calendars, Math.max(after, planned));
}

function workAt(walk: Walk, stop: Stop): StopWork {
  const { calendars, judge, state } = walk;
  const judged = judgeStop(stop, state, calendars, judge);
  const asked = new Set(mustAt(walk, stop));
  const leave = judged.leave.filter(({ index }) => !asked.has(index));
  const leftInPlace = leave.map((each) => leaveAt(walk, stop, each));
  const asks = new Set(judged.replace.map(({ index }) => index));
  const placed = placedAt(walk.placed, stop, walk).filter(({ index }) => !asks.has(index));
  const listed = withMust(walk, stop, [...judged.replace, ...placed], asked);
  const tasks = fillStop(stop, listed, state, calendars, walk.store).map((choice) =>
    replaceAt(walk, stop, choice),
  );
  const left = new Set(leave.map(({ index }) => index));
  const clear = !state.some((place, index) => !left.has(index) && isLate(place, stop.start));
  return { stop, tasks, leftInPlace, clear };
}

/** Positions that the shutdown names as those that must be replaced, by index; of lines that it covers, and in service. */
function mustAt({ state, calendars }: Walk, stop: Stop): number[] {
  const { must } = stop.shutdown;
  if (must.length === 0) return [];
  return [...state.keys()].filter((index) => {
    const place = state[index] as WorkPosition;
    return must.includes(place.position.position) && isAt(place, stop, calendars);
  });
}

/** Candidates of a stop, those among them marked that must be replaced there, and the ones of these that nothing else asks for. */
function withMust(
  { state, calendars, limits }: Walk,
  stop: Stop,
  listed: readonly PlacedCandidate[],
  asked: ReadonlySet<number>,
): Wanted[] {
  const isFirm = ({ index, judged }: JudgedCandidate): boolean => {
    const place = state[index] as WorkPosition;
    return (
      judged !== null || passesLimit(place, stop, nextWindow(stop, place.position.line, calendars), limits)
    );
  };
  const there = new Set(listed.map(({ index }) => index));
  const more = [...asked].filter((index) => !there.has(index));
  return [
    ...listed.map((each) => {
      const must = asked.has(each.index);
      return { ...each, must, firm: must || isFirm(each) };
    }),
    ...more.map((index): Wanted => {
      const { fitted } = state[index] as WorkPosition;
      return {
        index,
        fitted,
        carriedFrom: [],
        leftAt: [],
        forTarget: false,
        judged: null,
        must: true,
        firm: true,
      };
    }),
  ];
}

/** Lists a position that is better left, and lets it ask again at its line's next stop. */
function leaveAt({ state, calendars }: Walk, stop: Stop, candidate: JudgedCandidate): LeftInPlace {
  const place = state[candidate.index] as WorkPosition;
  const { position, line, criticality } = place.position;
  carry(asCandidate(candidate, { leftAt: [...candidate.leftAt, stop.name] }), stop, place, calendars);
  return { position, line, criticality, because: leftReason(place, stop, candidate) };
}

/** Lists a replacement and makes it, or lets it ask again at its line's next stop where it does not fit. */
function replaceAt(walk: Walk, stop: Stop, choice: Choice): ShutdownTask {
  const { fleet, state, calendars } = walk;
  const place = state[choice.index] as WorkPosition;
  const because = reasonOf(place, stop, {
    ...choice,
    shutdown: stop.shutdown,
    currency: fleet.site.currency,
    placed: choice.placed?.words ?? '',
  });
  const task = taskOf(
    place,
    stop,
    choice.shortOf,
    because,
    choice.nextWindow === null ? null : choice.waiting.net,
  );
  if (choice.shortOf === null) {
    state[choice.index] = afterReplacement(place, stop.start);
    scheduleNext(walk, choice.index, stop.start);
  } else if (choice.placed?.fits !== false) {
    const again = asCandidate(choice, { carriedFrom: [...choice.carriedFrom, stop.name] });
    carry(again, stop, place, calendars);
  }
  return task;
}

function asCandidate(
  { index, fitted, carriedFrom, leftAt, forTarget }: Candidate,
  change: Partial<Candidate>,
): Candidate {
  return { index, fitted, carriedFrom, leftAt, forTarget, ...change };
}

/** Past its interval by more than the due rule allows for. */
function isLate(place: WorkPosition, day: Day): boolean {
  const overdue = inService(place, day) ? overdueOn(place, day) : null;
  return overdue !== null && overdue > LATE_SHARE * (place.now.intervalDays ?? 0);
}

/** Expected number of positions past their interval on the day of the data. */
function countOverdue(fleet: Fleet, places: readonly WorkPosition[]): number {
  let count = 0;
  for (const { now, ages, fitted, fittedKnown } of places) {
    const interval = now.intervalDays;
    if (interval === null) continue;
    if (fittedKnown) count += fleet.site.dataUntil - fitted > interval ? 1 : 0;
    else count += ages.reduce((sum, { age, chance }) => sum + (age > interval ? chance : 0), 0);
  }
  return Math.round(count);
}
