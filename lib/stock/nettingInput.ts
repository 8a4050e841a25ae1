/** What the netting of one item starts from: shelf, orders on the way, dated kits, random demand, lots. */
import { isMonthKit } from '../demand/kits.js';
import { lastDayOf } from '../fleet/calendar.js';
import type { Fleet, Item } from '../fleet/types.js';
import { addMonths, type Day, startOfMonth } from '../numeric/day.js';
import { gammaQuantile } from '../numeric/special.js';
import type { ItemNeed } from './itemNeed.js';
import type { ItemState } from './itemState.js';
import type { LotSize } from './lots.js';
import type { NettingInput } from './netting.js';

/** A target of 100 % cannot be met with finite stock: this is used, and said. */
export const HIGHEST_TARGET = 0.999;

/** Everything the netting asks of an item. Moments are days from the day of the data. */
export function nettingInput(
  fleet: Fleet,
  item: Item,
  need: ItemNeed,
  state: ItemState,
  lot: LotSize,
  target: number,
  emergency: number,
): NettingInput {
  const kits = (need.demand?.planned ?? []).filter(({ kit }) => kit > 0);
  const early = kits.length === 0 ? 0 : kitLead(state, fleet.site.targets.kitComplete);
  const lead = Math.ceil(state.leadDays);
  return {
    shelf: state.shelf,
    receipts: state.receipts,
    planned: kits.map(({ day, kit, expected, name }) => ({
      moment: kitMoment(day - fleet.site.dataUntil, lead, early),
      fitted: day - fleet.site.dataUntil,
      quantity: kit,
      expected: Math.min(expected, kit),
      name,
      until: laidOutUntil(fleet, day, name) - fleet.site.dataUntil,
    })),
    randomTarget: (from, to) => need.randomQuantile(target, from, to, state.leadSdDays),
    randomMean: need.randomMean,
    lead,
    review: Math.max(1, Math.round(fleet.site.reviewDays)),
    horizon: Math.max(need.horizon, lead + fleet.site.reviewDays),
    pack: item.pack,
    minOrder: lot.costs === null ? Math.max(item.minOrder, lot.quantity) : item.minOrder,
    lots: lot.costs,
    leastOrder: item.minOrder,
    emergency,
    mostAt: lot.mostAt,
    keeps: state.keepsDays,
  };
}

/** The last day of a shutdown, or of the month of a kit of lines without shutdowns. */
function laidOutUntil(fleet: Fleet, day: Day, name: string): Day {
  return isMonthKit(name) ? addMonths(startOfMonth(day), 1) - 1 : lastDayOf(fleet, name, day);
}

/** Days that a kit is ordered ahead of the usual lead time, so that a late delivery still makes it. */
function kitLead({ leadDays, leadSdDays }: ItemState, complete: number): number {
  if (leadSdDays <= 0 || leadDays <= 0) return 0;
  const shape = (leadDays / leadSdDays) ** 2;
  const late = gammaQuantile(Math.min(complete, HIGHEST_TARGET), shape, leadDays / shape);
  return Math.max(0, Math.ceil(late - leadDays));
}

/** When a kit must be there: ahead by the spread of the lead time, where the lead time allows. */
function kitMoment(moment: number, lead: number, early: number): number {
  return moment < lead ? moment : Math.max(lead, moment - early);
}
