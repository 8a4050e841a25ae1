/** The rule by which each item is kept for leaks and openings, with its measures, each told so that it is taken for no other. */

import { amount, percent, pieces } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import type { ItemPolicy, StockAdvice } from '../stock/types.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';
import { itemCell } from './orders.js';
import { COLUMN } from './texts.js';

const MOST_ITEMS = 100;

type Kept = StockAdvice & { policy: ItemPolicy };

export function stockRulesPart({ stock, site }: Plan): Html | null {
  const kept = stock.filter((item): item is Kept => item.policy !== null);
  if (kept.length === 0) return null;
  const rest = kept.length > MOST_ITEMS ? ` (first ${MOST_ITEMS} of ${kept.length}; all in stock.csv)` : '';
  return folded(
    html`<b>Rules of ordering</b> for leaks and openings: one for one, reorder point or up to a level`,
    html`<p class="small">${prose(MEANINGS)}</p>
${dataTable({
  caption: `In the long run and for leaks and openings alone; kits are ordered by date${rest}. Each rule meets the target of its item. ${chosenWords(kept)}`,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.rule },
    { title: COLUMN.servedAtOnce, number: true },
    { title: COLUMN.cyclesWithoutShortage, number: true },
    { title: COLUMN.timeWithNothingOwed, number: true },
    { title: COLUMN.meanWaitDays, number: true },
    { title: COLUMN.leaksFindingEmptyShelf, number: true },
    { title: `Ordering, holding, shortage a year, ${site.currency}` },
    { title: COLUMN.cheapestIfShortageCostsThat },
  ],
  rows: kept.slice(0, MOST_ITEMS).map((item) => rowOf(item, item.policy)),
})}`,
  );
}

/** What each measure means. The README says the same. */
const MEANINGS =
  'Served at once: of 100 pieces asked for, how many are handed out at once. Cycles without shortage: how often nothing is owed ' +
  'just before the next order can come; it does not say how many are short. Time with nothing owed: of 100 days, on how many nobody ' +
  'waits for a piece. Mean wait: days from asking to getting, over all pieces, those at once included, if nothing is hurried.';

function chosenWords(kept: readonly Kept[]): string {
  return kept.every(({ policy }) => policy.chosenBy === 'cost')
    ? 'Of all rules that do, it is the one whose pieces, orders and shelf cost least.'
    : 'Where price, holding_rate_per_year or order_cost is not given, it is the reorder point.';
}

function rowOf(item: StockAdvice, { rule, measures, costPerYear, leastCost }: ItemPolicy): (Html | string)[] {
  return [
    itemCell(item),
    html`<div class="wide">${prose(rule)}</div>`,
    percent(measures.fillRate),
    percent(measures.cycleService),
    percent(measures.readyRate),
    pieces(measures.waitingDays),
    pieces(measures.leaksFindingShelfEmptyPerYear),
    costPerYear === null
      ? 'no price'
      : `${money(costPerYear.ordering)}, ${money(costPerYear.holding)}, ${costPerYear.shortage === null ? 'no price' : money(costPerYear.shortage)}`,
    leastCost === null || leastCost.saving < 0.5
      ? ''
      : html`<div class="wide">${prose(leastCost.rule)}: saves ${money(leastCost.saving)} a year</div>`,
  ];
}

function money(value: number): string {
  return amount(value >= 100 ? Number(value.toPrecision(2)) : Math.round(value), 9);
}
