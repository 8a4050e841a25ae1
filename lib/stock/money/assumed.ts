/** What the money in stock takes for granted, in sentences. */
import type { Fleet } from '../../fleet/types.js';
import { listed } from '../../numeric/words.js';
import type { MoneyItem } from './moneyItems.js';
import { CENTRAL_COUNTER, linesApart } from './twoLevelAdvice.js';

const MOST_NAMED = 5;

export function assumedFor(fleet: Fleet, items: readonly MoneyItem[]): string[] {
  return [
    MONEY,
    KITS,
    fleet.site.targets.stockBudget == null ? `${FIRST} ${ALL_FIRST}` : FIRST,
    ...unpriced(items),
    ...(fleet.site.stores === undefined ? [] : storeWords(fleet)),
  ];
}

const MONEY =
  'Money of an item is its price times its highest position: the most that can lie on the shelf or be on order for leaks and openings. ' +
  'It is reordered in the smallest order that pack and minimum order allow.';
const KITS =
  'Shutdown kits are bought by date and are no part of this money. What leaks can draw on today is usable and on order, less the ' +
  'kits laid out before a new order could come.';
const FIRST =
  'Items of positions of high criticality or safety get the level for their own target first; the rest of the money goes where it serves ' +
  'most leaks.';
const ALL_FIRST =
  'Without a budget no item of the best mix is below its own target, however few leaks it serves for its money. The curve has the fewest leaks ' +
  'for each sum, with the targets of high criticality and safety alone.';

function unpriced(items: readonly MoneyItem[]): string[] {
  const without = items.filter(({ shortageCost, leaksPerYear }) => shortageCost === null && leaksPerYear > 0);
  if (without.length === 0) return [];
  const names = listed(
    without.map(({ item }) => item),
    MOST_NAMED,
  );
  return [
    `No downtime_per_hour and no emergency_extra_cost: an empty shelf of ${names} is priced at nothing.`,
  ];
}

function storeWords(fleet: Fleet): string[] {
  const { unknown, unserved } = linesApart(fleet);
  const found = [
    'At several stores, demand is shared out by positions and taken as known and asked for one piece at a time.',
  ];
  if (unserved.length > 0) {
    const lines = listed(
      unserved.map((line) => line || 'no line'),
      MOST_NAMED,
    );
    found.push(`No store serves ${lines}: they draw on the ${CENTRAL_COUNTER} itself.`);
  }
  if (unknown.length > 0) {
    found.push(`No position is on ${listed(unknown, MOST_NAMED)}, named under stores: check the spelling.`);
  }
  return found;
}
