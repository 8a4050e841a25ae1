/** The least money for each number of leaks served: where the steps of buying lead. */
import { itemAt } from '../../numeric/columns.js';
import type { BudgetStep } from '../spendBudget.js';
import type { Holding } from './places.js';

/** Points of the curve kept, at most. */
const MOST_POINTS = 40;
/** Beyond this share of leaks served the curve says nothing more. */
const ENOUGH = 0.9999;

export interface CurvePlace {
  item: string | null;
  level: number;
  holding: Holding[];
}

/** Levels of all items after the steps kept, from none on; `lots` as the items are ordered. */
export function curvePlaces(
  names: readonly string[],
  lots: readonly number[],
  steps: readonly BudgetStep[],
  leaks: number,
): CurvePlace[] {
  const index = new Map(names.map((name, k) => [name, k]));
  const levels = names.map(() => 0);
  const kept = keptSteps(steps, leaks);
  const holding = (): Holding[] => levels.map((level, k) => ({ level, lot: itemAt(lots, k) }));
  const places: CurvePlace[] = [{ item: null, level: 0, holding: holding() }];
  steps.forEach(({ name, level }, i) => {
    levels[index.get(name) ?? 0] = level;
    if (kept.has(i)) places.push({ item: name, level, holding: holding() });
  });
  return places;
}

/** Steps whose ends are spread evenly over money, those that serve next to nothing left out. */
function keptSteps(steps: readonly BudgetStep[], leaks: number): Set<number> {
  let served = 0;
  let end = 0;
  while (end < steps.length && served < ENOUGH * leaks) served += itemAt(steps, end++).served;
  const money = steps.slice(0, end).reduce((total, { cost }) => total + cost, 0);
  const kept = new Set<number>();
  let [spent, next] = [0, 0];
  for (let i = 0; i < end; i++) {
    spent += itemAt(steps, i).cost;
    if (end > MOST_POINTS && spent < next && i < end - 1) continue;
    kept.add(i);
    next = spent + money / MOST_POINTS;
  }
  return kept;
}
