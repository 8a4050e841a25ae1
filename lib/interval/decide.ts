/** Which of the three answers a group gets (METHODS 4.1), as rules in the order in which they are tried. */
import { quantileSorted } from 'simple-statistics';
import { meanOf } from '../cost/spread.js';
import type { Criticality } from '../fleet/types.js';
import type { Group } from '../group/types.js';
import { type MonthsInterval, monthsNear } from './months.js';
import type { IntervalAdvice } from './types.js';
import { isUnused } from './unused.js';
import { isSame, type Weighed } from './weigh.js';

/** Upper one-sided 90 % bound of the wear-out shape below which the data contradict wear-out. */
export const NO_WEAR_SHAPE = 1.2;
/** Wear-out leaks (Group.wearLeaks) needed before the data can contradict wear-out. */
export const RUN_LEAKS = 10;
/** Wear-out leaks needed to shorten, and to lengthen: lengthening is the stricter act. */
export const SHORTEN_LEAKS = 2;
export const LENGTHEN_LEAKS = 5;
/** Chances needed: that running beats today, that an age beats running, that a change beats today. */
export const RUN_CHANCE = 0.9;
export const AGE_CHANCE = 0.9;
export const SHORTEN_CHANCE = 0.8;
export const LENGTHEN_CHANCE = 0.9;
/** From here to SHORTEN_CHANCE it is open which of two intervals is the cheaper. */
export const UNDECIDED_FROM = 0.2;

/** Why an answer was given. */
export type Ground =
  | 'no positions'
  | 'no prices'
  | 'no wear-out'
  | 'no wear-out, but a limit'
  | 'age supported'
  | 'same as today'
  | 'too few leaks'
  | 'wear-out not shown'
  | 'running may be cheaper'
  | 'not clearly better'
  | 'lengthening not supported';

export interface Decision {
  action: IntervalAdvice['action'];
  direction: IntervalAdvice['direction'];
  interval: MonthsInterval | null;
  ground: Ground;
}

/** No position uses the group: there is nothing to replace, and so no interval to act on. */
const UNUSED: Decision = { action: 'keep', direction: 'leave', interval: null, ground: 'no positions' };

/** Chance of beating today that an interval needs: lengthening needs more. */
export function chanceAsked(candidate: MonthsInterval | null, todayDays: number | null): number {
  return (candidate?.days ?? Infinity) > (todayDays ?? Infinity) ? LENGTHEN_CHANCE : SHORTEN_CHANCE;
}

/** One-sided 90 % bounds of the wear-out shape, from the draws. */
export function shapeBounds({ draws }: Group): { low: number; high: number } {
  const sorted = Array.from(draws.shape).sort((a, b) => a - b);
  return { low: quantileSorted(sorted, 0.1), high: quantileSorted(sorted, 0.9) };
}

/** True where a leak is known to cost more than the replacement it asks for. */
export function hasPrices({ cost, costs }: Pick<Weighed, 'cost' | 'costs'>): boolean {
  const loss = meanOf(cost.leakDowntime) + meanOf(cost.lostBatch) + meanOf(cost.cleanup);
  return costs.replacement > 0 && loss > 0;
}

/**
 * `run` where the data contradict wear-out: the shape's upper bound is below 1.2 with 10 or more wear-out leaks, and
 * the chance that running beats today is above 0.9; never for a group with a position of high or safety criticality,
 * nor where no life outlived the practised age, and not past a maker's limit.
 * `replace` where the data support an age: there is a supported age, the shape's lower bound is above 1, the age beats
 * running with a chance above 0.9, and it is today's interval, or shorter with 2 or more wear-out leaks and a chance
 * above 0.8 of beating today, or longer with 5 or more and a chance above 0.9.
 * `keep` otherwise: today's interval, capped by the maker's limit; none for a group that no position uses now.
 */
export function decide(weighed: Weighed, criticalities: readonly Criticality[]): Decision {
  if (isUnused(weighed)) return UNUSED;
  if (!hasPrices(weighed)) return keep(weighed, 'no prices');
  if (mayRun(weighed, criticalities)) return run(weighed);
  const doubt = doubtOfAge(weighed);
  if (doubt !== null) return keep(weighed, doubt);
  const { candidate, group, chanceBetter } = weighed;
  const today = group.today.days;
  const replace = (direction: Decision['direction'], ground: Ground): Decision => ({
    action: 'replace',
    direction,
    interval: candidate,
    ground,
  });
  if (candidate === null) return keep(weighed, 'running may be cheaper');
  if (today === null) return replace('shorten', 'age supported');
  if (isSame(candidate, today)) return replace('leave', 'same as today');
  if (chanceBetter <= chanceAsked(candidate, today)) return keep(weighed, 'not clearly better');
  if (candidate.days < today) return replace('shorten', 'age supported');
  return group.wearLeaks >= LENGTHEN_LEAKS
    ? replace('lengthen', 'age supported')
    : keep(weighed, 'lengthening not supported');
}

function mayRun({ group, chanceRunBetter, best }: Weighed, criticalities: readonly Criticality[]): boolean {
  if (criticalities.some((criticality) => criticality === 'high' || criticality === 'safety')) return false;
  if (group.wearLeaks < RUN_LEAKS || shapeBounds(group).high >= NO_WEAR_SHAPE) return false;
  if (group.today.days === null) return best.age === null;
  return group.today.exceededShare > 0 && chanceRunBetter > RUN_CHANCE;
}

/** True where nothing but the maker's limit shortens what is practised: no age was chosen, and today's is not allowed. */
export function isHeldToLimit({ action, direction }: Decision): boolean {
  return action === 'keep' && direction === 'shorten';
}

/** True of the grounds that say what is lacking. The others weigh against today, which a lower limit rules out. */
export function isLacking(ground: Ground): boolean {
  return ground === 'no prices' || ground === 'too few leaks' || ground === 'wear-out not shown';
}

/** Running, or the longest interval that the maker allows. */
function run(weighed: Weighed): Decision {
  const { makersCap, group } = weighed;
  if (makersCap === null) {
    return {
      action: 'run',
      direction: group.today.days === null ? 'leave' : 'lengthen',
      interval: null,
      ground: 'no wear-out',
    };
  }
  const today = group.today.days ?? Infinity;
  const interval = monthsNear(Infinity, makersCap.days);
  const direction = isSame(interval, today) ? 'leave' : interval.days < today ? 'shorten' : 'lengthen';
  return { action: 'replace', direction, interval, ground: 'no wear-out, but a limit' };
}

/** What speaks against an age, or null. */
function doubtOfAge(weighed: Weighed): Ground | null {
  const { group, chanceBeatsRun } = weighed;
  if (group.supportedAge === null || group.wearLeaks < SHORTEN_LEAKS) return 'too few leaks';
  if (shapeBounds(group).low <= 1) return 'wear-out not shown';
  return chanceBeatsRun > AGE_CHANCE ? null : 'running may be cheaper';
}

function keep(weighed: Weighed, ground: Ground): Decision {
  const { group, makersCap, chanceBetter } = weighed;
  const cap = makersCap?.days ?? Infinity;
  const today = group.today.days ?? Infinity;
  const interval = today === Infinity && cap === Infinity ? null : monthsNear(today, cap);
  const capped = today > cap && interval !== null && !(today < Infinity && isSame(interval, today));
  const clear = ground === 'no prices' || chanceBetter < UNDECIDED_FROM;
  return { action: 'keep', direction: capped ? 'shorten' : clear ? 'leave' : 'undecided', interval, ground };
}
