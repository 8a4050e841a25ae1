import type { PieceStore } from '../fleet/pieces.js';
import type { Fleet } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { LATE_SHARE } from './dueRule.js';
import { type Choice, fillStop, type Wanted } from './fillStop.js';
import type { Earlier } from './makeRoom.js';
import { type Placed, type PlacedCandidate, placedAt } from './placed.js';
import { isAt, type Judge, type JudgedCandidate, judgeStop } from './safety.js';
import { leftReason, reasonOf } from './shutdownReason.js';
import { type Calendars, type Candidate, carry, nextWindow, type Stop, schedule } from './stopCalendar.js';
import type { StopWork } from './stopLoad.js';
import { type AgeLimits, passesLimit } from './stopPieces.js';
import type { LeftInPlace, ShutdownTask } from './types.js';
import { afterReplacement, inService, overdueOn, taskOf, type WorkPosition } from './workList.js';

/** A plant and its calendar while the plan runs on. */
export interface Walk {
  /** Where the fleet plan places positions; null = all go by the due rule. */
  placed: Placed | null;
  fleet: Fleet;
  stops: readonly Stop[];
  calendars: Calendars;
  judge: Judge;
  /** Pieces that are left as the plan runs on, and ages that the maker allows. */
  store: PieceStore;
  limits: AgeLimits;
  /** Positions brought forward, by index. */
  early: ReadonlyMap<number, Earlier>;
  /** Positions as they stand; replaced in place. */
  state: WorkPosition[];
}

/** Walks through the stops in order of date and fills each. */
export function runCalendar(walk: Walk): StopWork[] {
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
  const placed = [...placedAt(walk.placed, stop, walk), ...earlyAt(walk, stop)];
  const more = placed.filter(({ index }) => !asks.has(index));
  const listed = withMust(walk, stop, [...judged.replace, ...more], asked);
  const tasks = fillStop(stop, listed, state, calendars, walk.store).map((choice) =>
    replaceAt(walk, stop, choice),
  );
  const left = new Set(leave.map(({ index }) => index));
  const clear = !state.some((place, index) => !left.has(index) && isLate(place, stop.start));
  return { stop, tasks, leftInPlace, clear };
}

/** Positions brought forward to a stop, with why; they take its room first, for it was left over. */
function earlyAt({ early, stops, state, calendars }: Walk, stop: Stop): PlacedCandidate[] {
  const s = stops.indexOf(stop);
  return [...early].flatMap(([index, each]) => {
    const place = state[index] as WorkPosition;
    if (each.stop !== s || !isAt(place, stop, calendars)) return [];
    const words = `done here because ${itemAt(stops, each.insteadOf).name} has no room to spare`;
    const asks = { index, fitted: place.fitted, leftAt: [], carriedFrom: [], forTarget: false, judged: null };
    return [{ ...asks, placed: { fits: true, words } }];
  });
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
