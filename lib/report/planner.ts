/** The stores planner's part: what to chase and order by when, what to use first, what not to order, kits and demand. */

import { demandByMonth } from '../chart/demandByMonth.js';
import { stockCover } from '../chart/stockCover.js';
import type { Chart } from '../chart/types.js';
import { count, listed } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { kitsPart } from './kits.js';
import { lotsPart } from './lots.js';
import { bullets, folded, type Html, html, prose } from './markup.js';
import { orderNowPart } from './orderNow.js';
import { chasePart, ordersPart } from './orders.js';
import { recordedUsePart } from './recordedUse.js';
import { stockMoneyPart } from './stockMoney.js';
import { stockNowPart } from './stockNow.js';
import { stockRulesPart } from './stockRules.js';
import { HEADING, SENTENCE } from './texts.js';

const DEMAND_PICTURES = 4;
/** Items of one warning that are named. */
const MOST_NAMED = 8;

export function plannerPart(plan: Plan, figures: Figures): Html {
  return html`<section id="stores" aria-labelledby="stores-title">
<h2 id="stores-title">${HEADING.storesPlannerWhatOrderWhen}</h2>
${orderNowPart(plan)}${ordersPart(plan)}${chasePart(plan)}${stockNowPart(plan)}${mindPart(plan)}${lotsPart(plan)}${kitsPart(plan)}${picturesPart(plan, figures)}${stockMoneyPart(plan, figures)}${stockRulesPart(plan)}${recordedUsePart(plan)}</section>
`;
}

/** Warnings about items, but for those said at their order or under Chase; one that several share is said once. */
function mindPart({ stock }: Plan): Html | null {
  const shared = new Map<string, string[]>();
  for (const { item, warnings, orders } of stock) {
    const said = new Set(orders.flatMap((order) => order.warnings.map(({ text }) => text)));
    for (const { text, todo, code } of warnings) {
      if (code === 'order-overdue' || said.has(text)) continue;
      const words = `${text} ${todo}`;
      shared.set(words, [...(shared.get(words) ?? []), item]);
    }
  }
  if (shared.size === 0) return null;
  const points = [...shared].map(
    ([words, items]) => html`${prose(listed(items, MOST_NAMED))}: ${prose(words)}`,
  );
  return folded(html`<b>${points.length}</b> more to mind about stock`, html`${bullets(points)}`, true);
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
    return html`<h3>${HEADING.needPerMonth}</h3><p>${SENTENCE.noNeedCouldBeForecast}</p>`;
  const rest = items - months.length;
  return html`<h3>${HEADING.needPerMonthHowLong}</h3>
<p class="small">${SENTENCE.rangeIsInWholePieces}</p>
${rest > 0 ? html`<p class="small">Pictures of the ${count(months.length, 'item')} needed most; the other ${rest === 1 ? 'one is' : `${rest} are`} in demand.csv.</p>` : null}<div class="figures">${figures.all([...cover, ...months])}</div>`;
}

function yearOf(months: Plan['demand']): number {
  return months.slice(0, 12).reduce((all, { mean }) => all + mean, 0);
}
