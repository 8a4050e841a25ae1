/** Leave or replace, for positions where only holding tight until the next window counts (METHODS 4.4). */
import type { LifeDraws } from '../life/sampleTypes.js';
import { type Holding, holdingOf } from './holding.js';

export interface SafestAct {
  act: 'leave' | 'replace';
  /** Lower bound of the chance to hold over the window if left in place, and if replaced now. */
  left: number;
  replaced: number;
  /** Whether the better act meets the target; null without a target. */
  meetsTarget: boolean | null;
}

export interface SafestActOptions {
  /** One-sided level of the bounds; 0.9 by default. */
  level?: number;
  /** Chance of holding that is asked for. */
  target?: number;
}

const LEVEL = 0.9;

/**
 * Compares lower bounds of S(age + days) / S(age) if left and S(days) if replaced, over the draws; ties go to leaving.
 * With fitting faults a fresh diaphragm can be the riskier one for months. `fresh` are the draws of what would be
 * fitted, by default the same.
 */
export function safestAct(
  draws: LifeDraws,
  ageDays: number,
  days: number,
  fresh: LifeDraws = draws,
  options: SafestActOptions = {},
): SafestAct {
  const now = holdingOf(draws);
  return saferAct(now, ageDays, days, fresh === draws ? now : holdingOf(fresh), options);
}

/** The same from what holds: `now` of the diaphragm in place, `fresh` of the one that would be fitted. */
export function saferAct(
  now: Holding,
  ageDays: number,
  days: number,
  fresh: Holding,
  { level = LEVEL, target }: SafestActOptions = {},
): SafestAct {
  const left = now.bound(ageDays, days, 1 - level);
  const replaced = fresh.bound(0, days, 1 - level);
  return {
    act: replaced > left ? 'replace' : 'leave',
    left,
    replaced,
    meetsTarget: target === undefined ? null : Math.max(left, replaced) >= target,
  };
}

/**
 * The longest time to the next window, whole days, over which leaving or replacing meets a target; 0 where one day is
 * too long already. `days` is a time over which the target is missed.
 */
export function longestWindow(
  now: Holding,
  ageDays: number,
  days: number,
  fresh: Holding,
  target: number,
): number {
  let [meets, misses] = [0, Math.ceil(days)];
  while (misses - meets > 1) {
    const middle = Math.floor((meets + misses) / 2);
    if (saferAct(now, ageDays, middle, fresh, { target }).meetsTarget === true) meets = middle;
    else misses = middle;
  }
  return meets;
}
