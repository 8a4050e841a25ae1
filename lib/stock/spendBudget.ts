/** Money over many items: where the next piece serves most leaks (METHODS 5.8). */
import { UsageError } from '../errors.js';
import { itemAt } from '../numeric/columns.js';
import { type BudgetItem, type LevelPoint, levelPoints, upperHull } from './itemCurve.js';

/** Money to spend, or the share of all leaks to serve at once (from 0 to below 1). */
export type BudgetGoal = { budget: number } | { target: number };

/** A purchase: from one level of an item to another. */
export interface BudgetStep {
  name: string;
  from: number;
  level: number;
  cost: number;
  /** Leaks a year that it serves more, and per unit of money. */
  served: number;
  servedPerMoney: number;
}

export interface SpentBudget {
  levels: { name: string; level: number; bought: number; cost: number; servedPerYear: number }[];
  spent: number;
  /** Leaks a year, and those of them that are served at once. */
  leaksPerYear: number;
  servedPerYear: number;
  /**
   * What no plan can beat: under a budget the most leaks a year that it could serve, under a target the least money that
   * could meet it. Where it equals what was found, that is the best there is; the gap is at most one step.
   */
  bestPossible: number;
  /** In the order of buying: what each step costs and serves. */
  steps: BudgetStep[];
  /** The best step not taken of each item, best first: what to buy next. */
  next: BudgetStep[];
}

/**
 * Levels of one-for-one items that serve most for the money: marginal analysis (Fox 1966; Sherbrooke 2004; from memory) along the
 * convex hull of each item, so that packs, price breaks and steps of no use alone are weighed as wholes. Exactly
 * the best plan whenever the money ends on a step; else what is left buys the best single purchases that still fit. Under a
 * target the last step is replaced by the cheapest purchase that is enough. Throws UsageError where no item is given, budget
 * is below 0 or not finite, target is not from 0 to below 1 or out of reach, or an item makes no sense.
 */
export function spendBudget(items: readonly BudgetItem[], goal: BudgetGoal): SpentBudget {
  if (items.length === 0) throw new UsageError('spendBudget', 'give at least one item.');
  const leaks = items.reduce((total, { perYear }) => total + perYear, 0);
  return spendOnPoints(
    items.map((item) => ({ name: item.name, points: levelPoints(item) })),
    leaks,
    goal,
  );
}

/** The levels of an item to choose from, the first one held already: rising levels, rising cost. */
export interface ItemPoints {
  name: string;
  points: readonly LevelPoint[];
}

/** The same for items whose levels, costs and served leaks are known. Throws UsageError on a goal that makes no sense. */
export function spendOnPoints(items: readonly ItemPoints[], leaks: number, goal: BudgetGoal): SpentBudget {
  const curves = items.map(curveOf);
  const course = 'budget' in goal ? underBudget(curves, goal.budget) : toTarget(curves, goal.target, leaks);
  const servedPerYear = curves.reduce((total, { at }) => total + at.served, 0);
  return {
    levels: curves.map(({ name, points, at: { level, cost, served } }) => {
      return { name, level, bought: level - itemAt(points, 0).level, cost, servedPerYear: served };
    }),
    spent: spentOn(curves),
    leaksPerYear: leaks,
    servedPerYear,
    ...course,
    next: curves.flatMap(nextStep).sort((a, b) => b.servedPerMoney - a.servedPerMoney),
  };
}

interface Curve {
  name: string;
  points: readonly LevelPoint[];
  hull: LevelPoint[];
  /** Where the item stands. */
  at: LevelPoint;
}

interface Course {
  bestPossible: number;
  steps: BudgetStep[];
}

interface HullStep {
  curve: Curve;
  from: LevelPoint;
  to: LevelPoint;
  worth: number;
}

function curveOf({ name, points }: ItemPoints): Curve {
  return { name, points, hull: hullOf(points), at: itemAt(points, 0) };
}

/** Hulls already found: many goals are asked of the same items. */
const HULLS = new WeakMap<readonly LevelPoint[], LevelPoint[]>();

function hullOf(points: readonly LevelPoint[]): LevelPoint[] {
  const hull = HULLS.get(points) ?? upperHull(points);
  HULLS.set(points, hull);
  return hull;
}

/** Steps of all hulls, best first; those of one item stay in order, since each serves less for its money than the last. */
function allSteps(curves: readonly Curve[]): HullStep[] {
  const steps = curves.flatMap((curve) =>
    curve.hull.slice(1).map((to, i): HullStep => {
      const from = itemAt(curve.hull, i);
      return { curve, from, to, worth: worthOf(from, to) };
    }),
  );
  return steps.sort((a, b) => b.worth - a.worth);
}

function worthOf(from: LevelPoint, to: LevelPoint): number {
  return (to.served - from.served) / (to.cost - from.cost);
}

function underBudget(curves: Curve[], budget: number): Course {
  if (!(budget >= 0 && Number.isFinite(budget))) {
    throw new UsageError('spendBudget', 'budget must be at or above 0, and finite.', budget);
  }
  const taken: BudgetStep[] = [];
  const room = budget * (1 + 1e-12);
  let bestPossible: number | null = null;
  const served = (): number => curves.reduce((total, { at }) => total + at.served, 0);
  let spent = spentOn(curves);
  for (const { curve, from, to } of allSteps(curves)) {
    const cost = to.cost - from.cost;
    // Where the sum kept alongside decides by its last digits, it is formed anew.
    if (Math.abs(room - spent - cost) <= 1e-9 * room) spent = spentOn(curves);
    const left = room - spent;
    if (cost <= left) {
      if (curve.at !== from) continue;
      taken.push(take(curve, to));
      spent += cost;
    } else {
      // A broken part of the first step that does not fit: no plan serves more.
      bestPossible ??= served() + Math.max(0, left) * worthOf(from, to);
    }
  }
  bestPossible ??= served();
  for (let more = bestThatFits(curves, room); more !== null; more = bestThatFits(curves, room)) {
    taken.push(take(more.curve, more.to));
  }
  return { bestPossible: Math.max(bestPossible, served()), steps: taken };
}

/** The purchase that serves most of those that the money left allows; null where none serves more. */
function bestThatFits(curves: readonly Curve[], room: number): { curve: Curve; to: LevelPoint } | null {
  const left = room - spentOn(curves);
  let best: { curve: Curve; to: LevelPoint } | null = null;
  let most = 0;
  for (const curve of curves) {
    for (const to of curve.points) {
      const more = to.served - curve.at.served;
      if (more > most && to.cost - curve.at.cost <= left) {
        best = { curve, to };
        most = more;
      }
    }
  }
  return best;
}

function toTarget(curves: Curve[], target: number, leaks: number): Course {
  if (!(target >= 0 && target < 1)) {
    const rule = 'target must be from 0 to below 1: 100 % cannot be met with finite stock.';
    throw new UsageError('spendBudget', rule, target);
  }
  const wanted = target * leaks * (1 - 1e-13);
  const taken: BudgetStep[] = [];
  let served = curves.reduce((total, { at }) => total + at.served, 0);
  if (served >= wanted) return { bestPossible: 0, steps: taken };
  for (const { curve, from, to } of allSteps(curves)) {
    const more = to.served - from.served;
    if (served + more >= wanted) {
      const bestPossible = spentOn(curves) + (wanted - served) / worthOf(from, to);
      const last = cheapestThatReaches(curves, wanted - served);
      taken.push(take(last.curve, last.to));
      return { bestPossible: Math.min(bestPossible, spentOn(curves)), steps: taken };
    }
    taken.push(take(curve, to));
    served += more;
  }
  throw new UsageError('spendBudget', 'target is so near 1 that no level found meets it.', target);
}

function cheapestThatReaches(curves: readonly Curve[], missing: number): { curve: Curve; to: LevelPoint } {
  let best: { curve: Curve; to: LevelPoint } | null = null;
  let least = Infinity;
  for (const curve of curves) {
    for (const to of curve.points) {
      const cost = to.cost - curve.at.cost;
      if (to.served - curve.at.served >= missing && cost < least) {
        best = { curve, to };
        least = cost;
      }
    }
  }
  return best as { curve: Curve; to: LevelPoint };
}

function take(curve: Curve, to: LevelPoint): BudgetStep {
  const step = stepOf(curve, to);
  curve.at = to;
  return step;
}

function stepOf({ name, at }: Curve, to: LevelPoint): BudgetStep {
  const cost = to.cost - at.cost;
  const served = to.served - at.served;
  return { name, from: at.level, level: to.level, cost, served, servedPerMoney: served / cost };
}

/** The best step from where an item stands: to the point that serves most more for its money. */
function nextStep(curve: Curve): BudgetStep[] {
  const beyond = curve.points.filter(({ cost, served }) => cost > curve.at.cost && served > curve.at.served);
  const [first] = beyond;
  if (first === undefined) return [];
  let best = first;
  for (const point of beyond) if (worthOf(curve.at, point) > worthOf(curve.at, best)) best = point;
  return [stepOf(curve, best)];
}

function spentOn(curves: readonly Curve[]): number {
  return curves.reduce((total, { at }) => total + at.cost, 0);
}
