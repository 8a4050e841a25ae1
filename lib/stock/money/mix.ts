/** Levels of all items for a sum of money or a share of leaks, own targets first (METHODS 5.8). */
import { itemAt } from '../../numeric/columns.js';
import type { LevelPoint } from '../itemCurve.js';
import { type BudgetGoal, type ItemPoints, type SpentBudget, spendOnPoints } from '../spendBudget.js';
import { keptPoints, type MoneyItem, targetLevel } from './moneyItems.js';

export interface MixItem extends ItemPoints {
  /** Level that is paid for before anything else; 0 = none. */
  first: number;
}

export interface Mix {
  levels: number[];
  money: number;
  leaksServedPerYear: number;
  /** Under a budget the most leaks a year that any mix could serve, under a target the least money that could meet it. */
  bestPossible: number;
  /** In the order of buying. */
  steps: SpentBudget['steps'];
  /** Leaks served per money by the best step not taken; 0 where none serves more. */
  nextWorth: number;
}

/** Whose own targets are met before money goes where it serves most: of high criticality and safety, or of every item. */
export type First = 'critical' | 'all';

/** Items as the mix takes them. */
export function mixItems(items: readonly MoneyItem[], first: First = 'critical'): MixItem[] {
  return items.map((item) => {
    const isFirst = first === 'all' || item.criticality === 'high' || item.criticality === 'safety';
    return { name: item.item, points: keptPoints(item), first: isFirst ? targetLevel(item) : 0 };
  });
}

/** Money that the items to be paid for first take in all. */
export function firstMoney(items: readonly MixItem[]): number {
  return items.reduce((total, { points, first }) => total + costAt(points, first), 0);
}

function costAt(points: readonly LevelPoint[], level: number): number {
  return points.find((point) => point.level === level)?.cost ?? 0;
}

/**
 * The mix that serves most for a budget, or meets a share of all leaks for least money: by marginal analysis along each item's convex hull
 * (`spendBudget`), first up to the levels that come first, then over all items. A budget that does not reach those levels buys
 * of them what serves most, and of the rest what still fits. A target that they meet already costs what they cost. Throws UsageError as
 * `spendBudget`.
 */
export function mixFor(items: readonly MixItem[], leaks: number, goal: BudgetGoal): Mix {
  const early = items.map((item) => ({ name: item.name, points: partsOf(item).early }));
  const whole = firstMoney(items);
  const opening = spendOnPoints(early, leaks, { budget: 'budget' in goal ? goal.budget : whole });
  const rest = items.map((item, i) => {
    const { level } = itemAt(opening.levels, i);
    return { name: item.name, points: level === item.first ? partsOf(item).late : from(item.points, level) };
  });
  const later = spendOnPoints(
    rest,
    leaks,
    'budget' in goal ? { budget: Math.max(0, goal.budget - opening.spent) } : goal,
  );
  const money = opening.spent + later.spent;
  const reached = opening.spent >= whole * (1 - 1e-12);
  return {
    levels: later.levels.map(({ level }) => level),
    money,
    leaksServedPerYear: later.servedPerYear,
    bestPossible:
      'budget' in goal
        ? reached
          ? later.bestPossible
          : Math.max(opening.bestPossible, later.servedPerYear)
        : opening.spent + later.bestPossible,
    steps: [...opening.steps, ...later.steps],
    nextWorth: later.next[0]?.servedPerMoney ?? 0,
  };
}

/** Levels up to the one that comes first, and from there on; kept, since many goals are asked of the same items. */
const PARTS = new WeakMap<MixItem, { early: LevelPoint[]; late: LevelPoint[] }>();

function partsOf(item: MixItem): { early: LevelPoint[]; late: LevelPoint[] } {
  const { points, first } = item;
  const parts = PARTS.get(item) ?? {
    early: points.filter(({ level }) => level <= first),
    late: from(points, first),
  };
  PARTS.set(item, parts);
  return parts;
}

/** The levels from one on, at what they cost more. */
function from(points: readonly LevelPoint[], start: number): LevelPoint[] {
  const already = costAt(points, start);
  return points
    .filter(({ level }) => level >= start)
    .map(({ level, cost, served }) => ({ level, cost: cost - already, served }));
}

/** All steps to the full stock, in the order of buying. */
export function allMixSteps(items: readonly MixItem[], leaks: number): SpentBudget['steps'] {
  const most = items.reduce((total, { points }) => total + (points.at(-1)?.cost ?? 0), 0);
  return mixFor(items, leaks, { budget: most * (1 + 1e-9) }).steps;
}
