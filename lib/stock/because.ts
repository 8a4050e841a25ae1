/** The sum behind an order, in words: what there is, what goes before it comes, and what is needed then. */

import type { Day } from '../numeric/day.js';
import { amount, dayWords } from '../numeric/words.js';
import type { Ledger } from './ledger.js';
import type { NettedOrder } from './netting.js';
import { listedPurposes } from './words.js';

/** More kits than this are said as their number. */
const MOST_NAMED = 2;

/** '55 usable − 31.7 for Autumn 2026 − 2.5 for leaks and openings = 20.8 on 7 November 2026; 31 needed ...'. */
export function becauseOf(
  order: NettedOrder,
  today: Day,
  pack: number,
  reviewDays: number,
  random: string,
): string {
  const day = dayWords(Math.floor(today + (order.expedite ? order.needed : order.due)));
  const sum = `${sumWords(order.reason.ledger, order.reason.left, random)} on ${day}`;
  const expiring = order.expedite ? 0 : expiringNext(order, reviewDays);
  const gone =
    expiring < 0.05 ? '' : `, ${tenth(expiring)} of them past use-by before the next order could come`;
  return `${sum}${gone}; ${neededWords(order, expiring, random)}${quantityWords(order, pack)}${groupWords(order, today)}`;
}

function sumWords({ usable, received, kits, random, expired }: Ledger, left: number, name: string): string {
  const parts = [`${tenth(usable)} usable`];
  if (received > 0) parts.push(`+ ${tenth(received)} delivered by then`);
  for (const [name, quantity] of namedKits(kits)) parts.push(`− ${tenth(quantity)} for ${name}`);
  if (random >= 0.05) parts.push(`− ${tenth(random)} for ${name}`);
  if (expired >= 0.05) parts.push(`− ${tenth(expired)} past use-by`);
  const used = [...kits.values()].reduce((sum, each) => sum + each, 0) + random + expired;
  const owed = usable + received - used - left;
  if (owed >= 0.05) parts.push(`− ${tenth(owed)} owed`);
  return `${parts.join(' ')} = ${tenth(left)}`;
}

function namedKits(kits: Ledger['kits']): [string, number][] {
  const taken = [...kits].filter(([, quantity]) => quantity >= 0.05);
  if (taken.length <= MOST_NAMED) return taken;
  return [[`${taken.length} shutdowns`, taken.reduce((sum, [, quantity]) => sum + quantity, 0)]];
}

/** Pieces on the shelf when the order comes that expire before a later one could. */
function expiringNext({ reason, due }: NettedOrder, reviewDays: number): number {
  return reason.shelf.reduce(
    (sum, { useBy, quantity }) => (useBy < due + reviewDays ? sum + quantity : sum),
    0,
  );
}

function neededWords({ reason, expedite, serves }: NettedOrder, expiring: number, random: string): string {
  if (expedite) {
    return reason.kits.map(({ name, quantity }) => `${tenth(quantity)} needed for ${name}`).join(' and ');
  }
  const needed = Math.max(0, reason.left - expiring) + reason.short;
  const kits = reason.kits.map(({ name, quantity }) => `${tenth(quantity)} for ${name}`);
  if (kits.length === 0) return `${tenth(needed)} needed for ${random} until the next order could come`;
  const rest = needed - reason.kits.reduce((sum, { quantity }) => sum + quantity, 0);
  const start = `${tenth(needed)} needed until the next order could come`;
  // Less than what the kits lay out: together they are safe with fewer, or what else is delivered by then covers a part.
  if (rest < -0.05) return `${start}, for ${listedPurposes(serves)}`;
  return `${start}: ${[...kits, ...(rest >= 0.05 ? [`${tenth(rest)} for ${random}`] : [])].join(', ')}`;
}

/** Where later needs are put into the same order. */
function groupWords({ until, quantity, reason }: NettedOrder, today: Day): string {
  if (until === null || quantity <= Math.ceil(reason.short - 1e-9)) return '';
  return `; lasts until about ${dayWords(Math.floor(today + until))}, cheaper than ordering again before`;
}

function quantityWords({ quantity, reason, until }: NettedOrder, pack: number): string {
  const missing = Math.ceil(reason.short - 1e-9);
  if (quantity < missing)
    return `; ${missing} missing, ${quantity} ordered so that they are used before they expire`;
  if (quantity < missing + pack)
    return missing === quantity ? `; ${missing} missing` : `; ${missing} missing, packs of ${pack}`;
  if (until !== null) return `; ${missing} missing, ${quantity} ordered together with later needs`;
  return `; ${missing} missing, ${quantity} is the smallest lot worth ordering`;
}

/** One decimal, none where it is whole. */
function tenth(value: number): string {
  const rounded = Math.round(value * 10) / 10;
  return amount(rounded, 9);
}
