/** Items of money in stock typed by hand, for tests. */
import type { Criticality } from '../../../lib/fleet/types.js';
import type { MoneyItem } from '../../../lib/stock/money/moneyItems.js';
import { servedByLevel, shortByPosition } from '../../../lib/stock/money/shortByPosition.js';

export interface ItemInput {
  item?: string;
  price?: number;
  pack?: number;
  minOrder?: number;
  /** Leaks a year; openings come on top. */
  leaks?: number;
  openings?: number;
  rateSd?: number;
  leadDays?: number;
  leadSdDays?: number;
  reviewDays?: number;
  criticality?: Criticality;
  target?: number;
  today?: number;
  advised?: { level: number; lot: number };
  shortageCost?: number | null;
  usePerYear?: number;
  byDraw?: MoneyItem['byDraw'];
}

const FULL = 1 - 1e-6;

export function moneyItem(input: ItemInput = {}): MoneyItem {
  const { item = 'P-1', price = 40, pack = 1, minOrder = 1, leaks = 6, openings = 0 } = input;
  const { leadDays = 40, leadSdDays = 10, reviewDays = 7, rateSd = 0, target = 0.95 } = input;
  const perDay = (leaks + openings) / 365.25;
  const random = { perDay, variancePerDay: perDay + openings / 365.25, rateSd };
  const supply = { leadDays, leadSdDays, reviewDays };
  const served = servedByLevel(shortByPosition(random, supply));
  const lot = Math.ceil(Math.max(1, minOrder) / pack) * pack;
  let enough = 0;
  if (leaks > 0) for (enough = lot; served(enough, lot) < FULL; ) enough += 1;
  return {
    item,
    price,
    pack,
    minOrder,
    lot,
    leaksPerYear: leaks,
    random,
    supply,
    criticality: input.criticality ?? 'normal',
    target,
    usePerYear: input.usePerYear ?? leaks + openings,
    today: input.today ?? 0,
    advised: input.advised ?? { level: lot, lot },
    shortageCost: input.shortageCost ?? null,
    served,
    byDraw: input.byDraw ?? null,
    enough,
  };
}
