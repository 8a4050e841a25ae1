/** Money in stock: what it buys, what to buy next, classes of items, levels at several stores. */

import { stockMoneyCurve } from '../chart/stockMoneyCurve.js';
import type { Chart } from '../chart/types.js';
import { amount, count, listed, money, percent, plainName, range } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import type { StockMoney, StockPlace, TwoLevelAdvice } from '../stock/money/types.js';
import type { Figures } from './figure.js';
import { bullets, dataTable, folded, type Html, html, name, prose } from './markup.js';
import { CAPTION, COLUMN, HEADING, SENTENCE } from './texts.js';

const MOST_ROWS = 15;
const MOST_ITEMS = 100;
const MOST_NAMES = 6;

/** The curve, where there is a leak to serve. */
export function stockMoneyCharts({ stockMoney, site }: Pick<Plan, 'stockMoney' | 'site'>): Chart[] {
  return stockMoney === null || stockMoney.leaksPerYear <= 0
    ? []
    : [stockMoneyCurve(stockMoney, site.currency)];
}

export function stockMoneyPart(plan: Plan, figures: Figures): Html | null {
  const { stockMoney, site } = plan;
  const charts = stockMoneyCharts(plan);
  if (stockMoney === null || charts.length === 0) return null;
  return html`<h3>${HEADING.moneyInStock}</h3>
<p>${prose(budgetWords(stockMoney, site.currency))}</p>
${placesTable(stockMoney, site.currency)}<div class="figures">${figures.all(charts)}</div>${buyPart(stockMoney, site.currency)}${mixPart(stockMoney, site.currency)}${classPart(stockMoney, site.currency)}${storesPart(stockMoney, site.currency)}${folded('What this money takes for granted', html`${bullets(stockMoney.assumed.map(prose))}`, true)}`;
}

function budgetWords(stock: StockMoney, currency: string): string {
  const { budget, best, advised, firstMoney, today } = stock;
  if (budget === null) {
    const less = advised.money - best.money;
    const saved =
      less > 0
        ? `The best mix serves as many leaks at once as the advised stock for ${money(less, currency)} less, each item at its own target, with smaller orders placed more often.`
        : 'The advised stock is the best mix for the leaks that it serves.';
    return `${saved} Give targets.stock_budget in site.json to get the best mix for your money.`;
  }
  if (budget < firstMoney * (1 - 1e-9)) {
    return `The budget of ${money(budget, currency)} does not reach the targets of items of high criticality or safety, which take ${money(firstMoney, currency)}: raise it, or lower their targets knowingly.`;
  }
  const over = today.money - budget;
  const now =
    over > 0
      ? `Today's stock ties up ${money(over, currency)} more than the budget: let the items run down that have more than the best mix.`
      : `Today's stock leaves ${money(-over, currency)} of it.`;
  return `The budget of ${money(budget, currency)} serves at best ${percent(best.served)} of leaks at once. ${now}`;
}

function placesTable({ today, advised, best, budget }: StockMoney, currency: string): Html {
  const row = (title: string, place: StockPlace): (Html | string)[] => [
    title,
    amount(Math.round(place.money), 9),
    percent(place.served),
    rangeCell(place),
    place.shortageCostPerYear === null ? 'no price' : money(place.shortageCostPerYear, currency),
  ];
  return dataTable({
    caption: CAPTION.stockKeptForLeaks,
    cards: true,
    columns: [
      { title: COLUMN.stock },
      { title: `Money, ${currency}`, number: true },
      { title: COLUMN.servedAtOnce, number: true },
      { title: COLUMN.emptyShelf, number: true },
      { title: COLUMN.costAYear, number: true },
    ],
    rows: [
      row('Today, kits taken out', today),
      row('As advised', advised),
      row(budget === null ? 'Best mix' : 'Best mix for the budget', best),
    ],
  });
}

function rangeCell({ leaksFindingShelfEmptyPerYear: leaks, range: span }: StockPlace): string {
  const words = leakWords(leaks);
  return span === null ? words : `${words} (${range(...span, leakWords)})`;
}

/** Leaks a year: two digits, and nothing below one in a hundred years. */
function leakWords(leaks: number): string {
  return leaks > 0 && leaks < 0.01 ? `under ${amount(0.01)}` : amount(leaks, 2);
}

function buyPart({ buyNext, further, budget }: StockMoney, currency: string): Html {
  const rows = buyNext.slice(0, MOST_ROWS);
  const rest = buyNext.length - rows.length;
  if (rows.length === 0) {
    return html`<p>${SENTENCE.nothingBuyNoPurchaseWouldServe}</p>`;
  }
  const barWords =
    budget === null
      ? 'Worth it: serves at least as many leaks for its money as the next step of the best mix'
      : "In budget: paid by what today's stock leaves of the budget";
  const bar = budget === null ? 'Worth it' : 'In budget';
  return html`<h4>What to buy next</h4>
<p class="small">From today's stock, the most leaks served for the money first. These pieces are not on top of the order list: it keeps each item's target, this list says what comes first where money is short.${rest > 0 ? ` ${count(rest, 'more is', 'more are')} in stock-buy-next.csv.` : ''}</p>
${dataTable({
  caption: `In packs and minimum orders. Leaks served: how many more a year find a piece. ${barWords}`,
  cards: true,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.pieces, number: true },
    { title: `Money, ${currency}`, number: true },
    { title: COLUMN.leaksServed, number: true },
    { title: `${currency} a leak`, number: true },
    { title: `${currency} so far`, number: true },
    { title: bar },
  ],
  rows: rows.map((row) => [
    name(row.item),
    amount(row.pieces, 9),
    amount(Math.round(row.money), 9),
    leakWords(row.leaksServedPerYear),
    amount(row.moneyPerLeak, 2),
    amount(Math.round(row.cumulativeMoney), 9),
    row.within ? 'yes' : 'no',
  ]),
})}<p>${prose(furtherWords(further, currency))}</p>
`;
}

function furtherWords(further: StockMoney['further'], currency: string): string {
  const { money: more, leaksServedPerYear: leaks, levels } = further;
  if (leaks < 0.001) return `A tenth more money, ${money(more, currency)}, would serve no further leak.`;
  const changes = levels.map(({ item, from, to }) => `${plainName(item)} ${from} to ${to}`);
  return `A tenth more money, ${money(more, currency)}, would serve ${leakWords(leaks)} more leaks a year at best: ${listed(changes, MOST_NAMES)}.`;
}

function mixPart({ items, levels }: StockMoney, currency: string): Html {
  const shown = items.slice(0, MOST_ITEMS);
  const more =
    items.length > shown.length ? ` (first ${shown.length} of ${items.length}; all in plan.json)` : '';
  const least = levels.map((level) => `${amount(100 * level.served, 4)} %: ${money(level.money, currency)}`);
  return folded(
    html`<b>Levels of each item</b>: today, as advised, in the best mix`,
    html`<p class="small">${prose(`Least money by share of leaks served at once: ${least.join('; ')}.`)}</p>
${dataTable({
  caption: `Highest positions, pieces on the shelf and on order${more}`,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.class },
    { title: COLUMN.leaksAYear, number: true },
    { title: `Price, ${currency}`, number: true },
    { title: COLUMN.smallestOrder, number: true },
    { title: COLUMN.today, number: true },
    { title: COLUMN.asAdvised, number: true },
    { title: COLUMN.bestMix, number: true },
    { title: COLUMN.leaksFindingEmptyShelfBestMix, number: true },
  ],
  rows: shown.map((row) => [
    name(row.item),
    `${row.moneyClass}, ${row.criticality}`,
    leakWords(row.leaksPerYear),
    amount(row.price, 9),
    amount(row.lot, 9),
    amount(row.today, 9),
    amount(row.advised, 9),
    amount(row.best, 9),
    leakWords(row.leaksFindingShelfEmpty.best),
  ]),
})}`,
  );
}

function classPart({ classes, classShares }: StockMoney, currency: string): Html {
  const [a, b] = classShares;
  return folded(
    html`<b>Classes</b> by money and by what a leak would harm`,
    dataTable({
      caption: `By yearly money of use (A to ${percent(a)} of all, B to ${percent(b)}, C the rest) and the highest criticality of the positions`,
      columns: [
        { title: COLUMN.class },
        { title: COLUMN.items },
        { title: `Use a year, ${currency}`, number: true },
        { title: `In stock today, best mix, ${currency}`, number: true },
        { title: COLUMN.targetServed, number: true },
        { title: COLUMN.count },
        { title: COLUMN.howToOrder },
      ],
      rows: classes.map((row) => [
        `${row.moneyClass}, ${row.criticality}`,
        prose(`${count(row.items.length, 'item')}: ${listed(row.items.map(plainName), MOST_NAMES)}`),
        amount(Math.round(row.useMoneyPerYear), 9),
        `${amount(Math.round(row.stockMoney.today), 9)}, ${amount(Math.round(row.stockMoney.best), 9)}`,
        percent(row.target),
        prose(row.count),
        prose(row.policy),
      ]),
    }),
  );
}

function storesPart({ twoLevel }: StockMoney, currency: string): Html | null {
  if (twoLevel === null) return null;
  return html`<h4>Central store and local stores</h4>
${dataTable({
  caption: CAPTION.fewestPiecesOverAllStores,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.central, number: true },
    { title: COLUMN.localStores },
    { title: COLUMN.piecesInAll, number: true },
    { title: `Money, ${currency}`, number: true },
    { title: COLUMN.servedTarget, number: true },
    { title: COLUMN.piecesIfAllWereOne, number: true },
  ],
  rows: twoLevel
    .slice(0, MOST_ITEMS)
    .map((row) => [
      name(row.item),
      amount(row.central, 9),
      prose(storeWords(row)),
      amount(row.pieces, 9),
      amount(Math.round(row.money), 9),
      `${percent(row.served)} (${percent(row.target)})`,
      amount(row.piecesInOneStore, 9),
    ]),
})}`;
}

function storeWords({ stores }: TwoLevelAdvice): string {
  return stores
    .map(({ store, level, served }) => `${plainName(store)} ${level} (${percent(served)})`)
    .join(', ');
}
