/** What to chase and what to order, with its reason, its money and what to mind. */

import { amount, count, dateWords, pieces } from '../chart/words.js';
import type { Warning } from '../findings.js';
import { addMonths, dayFromText, textFromDay } from '../numeric/day.js';
import type { Plan } from '../planTypes.js';
import { type OrderTotal, orderTotals } from '../stock/totals.js';
import type { Chase, StockAdvice, StockOrder } from '../stock/types.js';
import { type OrderRow, orderRows } from './csv.js';
import { dataTable, folded, type Html, html, name, prose } from './markup.js';
import { CAPTION, COLUMN, HEADING, SENTENCE } from './texts.js';

/** Orders shown at once; later ones are folded. */
const SOON_MONTHS = 3;
const FEWEST_ORDERS = 8;
const MOST_ORDERS = 100;

export function itemCell(item: Pick<StockAdvice, 'item' | 'material' | 'size'>): Html {
  return html`${name(item.item)} <span class="small">${prose(item.material)} DN\u00a0${item.size}</span>`;
}

/** Orders placed and overdue: the next shutdown may hang on them. */
export function chasePart({ stock }: Plan): Html | null {
  const rows = stock.flatMap((item) => (item.chase === null ? [] : [{ item, chase: item.chase }]));
  if (rows.length === 0) return null;
  return html`<h3>${HEADING.chase}</h3>
${dataTable({
  caption: CAPTION.ordersThatWereDueBefore,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.overdue, number: true },
    { title: COLUMN.wasDue },
    { title: COLUMN.shortWithoutThem },
    { title: COLUMN.whatToDo },
  ],
  rows: rows.map(({ item, chase }) => [
    itemCell(item),
    html`<b>${amount(chase.quantity, 9)}</b>`,
    html`<span class="day">${dateWords(chase.due)}</span>`,
    neededCell(chase),
    html`<div class="wide">${prose(todoOf(chase))}</div>`,
  ]),
  cards: true,
})}`;
}

function neededCell({ needed }: Chase): Html {
  if (needed === null) return html`no kit yet`;
  return html`<div><b>${amount(needed.short, 9)}</b> for ${prose(needed.for)}, <span class="day">${dateWords(needed.day)}</span></div>`;
}

function todoOf({ needed, decideBy }: Chase): string {
  const ask = 'Ask the supplier for a date and correct orders.csv, or take the order out if it came.';
  if (needed === null || decideBy === null) return `${ask} The orders below count on it.`;
  return `${ask} No date promised by ${dateWords(decideBy)}: place an emergency order then.`;
}

export function ordersPart({ stock, site }: Plan): Html {
  if (stock.length === 0) {
    return html`<p class="lead">${SENTENCE.noOrderListFolderHasNo}</p>`;
  }
  const orders = orderRows(stock);
  if (orders.length === 0) return html`<p class="lead">${SENTENCE.nothingOrderWithinMonthsPlanned}</p>`;
  const soon = soonOrders(orders, site.dataUntil);
  const later = orders.slice(soon.length, MOST_ORDERS + soon.length);
  const rest = orders.length - soon.length - later.length;
  return html`<h3>${HEADING.order}</h3>
${totalsLine(stock, site)}${orderTable(soon, 'The next orders, the first to place first', site)}${
  later.length === 0
    ? null
    : folded(
        html`<b>${count(later.length + rest, 'later order')}</b>, from ${dateWords((later[0] as OrderRow).order.orderBy)}: an outlook after six months`,
        orderTable(later, `Later${rest > 0 ? `; ${rest} more are in order-list.csv` : ''}`, site),
      )
}`;
}

function totalsLine(stock: readonly StockAdvice[], { currency, dataUntil }: Plan['site']): Html {
  const { now, next12Months } = orderTotals(stock, dataUntil);
  return html`<p>To place now: <b>${totalWords(now, currency)}</b>. Within twelve months: <b>${totalWords(next12Months, currency)}</b>.</p>`;
}

/** '3 orders, 40 pieces, 2 100 EUR and 160 EUR for hurrying'. */
export function totalWords(
  { orders, pieces: total, value, hurry, unpriced }: OrderTotal,
  currency: string,
): string {
  if (orders === 0) return 'nothing';
  const money = unpriced === orders ? '' : `, ${amount(Math.round(value), 9)} ${currency}`;
  const fast = hurry > 0 ? ` and ${amount(hurry, 6)} ${currency} for hurrying` : '';
  const missing =
    unpriced === 0
      ? ''
      : unpriced === orders
        ? ', no prices given'
        : ` (${count(unpriced, 'order')} without a price)`;
  return `${count(orders, 'order')}, ${count(total, 'piece')}${money}${fast}${missing}`;
}

/** Orders to place within SOON_MONTHS, at least the first few so that the table is never empty. */
function soonOrders(orders: readonly OrderRow[], dataUntil: string): OrderRow[] {
  const today = dayFromText(dataUntil);
  if (today === null) return orders.slice(0, MOST_ORDERS);
  const until = textFromDay(addMonths(today, SOON_MONTHS));
  const soon = orders.filter(({ order }) => order.orderBy <= until).length;
  return orders.slice(0, Math.min(MOST_ORDERS, Math.max(soon, FEWEST_ORDERS)));
}

function orderTable(orders: readonly OrderRow[], caption: string, site: Plan['site']): Html {
  return dataTable({
    caption,
    columns: [
      { title: COLUMN.partNumber },
      { title: COLUMN.quantity, number: true },
      { title: COLUMN.orderBy },
      { title: COLUMN.dueBy },
      { title: COLUMN.for },
      { title: `Value, ${site.currency}`, number: true },
      { title: COLUMN.because },
    ],
    rows: orders.map(({ item, order }) => [
      html`${itemCell(item)}<br><span class="small">${termsOf(item, order, site.currency)}</span>`,
      html`<b>${amount(order.quantity, 9)}</b>`,
      orderDay(order, site),
      html`<span class="day">${dateWords(order.dueBy)}</span>`,
      html`<div class="wide">${prose(order.for)}</div>`,
      order.value === null ? 'no price' : amount(Math.round(order.value), 9),
      html`<div class="why">${becauseText(order)}${order.warnings.map(warningLine)}</div>`,
    ]),
    cards: true,
  });
}

/** The reason, with what is missing before the sum that says so. */
function becauseText({ because }: StockOrder): Html {
  const parts = because.split('; ');
  const at = parts.findIndex((part) => /^\d+ missing/.test(part));
  if (at < 1) return prose(because);
  const sum = parts.slice(0, at).join('; ');
  return html`<b>${prose(parts.slice(at).join('; '))}</b><br>${prose(sum)}`;
}

function termsOf(
  { pack, minOrder, leadTimeDays }: StockAdvice,
  { value, quantity }: StockOrder,
  currency: string,
): string {
  const least = minOrder > pack ? `, at least ${amount(minOrder, 9)}` : '';
  const each = value === null ? '' : `, ${amount(value / quantity, 6)} ${currency} each`;
  return `${count(Math.round(leadTimeDays), 'day')} lead, packs of ${amount(pack, 9)}${least}${each}`;
}

function warningLine({ text, todo }: Warning): Html {
  return html`<br><b>Mind:</b> ${prose(`${text} ${todo}`)}`;
}

/** The day to order by, and a mark where it is past or the usual lead time no longer fits. */
function orderDay({ orderBy, hurry }: StockOrder, { dataUntil, currency }: Plan['site']): Html {
  const mark = hurry === null ? null : html` <span class="hurry">${hurryWords(hurry, currency)}</span>`;
  if (orderBy > dataUntil) return html`<span class="day">${dateWords(orderBy)}</span>${mark}`;
  return html`<b>now</b> <span class="small day">(${dateWords(orderBy)})</span>${mark}`;
}

function hurryWords(
  { days, assumed, extraCost, shortOnDay }: NonNullable<StockOrder['hurry']>,
  currency: string,
): string {
  const cost = extraCost === null ? '' : `, ${amount(extraCost, 6)} ${currency} extra`;
  const time = `hurry: ${count(days, 'day')}${assumed ? ' assumed' : ''}${cost}`;
  return shortOnDay === 0 ? time : `${time}; ${pieces(shortOnDay)} missing on the day even so`;
}
