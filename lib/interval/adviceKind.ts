/** What a reader would call an advice, in one place: who changes, who keeps, and why. */
import type { IntervalAdvice } from './types.js';

/**
 * What a reader would call the advice, seen from today's practice. Kept are: what is within 2 % of the least cost
 * already, what the records cannot tell, and what has no prices to be weighed with. Unused is what no position holds.
 */
export type AdviceKind =
  | 'shorten'
  | 'lengthen'
  | 'start'
  | 'leave'
  | 'near'
  | 'keep'
  | 'unpriced'
  | 'unused'
  | 'run';

/** How many groups are told what. */
export function countDirections(intervals: readonly IntervalAdvice[]): Record<AdviceKind, number> {
  const counts = {
    shorten: 0,
    lengthen: 0,
    start: 0,
    leave: 0,
    near: 0,
    keep: 0,
    unpriced: 0,
    unused: 0,
    run: 0,
  };
  for (const each of intervals) counts[kindOf(each)] += 1;
  return counts;
}

export function kindOf({ action, direction, today, keptFor }: IntervalAdvice): AdviceKind {
  if (action === 'run') return 'run';
  // What is kept can still be held to a shorter interval, by the maker's limit.
  if (action === 'keep' && direction === 'shorten') return 'shorten';
  if (action === 'keep') return keptKind(keptFor);
  if (today === null) return 'start';
  return direction === 'shorten' || direction === 'lengthen' ? direction : 'leave';
}

function keptKind(keptFor: IntervalAdvice['keptFor']): 'near' | 'keep' | 'unpriced' | 'unused' {
  if (keptFor === 'near least cost') return 'near';
  if (keptFor === 'no positions') return 'unused';
  return keptFor === 'no prices' ? 'unpriced' : 'keep';
}

/** True where today's interval stays, and the maker's limit does not hold it down. */
export function isKept({ action, direction }: IntervalAdvice): boolean {
  return action === 'keep' && direction !== 'shorten';
}

/** True where today's interval is replaced by another. */
export function isChange(each: IntervalAdvice): boolean {
  return ['shorten', 'lengthen', 'start', 'run'].includes(kindOf(each));
}
