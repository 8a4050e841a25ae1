/** The stores planner's part: what to order by when, what to use first, what not to order, kits and demand. */
import { demandByMonth } from '../chart/demandByMonth.js';
import { stockCover } from '../chart/stockCover.js';
import { amount, count, dateWords, percent, pieces } from '../chart/words.js';
import { addMonths, dayFromText, textFromDay } from '../numeric/day.js';
import type { Plan } from '../planTypes.js';
import type { StockAdvice, StockOrder } from '../stock/types.js';
import { type OrderRow, orderRows } from './csv.js';
import type { Figures } from './figure.js';
import { kitsPart } from './kits.js';
import { dataTable, folded, type Html, html, name, prose } from './markup.js';

/** Orders shown at once; later ones are folded. */
const SOON_MONTHS = 3;
const FEWEST_ORDERS = 8;
const MOST_ORDERS = 100;
const MOST_ITEMS = 100;
const DEMAND_PICTURES = 4;

export async function plannerPart(plan: Plan, figures: Figures): Promise<Html> {
  return html`<section id="stores" aria-labelledby="stores-title">
<h2 id="stores-title">Stores planner: what to order, and when</h2>
${ordersPart(plan)}${useFirstPart(plan)}${doNotOrderPart(plan)}${kitsPart(plan)}${await picturesPart(plan, figures)}${stockPart(plan)}</section>
`;
}

function ordersPart({ stock, site }: Plan): Html {
  if (stock.length === 0) {
    return html`<p class="lead">No order list: the folder has no items.csv with part numbers and stock. The need per month is below.</p>`;
  }
  const orders = orderRows(stock);
  if (orders.length === 0) return html`<p class="lead">Nothing to order within the months planned.</p>`;
  const soon = soonOrders(orders, site.dataUntil);
  const later = orders.slice(soon.length, MOST_ORDERS + soon.length);
  const rest = orders.length - soon.length - later.length;
  return html`<h3>Order</h3>
${orderTable(soon, 'The next orders, the first to place first', site.dataUntil)}${
  later.length === 0
    ? null
    : folded(
        html`<b>${count(later.length + rest, 'later order')}</b>, from ${dateWords((later[0] as OrderRow).order.orderBy)}`,
        orderTable(later, `Later${rest > 0 ? `; ${rest} more are in order-list.csv` : ''}`, site.dataUntil),
        'see order-list.csv',
      )
}`;
}

/** Orders to place within SOON_MONTHS, at least the first few so that the table is never empty. */
function soonOrders(orders: readonly OrderRow[], dataUntil: string): OrderRow[] {
  const today = dayFromText(dataUntil);
  if (today === null) return orders.slice(0, MOST_ORDERS);
  const until = textFromDay(addMonths(today, SOON_MONTHS));
  const soon = orders.filter(({ order }) => order.orderBy <= until).length;
  return orders.slice(0, Math.min(MOST_ORDERS, Math.max(soon, FEWEST_ORDERS)));
}

function orderTable(orders: readonly OrderRow[], caption: string, dataUntil: string): Html {
  return dataTable({
    caption,
    columns: [
      { title: 'Part number' },
      { title: 'Quantity', number: true },
      { title: 'Order by' },
      { title: 'Due by' },
      { title: 'For' },
      { title: 'Because' },
    ],
    rows: orders.map(({ item, order }) => [
      html`${name(item.item)}<br><span class="small">${prose(item.material)} DN ${item.size}</span>`,
      html`<b>${amount(order.quantity, 9)}</b>`,
      orderDay(order, dataUntil),
      html`<span class="day">${dateWords(order.dueBy)}</span>`,
      html`<div class="wide">${prose(order.for)}</div>`,
      html`<div class="why">${becauseOf(item)}</div>`,
    ]),
    cards: true,
  });
}

/** The day to order by, and a mark where it is past or the usual lead time no longer fits. */
function orderDay({ orderBy, expedite }: StockOrder, dataUntil: string): Html {
  const hurry = expedite ? html` <span class="hurry">hurry the delivery</span>` : null;
  if (orderBy > dataUntil) return html`<span class="day">${dateWords(orderBy)}</span>${hurry}`;
  return html`<b>now</b> <span class="small day">(${dateWords(orderBy)})</span>${hurry}`;
}

/** What stands on the shelf against what is needed. */
function becauseOf(item: StockAdvice): Html {
  const shelf = `${amount(item.usable, 9)} usable${item.onOrder > 0 ? `, ${amount(item.onOrder, 9)} on order` : ''}`;
  return html`${shelf}, ${coverWords(item)}; reorder point ${amount(item.reorderPoint, 9)}`;
}

function coverWords({ monthsOfCover }: StockAdvice): string {
  if (monthsOfCover === null) return 'no need expected';
  return `lasts ${monthsOfCover > 36 ? 'over 3 years' : count(Math.round(monthsOfCover * 10) / 10, 'month')}`;
}

function useFirstPart({ stock }: Plan): Html | null {
  const rows = stock.filter(({ kind, expiring }) => kind === 'use first' || expiring.quantity > 0);
  if (rows.length === 0) return null;
  const soonest = [...rows].sort((a, b) =>
    (a.expiring.useBy ?? '9999') < (b.expiring.useBy ?? '9999') ? -1 : 1,
  );
  return html`<h3>Use first</h3>
${dataTable({
  caption: 'Pieces expected to pass their use-by date on the shelf',
  columns: [
    { title: 'Part number' },
    { title: 'Pieces', number: true },
    { title: 'Use by' },
    { title: 'Action' },
  ],
  rows: soonest
    .slice(0, MOST_ITEMS)
    .map((item) => [
      itemCell(item),
      pieces(item.expiring.quantity),
      html`<span class="day">${item.expiring.useBy === null ? 'not known' : dateWords(item.expiring.useBy)}</span>`,
      prose(item.action),
    ]),
})}`;
}

function itemCell(item: StockAdvice): Html {
  return html`${name(item.item)} <span class="small">${prose(item.material)} DN ${item.size}</span>`;
}

function doNotOrderPart({ stock }: Plan): Html | null {
  const rows = stock.filter(({ kind }) => kind === 'do not order');
  if (rows.length === 0) return null;
  return html`<h3>Do not order</h3>
${dataTable({
  caption: 'Items with enough on the shelf',
  columns: [{ title: 'Part number' }, { title: 'Usable', number: true }, { title: 'Because' }],
  rows: rows.slice(0, MOST_ITEMS).map((item) => [itemCell(item), amount(item.usable, 9), prose(item.action)]),
})}`;
}

async function picturesPart(plan: Plan, figures: Figures): Promise<Html> {
  const months = new Map<string, Plan['demand']>();
  for (const month of plan.demand) months.set(month.item, [...(months.get(month.item) ?? []), month]);
  const ranked = [...months].sort((a, b) => yearOf(b[1]) - yearOf(a[1]));
  const charts = ranked.slice(0, DEMAND_PICTURES).map(([item, list]) => demandByMonth(item, list));
  const cover = plan.stock.length === 0 ? [] : [stockCover(plan.stock)];
  if (charts.length + cover.length === 0)
    return html`<h3>Need per month</h3><p>No need could be forecast.</p>`;
  const rest = ranked.length - charts.length;
  return html`<h3>Need per month, and how long the shelf lasts</h3>
${rest > 0 ? html`<p class="small">Pictures of the ${charts.length} items needed most; the other ${rest} are in demand.csv.</p>` : null}<div class="figures">${await figures.all([...cover, ...charts])}</div>`;
}

function yearOf(months: Plan['demand']): number {
  return months.slice(0, 12).reduce((all, { mean }) => all + mean, 0);
}

function stockPart({ stock }: Plan): Html | null {
  if (stock.length === 0) return null;
  const rows = stock.slice(0, MOST_ITEMS);
  const rest =
    stock.length > rows.length ? ` (first ${rows.length} of ${stock.length}; all in stock.csv)` : '';
  return folded(
    html`<b>All items</b>: reorder point, order quantity, share served`,
    dataTable({
      caption: `Every item kept${rest}. Served: share of unplanned need met at once.`,
      columns: [
        { title: 'Part number' },
        { title: 'Usable of on hand', number: true },
        { title: 'On order', number: true },
        { title: 'Reorder point', number: true },
        { title: 'Order quantity', number: true },
        { title: 'Served (target)', number: true },
        { title: 'Leaks a year that find the shelf empty', number: true },
        { title: 'Action' },
      ],
      rows: rows.map((item) => [
        itemCell(item),
        `${amount(item.usable, 9)} of ${amount(item.onHand, 9)}`,
        amount(item.onOrder, 9),
        amount(item.reorderPoint, 9),
        amount(item.orderQuantity, 9),
        `${percent(item.served)} (${percent(item.servedTarget)})`,
        pieces(item.leaksFindingShelfEmptyPerYear),
        prose(item.action),
      ]),
    }),
  );
}
