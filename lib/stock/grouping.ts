/** Lots of one item, review by review: quantities that the supplier and the use-by dates allow, grouped where an order costs. */
import { itemAt } from '../numeric/columns.js';
import { goOn, type ShelfState, startOf } from './course.js';
import { type Grouped, groupedLots } from './groupedLots.js';
import { needAt } from './needAt.js';
import type { NettingInput } from './netting.js';

/** Smallest multiple of the pack at or above the need and the minimum order. */
export function allowedQuantity(need: number, pack: number, minOrder: number): number {
  return Math.ceil(Math.max(need, minOrder) / pack - 1e-9) * pack;
}

/** Largest of what is short and the lot, as far as it is used before it expires; never below the smallest order. */
export function quantityFor(
  { pack, minOrder, mostAt }: NettingInput,
  short: number,
  lot: number,
  due: number,
): number {
  const most = mostAt?.(due) ?? Infinity;
  const least = allowedQuantity(Math.min(short, 1), pack, minOrder);
  const wanted = Math.max(lot, allowedQuantity(short, pack, minOrder));
  return Math.max(least, wanted > most ? Math.floor(most / pack) * pack : wanted);
}

/** What is short at a review, and the lot for it. */
export interface Grouping {
  short: (now: number, state: ShelfState) => number;
  lot: (now: number, short: number) => Grouped;
}

/** Lots of least cost, once it is known what each review would need if nothing were ordered; null where an order costs nothing. */
export function grouping(plan: NettingInput): Grouping | null {
  const { lots: costs = null, review, pack, minOrder, lead } = plan;
  if (costs === null) return null;
  const used = new Map<number, number>();
  const mostAt = (k: number): number => {
    const known = used.get(k) ?? plan.mostAt?.(k * review + lead) ?? Infinity;
    used.set(k, known);
    return known;
  };
  const alone: number[] = [];
  const state = startOf(plan);
  for (let k = 0; k * review + lead <= plan.horizon; k++) {
    goOn(plan, state, k * review, true);
    alone.push(needAt(plan, state));
  }
  const needs = highestSoFar(alone);
  const lots = groupedLots({ needs, costs, review, pack, minOrder, mostAt });
  const kept = keepsAll(plan);
  let ordered = 0;
  return {
    // What was ordered stands on the shelf as long as nothing expires: then nothing needs to be gone through again.
    short: (now, then) => (kept ? itemAt(alone, Math.round(now / review)) - ordered : needAt(plan, then)),
    lot: (now, short) => {
      const lot = lots(Math.round(now / review), short, ordered);
      ordered += quantityFor(plan, short, lot.quantity, now + lead);
      return lot;
    },
  };
}

function highestSoFar(values: readonly number[]): number[] {
  let highest = 0;
  return values.map((value) => {
    highest = Math.max(highest, value);
    return highest;
  });
}

/** Whether nothing on the shelf, on the way or to be ordered expires within the moments looked at, or a year after. */
function keepsAll({ shelf, receipts, lead, keeps, horizon }: NettingInput): boolean {
  const last = horizon + 366;
  return lead + keeps > last && [...shelf, ...receipts].every(({ useBy }) => useBy > last);
}
