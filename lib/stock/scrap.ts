/** An order that is likely to expire in part, weighed against going short (METHODS 5.7, 5.9). */

import type { Warning } from '../findings.js';
import { DAYS_PER_MONTH, DAYS_PER_YEAR } from '../numeric/day.js';
import { amount, count, daysWords } from '../numeric/words.js';
import type { ItemNeed } from './itemNeed.js';
import type { NettedOrder } from './netting.js';
import type { Hurry } from './types.js';

/** Pieces of an order that are likely to be left on their last good day, those on the shelf before it used first. */
export function scrapOf({ quantity, due, reason }: NettedOrder, need: ItemNeed, keepsDays: number): number {
  if (keepsDays === Infinity) return 0;
  const perDay = (need.demand?.plannedPerYear ?? 0) / DAYS_PER_YEAR;
  const usedBy = (moment: number): number => perDay * (moment - due) + need.randomMean(due, moment);
  let used = 0;
  for (const { quantity: have, useBy } of reason.shelf) {
    const last = Math.min(useBy, due + keepsDays);
    used += Math.min(have, Math.max(0, usedBy(last) - used));
  }
  const own = Math.max(0, usedBy(due + keepsDays) - used);
  return Math.max(0, Math.floor(quantity - own));
}

export interface ScrapInput {
  quantity: number;
  scrap: number;
  price: number | null;
  currency: string;
  keepsDays: number;
  hurry: Omit<Hurry, 'shortOnDay'>;
}

/** Says the loss beside what it costs to have none on the shelf. */
export function scrapWarning(input: ScrapInput, { demand }: ItemNeed): Warning {
  const { quantity, scrap, price, currency, keepsDays, hurry } = input;
  const lost = price === null ? null : scrap * price;
  const years = keepsDays / DAYS_PER_YEAR;
  const leaks = (demand?.leaksPerYear ?? 0) * years;
  const wait = demand?.downtimePerHour == null ? null : hurry.days * 24 * demand.downtimePerHour;
  const short =
    wait === null && hurry.extraCost === null ? null : leaks * ((wait ?? 0) + (hurry.extraCost ?? 0));
  const months = Math.round(keepsDays / DAYS_PER_MONTH);
  const worth = lost === null ? '' : `, worth ${rounded(lost)} ${currency}`;
  const days = `${daysWords(hurry.days)}${hurry.assumed ? ' (a quarter of the lead time; emergency_days is not given)' : ''}`;
  const cost = short === null ? '' : `, at about ${rounded(short)} ${currency} of downtime and extra cost`;
  return {
    code: 'minimum-order-expires',
    text: `About ${scrap} of these ${quantity} ${scrap === 1 ? 'is' : 'are'} likely to expire unused${worth}. With none on the shelf, about ${rounded(leaks)} ${rounded(leaks) === '1' ? 'leak' : 'leaks'} in the ${count(months, 'month')} that they keep would wait ${days} each${cost}.`,
    todo: todoOf(lost, short),
  };
}

function todoOf(lost: number | null, short: number | null): string {
  if (lost === null || short === null)
    return 'Ask for a smaller pack or fresher stock, or keep none and pay for emergency orders.';
  return lost <= short
    ? 'Going short costs more than the scrap: order, and ask for a smaller pack or fresher stock.'
    : 'The scrap costs more than going short: ask for a smaller pack, or keep none and order for each need.';
}

/** Two significant digits, thousands apart: 0.4, 12, 820, 9 400. */
function rounded(exact: number): string {
  const value = exact >= 100 ? Number(exact.toPrecision(2)) : Math.round(exact * 10) / 10;
  return amount(value, 9);
}
