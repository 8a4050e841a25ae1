/** What a shutdown is short of and by when it must be ordered, in one line for the supervisor. */
import { amount, count, dateWords } from '../chart/words.js';
import type { KitRow } from '../stock/kits.js';
import { type Html, html, name } from './markup.js';

/** Parts named one by one. */
const MOST_NAMED = 4;

/** Pieces of kits that neither the shelf nor an order that is on its way holds; null where there are none. */
export function shortPartsPoint(kits: readonly KitRow[], dataUntil: string): Html | null {
  const short = kits.filter(
    ({ taken, short: missing }) => taken !== null && taken.planned + taken.late + (missing ?? 0) > 0,
  );
  if (short.length === 0) return null;
  const shown = short
    .slice(0, MOST_NAMED)
    .map((kit, i) => html`${i === 0 ? '' : '; '}${partText(kit, dataUntil)}`);
  const rest = short.length > shown.length ? `; and ${count(short.length - shown.length, 'more part')}` : '';
  return html`<b>Short of parts:</b> ${shown}${rest}.`;
}

function partText({ item, taken, orderBy, short }: KitRow, dataUntil: string): Html {
  const { planned, late } = taken as NonNullable<KitRow['taken']>;
  const order = planned + (short ?? 0);
  const past = orderBy !== null && orderBy < dataUntil ? ', which is past: hurry it' : '';
  const day = orderBy === null ? 'day to order not known' : `order by ${dateWords(orderBy)}${past}`;
  const missing = order > 0 ? html`${amount(order, 9)} × ${name(item)} not there yet, ${day}` : null;
  const overdue = late > 0 ? html`${amount(late, 9)} × ${name(item)} on an order that is overdue` : null;
  return html`${missing}${missing !== null && overdue !== null ? '; ' : null}${overdue}`;
}
