/** Stock now: what to do about each item, the most urgent first, with the money on the shelf and in orders. */

import { amount, count, coverWords, percent, pieces } from '../chart/words.js';
import { listed } from '../numeric/words.js';
import type { Plan } from '../planTypes.js';
import { orderTotals } from '../stock/totals.js';
import type { StockAdvice } from '../stock/types.js';
import { byUrgency } from '../stock/urgency.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';
import { itemCell } from './orders.js';
import { COLUMN, HEADING } from './texts.js';

const MOST_ITEMS = 100;

const KINDS: Readonly<Record<StockAdvice['kind'], string>> = {
  'order now': 'to order now',
  chase: 'to chase',
  'no data': 'without a part number',
  'use first': 'to use first',
  'order later': 'to order later',
  'do not order': 'not to order',
};

export function stockNowPart({ stock, site }: Plan): Html | null {
  if (stock.length === 0) return null;
  const items = byUrgency(stock);
  const shown = items.slice(0, MOST_ITEMS);
  return html`<h3>${HEADING.stockNow}</h3>
<p>${count(stock.length, 'item')}: ${kindsText(items)}.</p>
${actionTable(shown, stock, site)}${rulesPart(shown, items.length)}`;
}

/** '2 to order now, 1 to chase and 4 not to order', in the order of the table. */
function kindsText(items: readonly StockAdvice[]): string {
  const numbers = new Map<StockAdvice['kind'], number>();
  for (const { kind } of items) numbers.set(kind, (numbers.get(kind) ?? 0) + 1);
  return listed([...numbers].map(([kind, number]) => `${amount(number, 9)} ${KINDS[kind]}`));
}

function restText(shown: number, all: number): string {
  return all > shown ? ` (first ${shown} of ${all}; all in stock.csv)` : '';
}

function actionTable(shown: readonly StockAdvice[], stock: readonly StockAdvice[], site: Plan['site']): Html {
  const ordersOf = (items: readonly StockAdvice[]): number =>
    orderTotals(items, site.dataUntil).next12Months.value;
  const sum = stock.reduce((all, { value }) => all + (value ?? 0), 0);
  const worth = (value: number | null): string =>
    value === null ? 'no price' : amount(Math.round(value), 9);
  return dataTable({
    caption: `What to do about each item, the most urgent first${restText(shown.length, stock.length)}; lasts: until expected need has used up what is usable now, without what is on order; to order: within twelve months`,
    columns: [
      { title: COLUMN.partNumber },
      { title: COLUMN.whatToDo },
      { title: COLUMN.usablePieces, number: true },
      { title: COLUMN.onOrderPieces, number: true },
      { title: COLUMN.lasts },
      { title: `On the shelf, ${site.currency}`, number: true },
      { title: `To order, ${site.currency}`, number: true },
    ],
    total: true,
    rows: [
      ...shown.map((item) => [
        itemCell(item),
        html`<div class="reason">${prose(item.action)}</div>`,
        amount(item.usable, 9),
        amount(item.onOrder, 9),
        html`<span class="day">${lastsText(item)}</span>`,
        worth(item.value),
        item.price === null ? 'no price' : worth(ordersOf([item])),
      ]),
      ['All items', '', '', '', '', worth(sum), worth(ordersOf(stock))].map((cell) => html`<b>${cell}</b>`),
    ],
    cards: true,
  });
}

function lastsText({ monthsOfCover }: StockAdvice): string {
  return monthsOfCover === null ? 'no need known' : coverWords(monthsOfCover);
}

/** What other systems want to know. */
function rulesPart(shown: readonly StockAdvice[], all: number): Html {
  return folded(
    html`<b>Rules for other systems</b>: reorder point, order quantity, share served`,
    dataTable({
      caption: `Every item kept${restText(shown.length, all)}. Served: share of leaks and openings met at once, along the orders listed. The reorder point is for leaks and openings alone, as other systems want it; kits are ordered by date.`,
      columns: [
        { title: COLUMN.partNumber },
        { title: COLUMN.usableOfOnHand, number: true },
        { title: COLUMN.reorderPoint, number: true },
        { title: COLUMN.orderQuantity, number: true },
        { title: COLUMN.servedTarget, number: true },
        { title: COLUMN.leaksFindingEmptyShelf, number: true },
      ],
      rows: shown.map((item) => [
        itemCell(item),
        `${amount(item.usable, 9)} of ${amount(item.onHand, 9)}`,
        amount(item.reorderPoint, 9),
        amount(item.orderQuantity, 9),
        `${percent(item.served)} (${percent(item.servedTarget)})`,
        pieces(item.leaksFindingShelfEmptyPerYear),
      ]),
    }),
  );
}
