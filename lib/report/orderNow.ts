/** What the stores planner is to do first, in a few sentences: order, chase, and the next order after that. */
import { amount, count, dateWords } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import { type OrderRow, orderRows } from './csv.js';
import { bullets, type Html, html, name, prose, trusted } from './markup.js';
import { SENTENCE } from './texts.js';

/** Orders named one by one. */
const MOST_NAMED = 6;
/** Letters of a part number that is kept on one line. */
const SHORT_NAME = 16;

/** The answer of the planner's part; null where there is no stock list or nothing to order, which is said elsewhere. */
export function orderNowPart({ stock, site }: Plan): Html | null {
  const orders = orderRows(stock);
  if (orders.length === 0) return null;
  const now = orders.filter(({ order }) => order.orderBy <= site.dataUntil);
  const next = orders[now.length];
  const lead =
    now.length === 0
      ? html`<b>${SENTENCE.nothingToOrderToday}</b>${next === undefined ? null : html` Next: ${orderText(next)}.`}`
      : html`<b>Order now:</b> ${nowText(now)}.`;
  const after = now.length === 0 || next === undefined ? [] : [html`<b>Next:</b> ${orderText(next)}.`];
  return html`<p class="lead">${lead}</p>
${bullets([...chasePoints(stock), ...after])}`;
}

function nowText(now: readonly OrderRow[]): Html {
  const shown = now
    .slice(0, MOST_NAMED)
    .map((row, i) => html`${i === 0 ? '' : ', '}${pieceText(row)}${hurryText(row)}`);
  return html`${shown}${now.length > shown.length ? ` and ${count(now.length - shown.length, 'more order')}` : ''}`;
}

function hurryText({ order }: OrderRow): string {
  return order.hurry === null ? '' : ` (hurry: needed ${dateWords(order.dueBy)})`;
}

/** "10 × WD-1040 by 18 Nov 2026, for Winter stop 2027, dairy". */
function orderText(row: OrderRow): Html {
  return html`${pieceText(row)} by ${dateWords(row.order.orderBy)}, for ${prose(row.order.for)}`;
}

function pieceText({ item, order }: OrderRow): Html {
  // Short numbers stay on one line, long ones may break.
  const line = item.item.length <= SHORT_NAME ? ' class="day"' : '';
  return html`<span${trusted(line)}>${amount(order.quantity, 9)} × ${name(item.item)}</span>`;
}

function chasePoints(stock: Plan['stock']): Html[] {
  return stock.flatMap(({ item, chase }) => {
    if (chase === null) return [];
    const { needed, quantity, due } = chase;
    const short =
      needed === null
        ? 'no shutdown is short without them yet'
        : html`without them ${amount(needed.short, 9)} are short for ${prose(needed.for)}, ${dateWords(needed.day)}`;
    return [html`<b>Chase</b> ${amount(quantity, 9)} × ${name(item)}, due ${dateWords(due)}: ${short}.`];
  });
}
