/** What to buy next on top of what there is: purchases that the supplier takes, best first. */
import { itemAt } from '../../numeric/columns.js';
import { type BudgetStep, type ItemPoints, spendOnPoints } from '../spendBudget.js';
import { boughtPoints, type MoneyItem } from './moneyItems.js';
import type { BuyNext } from './types.js';

/** Purchases named, at most. */
const MOST_ROWS = 200;
/** A purchase that serves fewer leaks a year than this is not worth a line. */
const LEAST_LEAKS = 0.001;

/** How far to buy: the money left, or down to so many leaks served per money. */
export type BuyGoal = { left: number } | { worth: number };

/**
 * Purchases from today's positions by marginal analysis on each item's hull; the money left of a budget, or the worth of the best mix's
 * next step, says how far they are to go. What comes after is listed too, so that the list can be read on.
 */
export function buyNext(items: readonly MoneyItem[], leaks: number, goal: BuyGoal): BuyNext[] {
  const [within, beyond] =
    'left' in goal ? byMoney(items, leaks, goal.left) : byWorth(items, leaks, goal.worth);
  const rows = [
    ...within.map((step) => ({ step, within: true })),
    ...beyond.map((step) => ({ step, within: false })),
  ].filter(({ step }) => step.served >= LEAST_LEAKS);
  return withTotals(rows.slice(0, MOST_ROWS));
}

/** What the money left buys, and how to go on from there. */
function byMoney(items: readonly MoneyItem[], leaks: number, left: number): [BudgetStep[], BudgetStep[]] {
  const spent = spendOnPoints(pointsOf(items), leaks, { budget: Math.max(0, left) });
  const then = items.map((item, k) => ({ ...item, today: itemAt(spent.levels, k).level }));
  return [spent.steps, allSteps(then, leaks)];
}

function byWorth(items: readonly MoneyItem[], leaks: number, worth: number): [BudgetStep[], BudgetStep[]] {
  const all = allSteps(items, leaks);
  const count = all.findIndex(({ servedPerMoney }) => servedPerMoney < worth);
  const end = count < 0 ? all.length : count;
  return [all.slice(0, end), all.slice(end)];
}

function allSteps(items: readonly MoneyItem[], leaks: number): BudgetStep[] {
  const points = pointsOf(items);
  const most = points.reduce((total, { points: all }) => total + (all.at(-1)?.cost ?? 0), 0);
  return spendOnPoints(points, leaks, { budget: most * (1 + 1e-9) }).steps;
}

function pointsOf(items: readonly MoneyItem[]): ItemPoints[] {
  return items.map((item) => ({ name: item.item, points: boughtPoints(item) }));
}

function withTotals(rows: readonly { step: BudgetStep; within: boolean }[]): BuyNext[] {
  let total = 0;
  return rows.map((_, i) => {
    const { step, within } = itemAt(rows, i);
    total += step.cost;
    return {
      item: step.name,
      pieces: step.level - step.from,
      level: step.level,
      money: step.cost,
      leaksServedPerYear: step.served,
      moneyPerLeak: step.cost / step.served,
      cumulativeMoney: total,
      within,
    };
  });
}
