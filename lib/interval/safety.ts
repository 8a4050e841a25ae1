/** Positions that are judged by their chance to hold until the next window, and what is done with them at a stop. */
import type { Criticality, Fleet } from '../fleet/types.js';
import type { Day } from '../numeric/day.js';
import { amount, daysWords, percentAtLeast } from '../numeric/words.js';
import type { Calendars, Candidate, Stop } from './stopCalendar.js';
import { nextWindow, openCandidates } from './stopCalendar.js';
import { longestWindow, type SafestAct, saferAct } from './survivalTarget.js';
import { holdsTo, inService, NO_LATER_WINDOW_DAYS, type WorkPosition } from './workList.js';

/** How a position stands at a stop by METHODS 4.4. */
export interface Judged extends SafestAct {
  /** Chance of holding that the site asks for; null = no target. */
  target: number | null;
  /** Days to the next window, or to the end of another year where none is known. */
  days: number;
  /** Longest time between windows that would meet the target, days; null where it is met or there is none. */
  wouldMeet: number | null;
}

/** Verdict on a position at a stop, or null where it is not judged by its chance to hold. */
export type Judge = (place: WorkPosition, day: Day, next: Day | null) => Judged | null;

/** Whether positions of a criticality are judged by their chance to hold until the next window of their line. */
export function isJudged({ targets }: Fleet['site'], criticality: Criticality): boolean {
  return criticality === 'safety' || targets.survival[criticality] !== null;
}

/** Judges positions of safety criticality, and those whose criticality has a target in `targets.survival`. */
export function judgeOf({ site }: Fleet): Judge {
  return (place, day, next) => {
    const { criticality } = place.position;
    const target = site.targets.survival[criticality];
    if (!isJudged(site, criticality)) return null;
    const days = holdsTo(place, next ?? day + NO_LATER_WINDOW_DAYS) - day;
    const age = Math.max(0, day - place.fitted);
    const { holding } = place.now;
    const act = saferAct(holding, age, days, place.next.holding, target === null ? {} : { target });
    const wouldMeet =
      target === null || act.meetsTarget === true
        ? null
        : longestWindow(holding, age, days, place.next.holding, target);
    return { ...act, target, days, wouldMeet };
  };
}

/** A candidate of a stop with the verdict on it. */
export interface JudgedCandidate extends Candidate {
  judged: Judged | null;
}

/**
 * What is to be replaced at a stop and what is better left: a position that is due is left where the one in place is
 * at least as likely to hold as a fresh one; one that is not due is brought forward where it misses its target and a
 * fresh one is more likely to hold.
 */
export function judgeStop(
  stop: Stop,
  state: readonly WorkPosition[],
  calendars: Calendars,
  judge: Judge,
): { replace: JudgedCandidate[]; leave: JudgedCandidate[] } {
  const verdict = (place: WorkPosition): Judged | null =>
    judge(place, stop.start, nextWindow(stop, place.position.line, calendars));
  const due = openCandidates(stop, state).map((each) => ({
    ...each,
    judged: verdict(state[each.index] as WorkPosition),
  }));
  const asked = new Set(due.map(({ index }) => index));
  const early = [...state.keys()].flatMap((index) => {
    const place = state[index] as WorkPosition;
    if (asked.has(index) || !isAt(place, stop, calendars)) return [];
    const judged = verdict(place);
    if (judged === null || judged.target === null || judged.act === 'leave') return [];
    if (judged.left >= judged.target) return [];
    return [{ index, fitted: place.fitted, carriedFrom: [], leftAt: [], forTarget: true, judged }];
  });
  const leaves = (each: JudgedCandidate): boolean => each.judged?.act === 'leave';
  return { replace: [...due.filter((each) => !leaves(each)), ...early], leave: due.filter(leaves) };
}

/** True where a stop is a window of the position's line and something was fitted before it. */
export function isAt(place: WorkPosition, stop: Stop, calendars: Calendars): boolean {
  const { position, fitted } = place;
  return (
    fitted < stop.start &&
    inService(place, stop.start) &&
    calendars.get(position.line)?.stopOn.get(stop.start) === stop
  );
}

/** Both chances to hold, what is asked, and what would help where neither reaches it. */
export function safetyWords({ act, left, replaced, target, wouldMeet, days }: Judged): string {
  const [best, other] = act === 'leave' ? [left, replaced] : [replaced, left];
  const [first, second] = act === 'leave' ? ['left', 'replaced'] : ['replaced', 'left'];
  const hold = `chance to hold for the ${daysWords(days)} to the next window at least ${percentAtLeast(best)} if ${first}, ${percentAtLeast(other)} if ${second} (lower 90 % bounds)`;
  if (target === null || wouldMeet === null) return hold;
  return `${hold}; neither reaches the target of ${amount(100 * target, 4)} %: ${helpWords(wouldMeet)}`;
}

/** What would help where a target is missed. */
export function helpWords(wouldMeet: number): string {
  return wouldMeet >= 1
    ? `a next window within ${daysWords(wouldMeet)} would`
    : 'no window is near enough, only fewer faulty fittings or a diaphragm that lasts longer would help';
}
