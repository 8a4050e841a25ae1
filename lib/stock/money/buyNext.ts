/** What to buy next on top of what there is: purchases that the supplier takes, best first. */
import { itemAt } from '../../numeric/columns.js';
import { type BudgetStep, spendOnPoints } from '../spendBudget.js';
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
  const points = items.map((item) => ({ name: item.item, points: boughtPoints(item) }));
  const most = points.reduce((total, { points: all }) => total + (all.at(-1)?.cost ?? 0), 0);
  const all = spendOnPoints(points, leaks, { budget: most * (1 + 1e-9) }).steps;
  const [within, beyond] = 'left' in goal ? byMoney(points, leaks, goal.left, all) : byWorth(all, goal.worth);
  const rows = [
    ...within.map((step) => ({ step, within: true })),
    ...beyond.map((step) => ({ step, within: false })),
  ].filter(({ step }) => step.served >= LEAST_LEAKS);
  return withTotals(rows.slice(0, MOST_ROWS));
}

type Points = Parameters<typeof spendOnPoints>[0];

function byMoney(
  points: Points,
  leaks: number,
  left: number,
  all: readonly BudgetStep[],
): [BudgetStep[], BudgetStep[]] {
  const spent = spendOnPoints(points, leaks, { budget: Math.max(0, left) });
  const reached = new Map(spent.levels.map(({ name, level }) => [name, level]));
  const beyond = all.filter(({ name, from }) => from >= (reached.get(name) ?? 0));
  return [spent.steps, beyond];
}

function byWorth(all: readonly BudgetStep[], worth: number): [BudgetStep[], BudgetStep[]] {
  const count = all.findIndex(({ servedPerMoney }) => servedPerMoney < worth);
  const end = count < 0 ? all.length : count;
  return [all.slice(0, end), all.slice(end)];
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
