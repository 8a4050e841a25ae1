/** Which positions are replaced at which shutdown, within the hours of the crew. */

import { groupCosts } from '../cost/groupCost.js';
import type { GroupCost } from '../cost/types.js';
import { pieceStore } from '../fleet/pieces.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { dueList } from './dueList.js';
import { type FleetKinds, fleetKinds, makersLimits } from './fleetProblem.js';
import { limitWarnings } from './limitWarnings.js';
import { type Earlier, makeRoom } from './makeRoom.js';
import { otherWork } from './otherWork.js';
import { type Placed, place, placeable } from './placed.js';
import { practisedPolicy, proposedPolicy } from './policies.js';
import { runCalendar, type Walk } from './runCalendar.js';
import { isJudged, judgeOf } from './safety.js';
import { byShutdown } from './sameDay.js';
import { shutdownWarnings } from './shutdownWarnings.js';
import { type Calendars, calendarsOf, knownStops } from './stopCalendar.js';
import { loadOf, type StopWork } from './stopLoad.js';
import type { AgeLimits } from './stopPieces.js';
import type { IntervalAdvice, ShutdownPlan, ShutdownTask } from './types.js';
import { type WorkGroup, type WorkPosition, workGroups, workPositions } from './workList.js';

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
  const groups = workGroups(fleet, grouped, proposedPolicy(intervals), costs);
  const places = workPositions(fleet, grouped, groups);
  const limits = makersLimits(fleet, groups);
  const kinds = fleetKinds(groups, costs);
  const { work, due, placed } = bestWork({ fleet, groups, intervals, costs, places, limits, kinds });
  const optimum = placed?.optimum() ?? null;
  const calendars = calendarsOf(fleet, knownStops(fleet), places);
  const overdueNow = countOverdue(fleet, places);
  const unserved = places.filter(({ position }) => calendars.get(position.line) === undefined);
  const listed = dueList(fleet, unserved);
  const told = work.flatMap(byShutdown);
  const loads = told.map(loadOf);
  const tasks = told.flatMap((each) => each.tasks);
  return {
    tasks: [...tasks, ...listed.tasks],
    loads: [...loads, ...listed.loads],
    overdueNow,
    backlogGoneAfter: overdueNow > 0 ? (told.find(({ clear }) => clear)?.stop.name ?? null) : null,
    optimum,
    warnings: [
      ...shutdownWarnings(fleet, work.length > 0, unserved, tasks, loads, optimum),
      ...limitWarnings(fleet, intervals, due, tasks),
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
  const groups = workGroups(fleet, grouped, practisedPolicy(grouped), costs);
  const places = workPositions(fleet, grouped, groups);
  const stops = knownStops(fleet);
  const calendars = calendarsOf(fleet, stops, places);
  const [store, limits] = [pieceStore(fleet), makersLimits(fleet, groups)];
  const judge = (): null => null;
  const work = runCalendar({
    placed: null,
    fleet,
    stops,
    calendars,
    judge,
    store,
    limits,
    early: new Map(),
    state: places,
  });
  return work.flatMap(byShutdown).flatMap(({ tasks }) => tasks);
}

/** What a plan is made of, whatever is brought forward. */
interface Parts {
  fleet: Fleet;
  groups: readonly WorkGroup[];
  intervals: readonly IntervalAdvice[];
  costs: readonly GroupCost[];
  places: readonly WorkPosition[];
  limits: AgeLimits;
  kinds: FleetKinds;
}

interface Work {
  work: StopWork[];
  /** By the due rule alone. */
  due: ShutdownTask[];
  calendars: Calendars;
  free: readonly number[];
  placed: Placed | null;
}

/** The work as planned; where a later stop is short, with what goes by the due rule brought forward if that helps. */
function bestWork(parts: Parts): Work {
  const first = workWith(parts, new Map());
  let [best, early] = [first, new Map<number, Earlier>()];
  for (let round = 0; round < ROUNDS; round++) {
    const taken = new Set(best.free);
    const movable = [...parts.places.keys()].filter((p) => {
      const { now, next, position } = itemAt(parts.places, p);
      const goesByRule = !taken.has(p) && now === next && now.intervalDays !== null;
      return goesByRule && !early.has(p) && !isJudged(parts.fleet.site, position.criticality);
    });
    const more = makeRoom(best.work, parts.places, new Set(movable), best.calendars);
    if (more.size === 0) break;
    early = new Map([...early, ...more]);
    const next = workWith(parts, early);
    if (shortCount(next) >= shortCount(best)) break;
    best = next;
  }
  return { ...best, due: first.due };
}

/** Rounds in which work is brought forward: one makes others come due at other stops. */
const ROUNDS = 3;

function shortCount({ work }: Work): number {
  return work.reduce((sum, { tasks }) => sum + tasks.filter(({ fits }) => !fits).length, 0);
}

/** The work by the due rule; then, where data support intervals, with those positions placed by the fleet plan. */
function workWith(parts: Parts, early: ReadonlyMap<number, Earlier>): Work {
  const { fleet, groups, intervals, costs, places, limits, kinds } = parts;
  const walk = (placed: Placed | null): Walk => {
    const stops = knownStops(fleet);
    const calendars = calendarsOf(fleet, stops, places);
    const own = { judge: judgeOf(fleet), store: pieceStore(fleet), limits, early, state: [...places] };
    return { placed, fleet, stops, calendars, ...own };
  };
  const first = walk(null);
  const work = runCalendar(first);
  const { stops, calendars } = first;
  const free = placeable(fleet, groups, intervals, places, calendars);
  const due = work.flatMap(({ tasks }) => tasks);
  if (stops.length === 0 || free.length === 0) return { work, due, calendars, free, placed: null };
  const names = new Set(free.map((p) => itemAt(places, p).position.position));
  const other = otherWork(due, stops, names);
  const placed = place(fleet, groups, costs, { places, free, stops, calendars, other, kinds }, due, limits);
  return { work: runCalendar(walk(placed)), due, calendars, free, placed };
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
