/** The stock policy of least cost, or the smallest that meets a target. */
import { UsageError } from '../errors.js';
import { checkedSizes, jobsFilled } from './jobMeasures.js';
import { countDistribution, type LeadTimeDemand, smallestWhole } from './leadTimeDemand.js';
import { leastCostLot } from './leastCostLot.js';
import { type StockMeasures, stockMeasures } from './measures.js';
import { readyOver } from './overPositions.js';
import { pointAndQuantity, type StockPolicy } from './policy.js';
import { reviewStudy } from './reviewStudy.js';
import { requireCosts, type StockCost, type StockCosts, stockCost } from './stockCost.js';

/** A policy whose level or point is to be found. `quantity` may be left open where costs decide and stock is watched always. */
export type PolicyFamily =
  | { kind: 'baseStock' }
  | { kind: 'reorder'; quantity?: number }
  | { kind: 'review'; leadPeriods: number; reviewPeriods: number }
  | { kind: 'reviewReorder'; quantity: number; leadPeriods: number; reviewPeriods: number };

/** Least cost, or one target: of pieces handed out at once, or of time without a piece owed; from 0 to below 1. */
export type PolicyGoal = StockCosts | { fillRate: number } | { readyRate: number };

export interface ChosenPolicy {
  policy: StockPolicy;
  measures: StockMeasures;
  /** Per unit of time; null where a target decided. */
  cost: StockCost | null;
}

/**
 * Finds the level (or the point, and the quantity where open). By cost, at a given quantity: the smallest point whose ready rate
 * is at least shortage cost / (shortage + holding cost), since one more piece is held for that share of time and saves
 * a piece owed for the rest; with the quantity open: see `leastCostLot`. By target: the smallest point that meets it.
 * Throws UsageError where a target is not from 0 to below 1 (100 % cannot be met with finite stock), the quantity is open at
 * reviews or under a target, holding cost is 0 (no stock is enough), and as stockMeasures does.
 * @example choosePolicy({ kind: 'baseStock' }, { kind: 'poisson', mean: 3 }, { fillRate: 0.95 }).policy // level 7
 */
export function choosePolicy(family: PolicyFamily, demand: LeadTimeDemand, goal: PolicyGoal): ChosenPolicy {
  if ('fillRate' in goal || 'readyRate' in goal) {
    const policy = smallest(family, demand, targetOf(goal));
    return { policy, measures: stockMeasures(policy, demand), cost: null };
  }
  requireCosts('choosePolicy', goal);
  if (!(goal.holdingCost > 0)) {
    throw new UsageError(
      'choosePolicy',
      'holdingCost must be above 0: else no stock is enough.',
      goal.holdingCost,
    );
  }
  const policy = leastCost(family, demand, goal);
  return { policy, measures: stockMeasures(policy, demand), cost: stockCost(policy, demand, goal) };
}

interface Target {
  of: 'fillRate' | 'readyRate';
  value: number;
}

function targetOf(goal: { fillRate: number } | { readyRate: number }): Target {
  if ('fillRate' in goal && 'readyRate' in goal) {
    throw new UsageError('choosePolicy', 'give one target: fillRate or readyRate, not both.');
  }
  const target: Target =
    'fillRate' in goal
      ? { of: 'fillRate', value: goal.fillRate }
      : { of: 'readyRate', value: goal.readyRate };
  if (!(target.value >= 0 && target.value < 1)) {
    const rule = `${target.of} must be from 0 to below 1: 100 % cannot be met with finite stock.`;
    throw new UsageError('choosePolicy', rule, target.value);
  }
  return target;
}

function leastCost(family: PolicyFamily, demand: LeadTimeDemand, costs: StockCosts): StockPolicy {
  if (family.kind === 'reorder' && family.quantity === undefined) {
    return { kind: 'reorder', ...leastCostLot(demand, costs) };
  }
  const value = costs.shortageCost / (costs.shortageCost + costs.holdingCost);
  return smallest(family, demand, { of: 'readyRate', value: Math.min(value, 1 - 1e-15) });
}

/** A whisker of what a target may miss by, for targets that stand on a step. */
const WHISKER = 1e-13;

function smallest(family: PolicyFamily, demand: LeadTimeDemand, { of, value }: Target): StockPolicy {
  const points = family.kind === 'reorder' || family.kind === 'reviewReorder';
  // A point of -quantity is the least there is: then nothing is ever on the shelf.
  const least = points ? -quantityOf(family) : 0;
  const { mean } = countDistribution('choosePolicy', demand);
  const periods = 'leadPeriods' in family ? family.leadPeriods + family.reviewPeriods : 1;
  const rate = rateOf(family, demand, of);
  const k = smallestWhole((each) => rate(each) >= value - WHISKER, least, mean * periods);
  return policyAt(family, k);
}

/** The rate of each level or point, with the laws that all share made once. */
function rateOf(family: PolicyFamily, demand: LeadTimeDemand, of: Target['of']): (k: number) => number {
  const over = (rate: (point: number, quantity: number) => number) => (k: number) => {
    const { point, quantity } = pointAndQuantity('choosePolicy', policyAt(family, k));
    return rate(point, quantity);
  };
  if ('leadPeriods' in family) return over(reviewStudy(demand, family)[of]);
  const law = countDistribution('choosePolicy', demand);
  if (of === 'readyRate') return over((point, quantity) => readyOver(law, point, quantity));
  if (demand.kind !== 'compound') return over((point, quantity) => readyOver(law, point - 1, quantity));
  const job = checkedSizes(demand.sizes);
  return over((point, quantity) => jobsFilled(law, job, point, quantity));
}

function quantityOf(family: PolicyFamily): number {
  const quantity = 'quantity' in family ? family.quantity : undefined;
  if (quantity === undefined) {
    throw new UsageError('choosePolicy', 'quantity must be given under a target: costs alone can choose it.');
  }
  return quantity;
}

function policyAt(family: PolicyFamily, k: number): StockPolicy {
  switch (family.kind) {
    case 'baseStock':
      return { kind: 'baseStock', level: k };
    case 'reorder':
      return { kind: 'reorder', point: k, quantity: quantityOf(family) };
    case 'review':
      return { ...family, level: k };
    case 'reviewReorder':
      return { ...family, point: k };
  }
}
