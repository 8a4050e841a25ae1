/**
 * The stops of positions whose interval the data support, by the fleet plan (METHODS 4.7): each at the latest in the
 * window in which its interval makes it due, earlier where hours or stops of the line make that cheaper for the fleet.
 */
import type { GroupCost } from '../cost/types.js';
import type { Criticality, Fleet } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { beyondCalendar } from './beyondCalendar.js';
import { LATE_SHARE, scheduledDay } from './dueRule.js';
import { ROUNDING } from './fleetPlan/limitRows.js';
import { optimise } from './fleetPlan/optimise.js';
import type { FleetLimit, FleetOptimum, FleetPosition, FleetProblem } from './fleetPlan/types.js';
import { type FleetWork, fleetProblem, windowName } from './fleetProblem.js';
import { extraWindows } from './oneMoreWindow.js';
import { stopIndex } from './otherWork.js';
import { isJudged, type JudgedCandidate } from './safety.js';
import type { Calendars, Stop } from './stopCalendar.js';
import { type AgeLimits, stopPieces } from './stopPieces.js';
import type { IntervalAdvice, ShutdownOptimum, ShutdownTask } from './types.js';
import type { WorkGroup, WorkPosition } from './workList.js';

/** The plan is taken when it is within this share of the best possible, or after so many rounds. */
const CLOSE_ENOUGH = 0.002;
const ROUNDS = 400;
/** Fewer rounds for more positions than this, in proportion, and never fewer than the least. */
const MANY = 1000;
const LEAST_ROUNDS = 60;
/**
 * How much a window counts that leaves one past its interval, in amounts far above any cost, where hours allow to keep
 * them all. Where they do not, high criticality and what a shutdown names as to be done still count so; for the others the amount is that of a replacement,
 * so that what waiting costs decides.
 */
const FIRST_WEIGHT = 10;
const LATE_WEIGHT: Readonly<Record<Criticality, number>> = {
  safety: FIRST_WEIGHT,
  high: FIRST_WEIGHT,
  normal: 1,
  low: 1,
};

/** A limit that is used up; `item` of a limit on pieces. */
type Full = Pick<FleetLimit, 'limit' | 'item'>;

/** What the fleet plan says, by index of the position; stops by their place in the list. */
export interface Placed {
  /** Stops in order of date. */
  stopsOf: ReadonlyMap<number, readonly number[]>;
  /** Stops at which hours are short for one that gets past its interval before the next. */
  lateAt: ReadonlyMap<number, ReadonlySet<number>>;
  /** Last day that is planned, by line; from then on the due rule holds. */
  plannedTo: ReadonlyMap<string, Day>;
  /** What is used up at stops, and has a price. */
  full: ReadonlyMap<number, readonly Full[]>;
  /** How good it is, and what one more window would save: asked of the plan that is kept. */
  optimum(): ShutdownOptimum;
}

/** Positions that are placed: on a line with windows, with an interval from the data, and not judged by their chance to hold. */
export function placeable(
  { site }: Fleet,
  groups: readonly WorkGroup[],
  intervals: readonly IntervalAdvice[],
  places: readonly WorkPosition[],
  calendars: Calendars,
): number[] {
  const supported = new Set(groups.filter((_, g) => itemAt(intervals, g).action === 'replace'));
  return [...places.keys()].filter((p) => {
    const { position, now, next } = itemAt(places, p);
    return (
      now === next &&
      now.intervalDays !== null &&
      supported.has(now) &&
      calendars.has(position.line) &&
      !isJudged(site, position.criticality)
    );
  });
}

/** Places positions within the hours that the other work leaves; `byDueRule` are the tasks that the due rule alone lists. */
export function place(
  fleet: Fleet,
  groups: readonly WorkGroup[],
  costs: readonly GroupCost[],
  work: FleetWork,
  byDueRule: readonly ShutdownTask[],
  limits: AgeLimits,
): Placed {
  const pieces = stopPieces(fleet, work, limits, byDueRule);
  const plain = fleetProblem(fleet, groups, costs, work, limits, pieces);
  const asked = new Set((plain.must ?? []).map(({ position }) => position));
  const positions = plain.positions.map((each, i) => withinInterval(work, each, i, asked.has(each.position)));
  const problem = { ...plain, positions };
  const answer = solved(work, problem, windowsOf(byDueRule, work.stops));
  const stopsOf = new Map(work.free.map((p, i) => [p, itemAt(answer.choices, i).windows.map(Number)]));
  const dayOf = new Map(problem.windows.map(({ name, day }) => [name, day]));
  const plannedTo = new Map(
    problem.lines.map(({ line, windows }) => [
      line,
      windows.reduce((last, { window }) => Math.max(last, dayOf.get(window) ?? 0), 0),
    ]),
  );
  const lateAt = lateStops(work, answer);
  const full = new Map<number, Full[]>();
  for (const { window, limit, item, savingPerUnit } of answer.limits)
    if (savingPerUnit > 0) full.set(+window, [...(full.get(+window) ?? []), { limit, item }]);
  return {
    stopsOf,
    lateAt,
    plannedTo,
    full,
    optimum: () => ({
      ...optimumOf(work, answer, lateAt),
      extraWindows: extraWindows(work.stops, problem, work.kinds.shared),
      beyondCalendar: beyondCalendar(work, stopsOf),
    }),
  };
}

/** The plan that keeps all intervals; where hours are short for that, the one that costs least with some of them passed. */
function solved(
  work: FleetWork,
  problem: FleetProblem,
  against: ReadonlyMap<string, readonly string[]>,
): FleetOptimum {
  const rounds = Math.max(LEAST_ROUNDS, Math.floor((ROUNDS * MANY) / Math.max(MANY, work.free.length)));
  const options = { gap: CLOSE_ENOUGH, rounds, against };
  const strict = optimise(problem, options, work.kinds.shared);
  if (strict.unmet.every(({ short }) => !short)) return strict;
  const positions = problem.positions.map(
    (position): FleetPosition => ({
      ...position,
      unmetWeight:
        position.unmetWeight === FIRST_WEIGHT ? FIRST_WEIGHT : position.replacementCost / strict.unmetCost,
    }),
  );
  return optimise({ ...problem, positions }, options, work.kinds.shared);
}

function goesFirst({ position: { criticality } }: WorkPosition): boolean {
  return criticality === 'high' || criticality === 'safety';
}

/** Its interval is kept as the due rule keeps it: no window is passed after which it would be later than 5 %. */
function withinInterval(
  { places, free }: FleetWork,
  position: FleetPosition,
  i: number,
  isAsked: boolean,
): FleetPosition {
  const { now, position: own } = itemAt(places, itemAt(free, i));
  const allowed = (now.intervalDays ?? Infinity) * (1 + LATE_SHARE);
  return {
    ...position,
    latestAge: Math.min(position.latestAge ?? Infinity, allowed),
    unmetWeight: isAsked ? FIRST_WEIGHT : LATE_WEIGHT[own.criticality],
  };
}

function windowsOf(tasks: readonly ShutdownTask[], stops: readonly Stop[]): Map<string, string[]> {
  const index = stopIndex(stops);
  const windows = new Map<string, string[]>();
  for (const { position, shutdown, start, fits } of tasks) {
    const stop = index.get(JSON.stringify([shutdown, start]));
    if (!fits || stop === undefined) continue;
    windows.set(position, [...(windows.get(position) ?? []), windowName(stop)]);
  }
  return windows;
}

function lateStops({ places, free }: FleetWork, { unmet }: FleetOptimum): Map<number, Set<number>> {
  const index = new Map(free.map((p) => [itemAt(places, p).position.position, p]));
  const late = new Map<number, Set<number>>();
  for (const { position, window, short } of unmet) {
    const p = index.get(position);
    if (!short || p === undefined) continue;
    late.set(p, (late.get(p) ?? new Set()).add(Number(window)));
  }
  return late;
}

function optimumOf(
  { stops, places }: FleetWork,
  answer: FleetOptimum,
  late: ReadonlyMap<number, unknown>,
): Omit<ShutdownOptimum, 'extraWindows' | 'beyondCalendar'> {
  const { choices, cost, againstCost, limits } = answer;
  // Where hours are short, what an interval kept counts is far above any cost, and the bound with it can say nothing.
  const lowerBound = Math.max(answer.lowerBound, late.size > 0 ? answer.leastCost : -Infinity);
  const firstAreLate = [...late.keys()].some((p) => goesFirst(itemAt(places, p)));
  return {
    positions: choices.length,
    cost,
    lowerBound,
    gap: late.size > 0 && cost > 0 ? Math.max(0, (cost - lowerBound) / cost) : answer.gap,
    byDueRule: againstCost ?? cost,
    pastInterval: late.size,
    limits: limits.map(({ window, limit, item, available, used, wanted, savingPerUnit }) => ({
      shutdown: itemAt(stops, Number(window)).name,
      start: itemAt(stops, Number(window)).startText,
      limit,
      item,
      hoursLeft: available,
      // What is left of a sum after moves to and fro.
      hoursUsed: used < ROUNDING ? 0 : used,
      hoursShort: Math.max(0, wanted - available),
      // Where the first cannot keep their intervals, a price is one of keeping them, not of money.
      savingPerHour: firstAreLate ? null : savingPerUnit,
    })),
  };
}

/** Why it is done at a stop and not at the one at which its interval makes it due; empty where these are the same. */
function placedWords(
  { full }: Placed,
  place: WorkPosition,
  stop: Stop,
  after: Day,
  { stops, calendars }: { stops: readonly Stop[]; calendars: Calendars },
): string {
  const calendar = calendars.get(place.position.line);
  const day = scheduledDay(place.fitted, place.now.intervalDays, calendar?.windows ?? [], after, place.ends);
  if (calendar === undefined || day === null || day <= stop.start) return '';
  const due = calendar.stopOn.get(day);
  const window = calendar.windows.find((each) => each.day === day);
  const name = due?.name ?? window?.name ?? '';
  if (window?.stopFor === 'replacements')
    return `done here because the line would have to be stopped for it at ${name}`;
  const lack = due === undefined ? null : lackAt(full.get(stops.indexOf(due)) ?? [], place.next.item);
  if (lack !== null) return `done here because ${name} has no ${lack} to spare`;
  return `done here because it costs no more over the coming windows than ${due === undefined ? 'later' : `at ${name}`}`;
}

/** What keeps a position of an item from a stop; null where nothing does. */
function lackAt(full: readonly Full[], item: string | null): string | null {
  const piece = full.find(({ limit, item: of }) => limit === 'stock' && of === item);
  if (piece !== undefined) return `piece of ${item ?? ''}`;
  const shared = full.find(({ limit }) => limit !== 'stock');
  if (shared === undefined) return null;
  if (shared.limit === 'replacements') return 'replacement';
  return shared.limit === 'lines' ? 'line' : 'hours';
}

/** A candidate that the fleet plan placed at a stop, or could not: then it does not fit. */
export interface PlacedCandidate extends JudgedCandidate {
  placed?: { fits: boolean; words: string };
}

/** What the fleet plan lists at a stop, of the positions as they stand there. */
export function placedAt(
  placed: Placed | null,
  stop: Stop,
  walk: { fleet: Fleet; stops: readonly Stop[]; calendars: Calendars; state: readonly WorkPosition[] },
): PlacedCandidate[] {
  if (placed === null) return [];
  const { fleet, stops, state } = walk;
  const s = stops.indexOf(stop);
  return [...placed.stopsOf].flatMap(([index, own]) => {
    const fits = own.includes(s);
    const late = placed.lateAt.get(index);
    if (!fits && late?.has(s) !== true) return [];
    const position = itemAt(state, index);
    const { fitted } = position;
    const before = stops.filter((each, i) => late?.has(i) === true && each.start > fitted && i < s);
    const words = fits
      ? placedWords(placed, position, stop, Math.max(fitted, fleet.site.dataUntil), walk)
      : '';
    const asks = { index, fitted, leftAt: [], forTarget: false, judged: null };
    return [{ ...asks, carriedFrom: before.map(({ name }) => name), placed: { fits, words } }];
  });
}
