/** Draws of costs that are known only as low, likely and high. */
import type { Spread } from '../fleet/types.js';
import { floatAt } from '../numeric/columns.js';
import type { RandomStream } from '../numeric/random.js';
import { spreadQuantile } from './spread.js';
import type { GroupCost } from './types.js';

/** The parts that are drawn; every other amount of a group is a sum of these. */
export const COST_PARTS = [
  'part',
  'labour',
  'recalibration',
  'stopShare',
  'leakDowntime',
  'lostBatch',
  'cleanup',
] as const;
export type CostPart = (typeof COST_PARTS)[number];

/** Amounts of one group: one column per part, draw d belongs together over the parts and over all groups. */
export type DrawnCost = Record<CostPart, Float64Array>;

/**
 * `count` joint draws of the costs of all groups. A part takes the same rank in every group within a draw, since a
 * labour rate or a batch value that is high is high for the whole plant; the parts are independent of each other.
 */
export function drawCosts(costs: readonly GroupCost[], count: number, random: RandomStream): DrawnCost[] {
  const ranks = new Map<CostPart, Float64Array>();
  for (const part of COST_PARTS) {
    const stream = random.fork(part);
    ranks.set(
      part,
      Float64Array.from({ length: count }, () => stream.uniform()),
    );
  }
  const column = (spread: Spread, part: CostPart): Float64Array =>
    Float64Array.from(ranks.get(part) ?? [], (rank) => spreadQuantile(spread, rank));
  return costs.map(
    (cost) => Object.fromEntries(COST_PARTS.map((part) => [part, column(cost[part], part)])) as DrawnCost,
  );
}

/** Cost of one replacement in draw d. */
export function drawnReplacement(cost: DrawnCost, d: number): number {
  return drawnOpening(cost, d) + floatAt(cost.stopShare, d);
}

/** Cost of one opening in draw d. */
export function drawnOpening(cost: DrawnCost, d: number): number {
  return floatAt(cost.part, d) + floatAt(cost.labour, d) + floatAt(cost.recalibration, d);
}

/** Whole cost of one leak in draw d. */
export function drawnLeak(cost: DrawnCost, d: number): number {
  return (
    drawnOpening(cost, d) +
    floatAt(cost.leakDowntime, d) +
    floatAt(cost.lostBatch, d) +
    floatAt(cost.cleanup, d)
  );
}
