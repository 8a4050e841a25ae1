/** Orders that should have come: what is short without them, and until when an emergency order would still do. */

import type { Day } from '../numeric/day.js';
import { textFromDay } from '../numeric/day.js';
import { dayWords } from '../numeric/words.js';
import type { ItemState } from './itemState.js';
import type { NettingInput } from './netting.js';
import { firstShort } from './shortKits.js';
import type { Chase, Hurry } from './types.js';

export function chaseOf(
  input: NettingInput,
  { late }: ItemState,
  today: Day,
  hurry: Omit<Hurry, 'shortOnDay'>,
): Chase | null {
  if (late === null) return null;
  const inTime = input.receipts.filter(({ source }) => source !== 'late');
  const found = firstShort({ ...input, receipts: inTime }, input.lead + input.review);
  const { quantity } = late;
  const what = `chase the ${quantity} due ${dayWords(late.due)}, which ${quantity === 1 ? 'has' : 'have'} not come`;
  const head = { quantity, due: textFromDay(late.due) };
  if (found === null) {
    const rest =
      'no kit before a new order could come is short without them, but the orders listed count on them';
    return { ...head, needed: null, decideBy: null, action: `${what}: ${rest}` };
  }
  const short = Math.ceil(found.short - 1e-9);
  const fitted = Math.floor(today + (found.need.fitted ?? found.need.moment));
  const decide = Math.max(today, fitted - Math.ceil(hurry.days));
  const instead =
    fitted - Math.ceil(hurry.days) < today
      ? 'an emergency delivery would come too late'
      : `if no date is promised by ${dayWords(decide)}, place an emergency order then`;
  return {
    ...head,
    needed: { for: found.need.name, short, day: textFromDay(fitted) },
    decideBy: textFromDay(decide),
    action: `${what}: ${found.need.name} on ${dayWords(fitted)} is ${short} short without them; ${instead}`,
  };
}
