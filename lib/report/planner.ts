/** The stores planner's part: what to chase and order by when, what to use first, what not to order, kits and demand. */
import { demandByMonth } from '../chart/demandByMonth.js';
import { stockCover } from '../chart/stockCover.js';
import type { Chart } from '../chart/types.js';
import { amount, count, percent, pieces } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { kitsPart } from './kits.js';
import { lotsPart } from './lots.js';
import { bullets, dataTable, folded, type Html, html, name, prose } from './markup.js';
import { chasePart, itemCell, ordersPart } from './orders.js';
import { stockMoneyPart } from './stockMoney.js';

const MOST_ITEMS = 100;
const DEMAND_PICTURES = 4;

export function plannerPart(plan: Plan, figures: Figures): Html {
  return html`<section id="stores" aria-labelledby="stores-title">
<h2 id="stores-title">Stores planner: what to order, and when</h2>
${chasePart(plan)}${ordersPart(plan)}${mindPart(plan)}${lotsPart(plan)}${doNotOrderPart(plan)}${kitsPart(plan)}${picturesPart(plan, figures)}${stockMoneyPart(plan, figures)}${stockPart(plan)}</section>
`;
}

/** Warnings about items, but for those said at their order or under Chase. */
function mindPart({ stock }: Plan): Html | null {
  const points = stock.flatMap(({ item, warnings, orders }) => {
    const said = new Set(orders.flatMap((order) => order.warnings.map(({ text }) => text)));
    return warnings
      .filter(({ text, code }) => code !== 'order-overdue' && !said.has(text))
      .map(({ text, todo }) => html`${name(item)}: ${prose(`${text} ${todo}`)}`);
  });
  if (points.length === 0) return null;
  return folded(html`<b>${points.length}</b> more to mind about stock`, html`${bullets(points)}`, true);
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

/** The charts of the planner's part: how long the shelf lasts, and the items needed most by month, of so many. */
export function plannerCharts({ demand, stock }: Pick<Plan, 'demand' | 'stock'>): {
  cover: Chart[];
  months: Chart[];
  items: number;
} {
  const byItem = new Map<string, Plan['demand']>();
  for (const month of demand) byItem.set(month.item, [...(byItem.get(month.item) ?? []), month]);
  const ranked = [...byItem].sort((a, b) => yearOf(b[1]) - yearOf(a[1]));
  return {
    cover: stock.length === 0 ? [] : [stockCover(stock)],
    months: ranked.slice(0, DEMAND_PICTURES).map(([item, list]) => demandByMonth(item, list)),
    items: ranked.length,
  };
}

function picturesPart(plan: Plan, figures: Figures): Html {
  const { cover, months, items } = plannerCharts(plan);
  if (months.length + cover.length === 0)
    return html`<h3>Need per month</h3><p>No need could be forecast.</p>`;
  const rest = items - months.length;
  return html`<h3>Need per month, and how long the shelf lasts</h3>
<p class="small">The 80 % range is in whole pieces. Of small counts the mean can lie outside it: 0.1 expected, 0 to 0 in 8 of 10 cases.</p>
${rest > 0 ? html`<p class="small">Pictures of the ${count(months.length, 'item')} needed most; the other ${rest === 1 ? 'one is' : `${rest} are`} in demand.csv.</p>` : null}<div class="figures">${figures.all([...cover, ...months])}</div>`;
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
      caption: `Every item kept${rest}. Served: share of leaks and openings met at once, along the orders listed. The reorder point is for leaks and openings alone, as other systems want it; kits are ordered by date.`,
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
