/** Why a position is on the list of a shutdown, in words. */
import type { Shutdown } from '../fleet/types.js';
import { onClockWords } from '../group/wear/wearWords.js';
import type { Day } from '../numeric/day.js';
import { ageWords, amount, daysWords, listed, money } from '../numeric/words.js';
import { type ShortOf, shortWords } from './capacity.js';
import { type Judged, safetyWords } from './safety.js';
import { overdueOn, type TaskWindow, type WaitingCost, type WorkPosition } from './workList.js';

/** What came before at other shutdowns, and the verdict on a position that is judged by its chance to hold. */
interface Before {
  /** Names of the shutdowns at which it did not fit, and at which it was better left. */
  carriedFrom: readonly string[];
  leftAt: readonly string[];
  judged: Judged | null;
}

/** What was found when the shutdown was filled. */
export interface Outcome extends Before {
  /** What it does not fit into; null where it fits. */
  shortOf: ShortOf | null;
  shutdown: Shutdown;
  /** True where the shutdown names it as one that must be done. */
  must: boolean;
  currency: string;
  waiting: WaitingCost;
  nextWindow: Day | null;
  /** True where only the survival target asks for it. */
  forTarget: boolean;
  /** Why the fleet plan lists it here and not where its interval makes it due; empty where these are the same. */
  placed: string;
}

/** One sentence: how it stands against its interval, what happened before, and what waiting costs. */
export function reasonOf(place: WorkPosition, stop: TaskWindow, outcome: Outcome): string {
  const { shortOf, shutdown, forTarget, judged, placed, must } = outcome;
  return sentence([
    dueWords(place, stop.start),
    placed,
    ...(must ? ['asked for at this shutdown (must)'] : []),
    ...(forTarget ? ['brought forward for its survival target'] : []),
    ...beforeWords(outcome),
    ...(shortOf === null
      ? []
      : [shortWords(shortOf, shutdown, place.next.item, (value) => amount(value, 6))]),
    waitingWords(stop, outcome),
    ...(judged === null ? [] : [safetyWords(judged)]),
  ]);
}

/** One sentence: why a position that is due is better left. */
export function leftReason(place: WorkPosition, stop: TaskWindow, before: Before): string {
  return sentence([
    dueWords(place, stop.start),
    ...beforeWords(before),
    'a fresh one is more likely to leak before the next window, so leave it',
    ...(before.judged === null ? [] : [safetyWords(before.judged)]),
  ]);
}

function sentence(parts: readonly string[]): string {
  return `${parts.filter((part) => part !== '').join('; ')}.`;
}

/** "interval 9 months", and where it goes by use the count that this is. */
export function intervalWords({ now: { intervalDays, byUse, group } }: WorkPosition): string {
  const days = intervalDays ?? 0;
  const count =
    byUse && group.use !== undefined
      ? ` at its use (${onClockWords(days * group.use.perDay, group.use.clock)})`
      : '';
  return `interval ${ageWords(days)}${count}`;
}

/** How a position stands against its interval on a day. */
export function dueWords(place: WorkPosition, day: Day): string {
  if (place.now.intervalDays === null) return 'run until it leaks';
  const interval = intervalWords(place);
  if (!place.fittedKnown)
    return `${interval}; its fitting day is not on record and was taken from what fits the records`;
  const overdue = overdueOn(place, day) ?? 0;
  if (overdue === 0) return `${interval}, reached on that day`;
  const days = daysWords(Math.abs(overdue));
  return overdue > 0 ? `${interval}, passed by ${days}` : `${interval}, reached ${days} after this window`;
}

function beforeWords({ carriedFrom, leftAt }: Before): string[] {
  return [
    ...(carriedFrom.length > 0 ? [`did not fit at ${listed(carriedFrom)}`] : []),
    ...(leftAt.length > 0 ? [`left at ${listed(leftAt)}, where a fresh one was more likely to leak`] : []),
  ];
}

const WAITING = 'leaving it until ';

/** The reason of a task without what waiting costs: what a fitter needs to know of it. */
export function shortReason(because: string): string {
  const parts = because.replace(/\.$/, '').split('; ');
  return parts.filter((part) => !part.startsWith(WAITING)).join('; ');
}

/** Leaks of what is in place less those of a fresh one over the same time. */
function waitingWords({ start }: TaskWindow, { waiting, nextWindow: next, currency }: Outcome): string {
  const { left, fresh, net } = waiting;
  if (left <= 0 && fresh <= 0) return '';
  const until = next === null ? 'another year' : `the next window (${daysWords(next - start)})`;
  const leaks = `leaks ${money(left, currency)} if left, ${money(fresh, currency)} if fresh`;
  return net > 0
    ? `${WAITING}${until} costs ${money(net, currency)} on average (${leaks})`
    : `${WAITING}${until} costs nothing on average (${leaks})`;
}
