/** Amounts of one plan rounded alike everywhere, so that a saving can be read off the two costs that it lies between. */
import type { CostComparison } from '../yearly/types.js';
import { amount } from './words.js';

/** Digits of the saving and of the larger cost that are worth showing, at most. */
const SAVING_DIGITS = 3;
const COST_DIGITS = 4;
/** Enough for any amount that has been rounded to a step. */
const ALL_DIGITS = 15;

/** Rounds to one step for the whole plan, a power of ten: three digits of the saving, but four of the cost at most. */
export function moneyRounding({ today, proposed, saving }: CostComparison): (value: number) => number {
  const places = (value: number, digits: number): number =>
    value === 0 ? -Infinity : Math.floor(Math.log10(Math.abs(value))) + 1 - digits;
  const cost = places(Math.max(today.perYear, proposed.perYear), COST_DIGITS);
  const power = Math.max(cost, places(saving.perYear, SAVING_DIGITS));
  const step = Number.isFinite(power) ? 10 ** Math.max(0, power) : 1;
  return (value) => Math.round(value / step) * step;
}

/** The same in words. */
export function moneyWords(cost: CostComparison): (value: number) => string {
  const rounded = moneyRounding(cost);
  return (value) => amount(rounded(value), ALL_DIGITS);
}
