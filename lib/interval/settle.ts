/** What `keep` owes its reader: how much more data would settle it, and what it costs meanwhile. */
import { quantileSorted } from 'simple-statistics';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { normalQuantile } from '../numeric/special.js';
import { wearShare } from './cycle.js';
import { AGE_CHANCE, chanceAsked, type Decision, LENGTHEN_LEAKS } from './decide.js';
import { meanOver } from './rates.js';
import type { AroundPoint } from './types.js';
import { isWithin, ratesOf, type Weighed } from './weigh.js';

const FACTORS = [0.75, 1, 1.25];
/** Standard deviation of log shape times the root of the number of leaks, complete samples: sqrt(6) / pi. */
const SHAPE_SPREAD = Math.sqrt(6) / Math.PI;
/** One-sided 90 %. */
const NORMAL_90 = 1.2815515655446004;
/** Beyond this many times what there is, "would settle it" is no help to anybody. */
const MOST_LEAKS = 200;

/** Mean cost and its 5th to 95th percentile at 0.75, 1 and 1.25 times an interval. */
export function aroundPoints({ cycle, costs }: Weighed, days: number): AroundPoint[] {
  return FACTORS.map((factor) => {
    const rates = ratesOf(cycle, costs, factor * days);
    return {
      factor,
      days: Math.round(factor * days),
      costPerYear: meanOver(rates) * DAYS_PER_YEAR,
      costRange: rangePerYear(rates),
    };
  });
}

/** 5th to 95th percentile over draws of a rate per day, per year. */
export function rangePerYear(rates: Float64Array): [number, number] {
  const sorted = Array.from(rates).sort((a, b) => a - b);
  return [quantileSorted(sorted, 0.05) * DAYS_PER_YEAR, quantileSorted(sorted, 0.95) * DAYS_PER_YEAR];
}

/**
 * A rough count, from how spreads shrink with the root of the number of leaks: enough for the shape's lower bound to
 * clear 1 if the shape is what it looks like, and for the chance that fell short to reach what is asked of it; at least
 * as many as lengthening needs. Lives follow from the share of lives that leak at today's practice. Null where no
 * number of leaks would help: no prices, a leak no dearer than a replacement, no position, or today's interval is within 2 % of the least cost already.
 */
export function leaksToSettle(
  weighed: Weighed,
  { ground }: Decision,
): { leaks: number; lives: number } | null {
  const { group, chanceBetter, chanceBeatsRun, candidate, best, costs } = weighed;
  if (ground === 'no prices' || ground === 'no positions' || costs.wearLeak <= costs.replacement) return null;
  if (ground === 'not clearly better' && isWithin(group.today.days, best.within2percent)) return null;
  const have = group.wearLeaks;
  const clearance = Math.abs(Math.log(group.model.shape));
  const forShape = (SHAPE_SPREAD * NORMAL_90) ** 2 / Math.max(clearance, 0.05) ** 2;
  const overRunning = ground === 'running may be cheaper';
  const asked = overRunning ? AGE_CHANCE : chanceAsked(candidate, group.today.days);
  const chance = Math.min(0.999, Math.max(0.001, overRunning ? chanceBeatsRun : chanceBetter));
  const sureness = Math.max(0.05, Math.abs(normalQuantile(chance)));
  const forChance = Math.max(have, 1) * (normalQuantile(asked) / sureness) ** 2;
  const needed = Math.max(LENGTHEN_LEAKS, forShape, forChance) - have;
  const leaks = Math.min(MOST_LEAKS, Math.max(1, Math.ceil(needed)));
  return { leaks, lives: Math.ceil(leaks / leakShare(weighed)) };
}

/** Share of lives that end in a leak at today's practice: as recorded, or by the draws where none leaked. */
function leakShare({ group, cycle }: Weighed): number {
  if (group.failures >= 1 && group.lives > 0) return Math.min(1, group.failures / group.lives);
  const parts = cycle.partsAt(group.today.days ?? Infinity);
  return Math.max(1e-4, meanOver(parts.early.map((share, d) => share + wearShare(parts, d))));
}
