/** What money buys for one item: leaks served at once against money spent, and the part of it that is worth considering. */
import { UsageError } from '../errors.js';
import { itemAt } from '../numeric/columns.js';
import { checkedSizes, jobsFilled } from './jobMeasures.js';
import { countDistribution, type LeadTimeDemand, smallestWhole } from './leadTimeDemand.js';
import type { PriceBreak } from './priceBreaks.js';

export interface BudgetItem {
  name: string;
  /** Demand over the lead time, as `stockMeasures` takes it; the item is kept one-for-one. */
  demand: LeadTimeDemand;
  /** Leaks (pieces asked for without a plan) a year. */
  perYear: number;
  /** Of a piece; where it falls with the quantity bought, the list of steps (all pieces at the step's price). */
  price: number | readonly PriceBreak[];
  /** Pieces are bought in multiples of this; default 1. */
  pack?: number;
  /** Level that there is already, which costs nothing more; default 0. */
  held?: number;
}

/** A level that can be reached, what it costs to get there, and what it serves. */
export interface LevelPoint {
  level: number;
  cost: number;
  /** Leaks a year that are served at once: perYear x fill rate. */
  served: number;
}

/** Beyond this fill rate more pieces serve nothing that counts. */
const FULL = 1 - 1e-10;

/** Every level that packs allow, from what is held to where more serves nothing. Throws UsageError on nonsense in the item. */
export function levelPoints(item: BudgetItem): LevelPoint[] {
  const { name, perYear, pack = 1, held = 0 } = item;
  const rule = (holds: boolean, text: string, value: unknown): void => {
    if (!holds) throw new UsageError('spendBudget', `${name}: ${text}`, value);
  };
  rule(perYear >= 0 && Number.isFinite(perYear), 'perYear must be at or above 0, and finite.', perYear);
  rule(Number.isInteger(pack) && pack >= 1, 'pack must be a whole number at or above 1.', pack);
  rule(Number.isInteger(held) && held >= 0, 'held must be a whole number at or above 0.', held);
  const priceOf = prices(item);
  const { fill, enough } = fillOf(item.demand);
  const points: LevelPoint[] = [{ level: held, cost: 0, served: perYear * fill(held) }];
  for (let bought = pack; held + bought - pack < enough; bought += pack) {
    const level = held + bought;
    points.push({ level, cost: bought * priceOf(bought), served: perYear * fill(level) });
  }
  return points;
}

/** Fill rate of a level kept one-for-one, and the level from which it is full. */
function fillOf(demand: LeadTimeDemand): { fill: (level: number) => number; enough: number } {
  const law = countDistribution('spendBudget', demand);
  const job = demand.kind === 'compound' && demand.jobs > 0 ? checkedSizes(demand.sizes) : null;
  const fill = (level: number): number =>
    job === null ? law.cdf(level - 1) : jobsFilled(law, job, level - 1, 1);
  return { fill, enough: smallestWhole((level) => fill(level) >= FULL, 0, law.mean) };
}

function prices({ name, price }: BudgetItem): (bought: number) => number {
  const steps = typeof price === 'number' ? [{ from: 0, price }] : price;
  steps.forEach((step, i) => {
    if (!(step.price > 0 && Number.isFinite(step.price))) {
      throw new UsageError('spendBudget', `${name}: price must be above 0, and finite.`, step.price);
    }
    if (i > 0 && !(step.from > itemAt(steps, i - 1).from)) {
      throw new UsageError('spendBudget', `${name}: price steps must rise.`, step.from);
    }
  });
  if (steps.length === 0) throw new UsageError('spendBudget', `${name}: price needs at least one step.`);
  return (bought) => {
    let price = itemAt(steps, 0).price;
    for (const step of steps) if (bought >= step.from) price = step.price;
    return price;
  };
}

/**
 * The points that no mixture of others beats: the upper convex hull from the first point on, rising in cost and in what is served,
 * each step serving less for its money than the one before (Andrew's scan, 1979, from memory). Packs, price breaks and the fill
 * rate itself (which rises fastest near the mean) leave points below it: a step of no use alone may open a good one.
 */
export function upperHull(points: readonly LevelPoint[]): LevelPoint[] {
  const rising = [...points].sort((a, b) => a.cost - b.cost || b.served - a.served);
  const hull: LevelPoint[] = [];
  for (const point of rising) {
    const last = hull.at(-1);
    if (last !== undefined && point.served <= last.served) continue;
    while (
      hull.length > 1 &&
      !turnsDown(itemAt(hull, hull.length - 2), itemAt(hull, hull.length - 1), point)
    ) {
      hull.pop();
    }
    hull.push(point);
  }
  return hull;
}

/** Whether the step from b to c serves less for its money than the one from a to b. */
function turnsDown(a: LevelPoint, b: LevelPoint, c: LevelPoint): boolean {
  return (c.served - b.served) * (b.cost - a.cost) < (b.served - a.served) * (c.cost - b.cost);
}
