/** The age of least cost on a mean cost-rate curve, over the whole range of ages, and how flat it is there. */
import { columnOf, floatAt } from '../numeric/columns.js';
import { findRoot } from '../numeric/roots.js';
import type { Cycle } from './cycle.js';
import { type AgeCosts, drawRates, meanOver, meanSlope } from './rates.js';

export interface LeastCost {
  /** Days; null where no replacement age is cheaper than leaving it until it leaks. */
  age: number | null;
  /** Per day at that age. */
  rate: number;
  /** Per day where it is left until it leaks. */
  rateEver: number;
  /** Ages round the best within 2 and 5 %; a high end of Infinity means that never replacing is within it too. */
  within2percent: [number, number];
  within5percent: [number, number];
  /** Mean cost per day at the ages of the cycle. */
  onGrid: Float64Array;
}

/** A replacement age must beat running by more than rounding. */
const TIE = 1e-12;

/** The best age alone, without its spans. */
export type BestAge = Pick<LeastCost, 'age' | 'rate' | 'rateEver' | 'onGrid'>;

/**
 * Least mean cost rate. Every local minimum on the grid is refined by the root of the slope and compared, and so is
 * running until it leaks: fitting faults can make more than one minimum.
 */
export function leastAge(cycle: Cycle, costs: AgeCosts, weights?: Float64Array): BestAge {
  const { ages } = cycle;
  const rateAt = (age: number): number =>
    meanOver(drawRates(cycle.partsAt(age), costs, cycle.openingsPerDay), weights);
  const onGrid = columnOf(ages, (_, i) =>
    meanOver(drawRates(cycle.onGrid(i), costs, cycle.openingsPerDay), weights),
  );
  const rateEver = floatAt(onGrid, ages.length - 1);
  let best = { age: Infinity, rate: rateEver };
  for (let i = 1; i < ages.length - 1; i++) {
    const here = floatAt(onGrid, i);
    if (here >= floatAt(onGrid, i - 1) || here > floatAt(onGrid, i + 1)) continue;
    const slope = (age: number): number => meanSlope(cycle, costs, age, weights);
    const found = findRoot(slope, floatAt(ages, i - 1), floatAt(ages, i + 1), { relative: cycle.tolerance });
    const age = found.converged ? found.root : floatAt(ages, i);
    const rate = rateAt(age);
    if (rate < best.rate * (1 - TIE)) best = { age, rate };
  }
  return { age: best.age === Infinity ? null : best.age, rate: best.rate, rateEver, onGrid };
}

/** The best age with the ages round it that cost at most 2 and 5 % more. */
export function leastCost(cycle: Cycle, costs: AgeCosts, weights?: Float64Array): LeastCost {
  const best = leastAge(cycle, costs, weights);
  const rateAt = (age: number): number =>
    meanOver(drawRates(cycle.partsAt(age), costs, cycle.openingsPerDay), weights);
  const span = (share: number): [number, number] =>
    spanWithin(
      cycle,
      best.onGrid,
      { age: best.age ?? Infinity, rate: best.rate },
      best.rate * (1 + share),
      rateAt,
    );
  return { ...best, within2percent: span(0.02), within5percent: span(0.05) };
}

/** An age and its mean cost per day. */
interface Known {
  age: number;
  rate: number;
}

/** The unbroken stretch of ages round the best whose rate is at most `limit`. */
function spanWithin(
  { ages, tolerance }: Cycle,
  onGrid: Float64Array,
  best: Known,
  limit: number,
  rateAt: (age: number) => number,
): [number, number] {
  const last = ages.length - 1;
  const node = (i: number): Known => ({ age: floatAt(ages, i), rate: floatAt(onGrid, i) });
  let below = last;
  while (below >= 0 && (floatAt(ages, below) >= best.age || floatAt(onGrid, below) <= limit)) below--;
  let above = 0;
  while (above <= last && (floatAt(ages, above) <= best.age || floatAt(onGrid, above) <= limit)) above++;
  const crossing = (low: Known, high: Known): number => {
    if (high.age === low.age) return high.age;
    const ends: [number, number] = [low.rate - limit, high.rate - limit];
    return findRoot((age) => rateAt(age) - limit, low.age, high.age, { relative: tolerance, ends }).root;
  };
  const low =
    below < 0
      ? floatAt(ages, 0)
      : crossing(node(below), below < last ? nearer(node(below + 1), best, -1) : node(last));
  if (best.age === Infinity || above > last) return [low, Infinity];
  if (floatAt(ages, above) === Infinity) return [low, floatAt(ages, last - 1)];
  return [low, crossing(nearer(node(above - 1), best, 1), node(above))];
}

/** The smaller (side -1) or the larger (side 1) of two ages. */
function nearer(node: Known, best: Known, side: -1 | 1): Known {
  return side * node.age > side * best.age ? node : best;
}
