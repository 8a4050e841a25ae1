/** Orders that should have come: what is short without them, and until when an emergency order would still do. */

import type { Day } from '../numeric/day.js';
import { textFromDay } from '../numeric/day.js';
import { fittedOf } from './course.js';
import type { ItemState } from './itemState.js';
import type { NettingInput } from './netting.js';
import { firstShort } from './shortKits.js';
import type { Chase, Hurry } from './types.js';
import { chaseWords } from './words.js';

export function chaseOf(
  input: NettingInput,
  { late }: ItemState,
  today: Day,
  hurry: Omit<Hurry, 'shortOnDay'>,
): Chase | null {
  if (late === null) return null;
  const inTime = input.receipts.filter(({ source }) => source !== 'late');
  const found = firstShort({ ...input, receipts: inTime }, input.lead + input.review);
  const head = { quantity: late.quantity, due: textFromDay(late.due) };
  const written = (rest: Pick<Chase, 'needed' | 'decideBy'>, inTime: boolean): Chase => {
    const chase = { ...head, ...rest };
    return { ...chase, action: chaseWords(chase, late.orders, today, inTime) };
  };
  if (found === null) return written({ needed: null, decideBy: null }, true);
  const fitted = Math.floor(today + fittedOf(found.need));
  const last = fitted - Math.ceil(hurry.days);
  const needed = {
    for: found.need.name,
    short: Math.ceil(found.short - 1e-9),
    day: textFromDay(fitted),
  };
  return written({ needed, decideBy: textFromDay(Math.max(today, last)) }, last >= today);
}
