/** Replacement at fixed times on the calendar, whatever the age: the interval of least cost for one known life model. */
import { UsageError } from '../../errors.js';
import type { LifeModel } from '../../life/model.js';
import { itemAt } from '../../numeric/columns.js';
import { findRoot } from '../../numeric/roots.js';
import { type ChooseAgeCosts, checkedCosts } from '../knownCycle.js';
import type { AgeCosts } from '../rates.js';
import { type Block, blockOf } from './block.js';
import { type BlockPoint, type BlockTable, blockTable } from './blockTable.js';

export interface ChosenBlockAge {
  action: 'replace' | 'run';
  /** Time between block replacements in the model's unit of age; null with 'run'. */
  age: number | null;
  /** Cost per unit of time at that choice. */
  costRate: number;
  /** Cost per unit of time where nothing is replaced before it leaks. */
  costRateRun: number;
  /**
   * Every local minimum up to `searchedTo`, in order, shallow ones and those dearer than running among them: between two
   * lies a hump, where a block comes just after the leaks that it should forestall.
   */
  minima: { age: number; costRate: number }[];
  /** No interval beyond this one can be cheaper than the answer; null where none can be at all. */
  searchedTo: number | null;
  /** Intervals round the best that cost at most 2 % more; a high end of null means that running is within it. Null with 'run'. */
  within2percent: [number, number | null] | null;
  within5percent: [number, number | null] | null;
  /** The costs used, each whole. */
  costs: AgeCosts;
}

/** A minimum is one where the rate rises on both sides by more than this, relative: rates are good to 1e-9. */
const NOISE = 1e-8;
/** Mean lives that are searched at least, so that the second minimum is seen. */
const LEAST_LIVES = 2;
/** Where the least swing above running is this share of the greatest, later ones, which are smaller, do not reach below. */
const QUIET = 0.15;

/**
 * Block replacement of least long-run cost rate [replacement + leak M(T)] / T: at fixed times T apart every diaphragm is
 * replaced whatever its age, and at every leak or opening between. All T are searched, never included; early leaks of
 * faulty fittings and openings as in `chooseAge`. Where no T beats leaving it until it leaks the answer is 'run': always
 * with a falling leak rate, or a leak no dearer than a replacement, and often where a leak costs less than twice one. Good to 1e-7.
 * Barlow & Proschan 1965, ch. 4, and Barlow & Hunter 1960 (from memory).
 *
 * No T beyond (leak - replacement) / (rate of running - best rate) can be better, because what leaks cost by T is at least
 * T times the rate of running less one leak (Wald's identity).
 *
 *     chooseBlockAge({ kind: 'weibull', shape: 3, scale: 1000 }, { replacement: 1, leak: 5 }).age   // 484.4
 *
 * @throws UsageError on costs that are not above 0, and for a shape below 1 after a failure-free time (as `renewalCount`)
 */
export function chooseBlockAge(model: LifeModel, costs: ChooseAgeCosts): ChosenBlockAge {
  const checked = checkedCosts('chooseBlockAge', costs);
  const block = blockOf('chooseBlockAge', model, checked, costs.opening?.rate);
  const run = { costRateRun: block.rateRun, costs: checked };
  const dearest = dearestLeak(model, checked);
  if (dearest <= checked.replacement || isFalling(model) || !(block.rateRun > block.openings))
    return { ...run, ...RUN, costRate: block.rateRun, minima: [], searchedTo: null };
  const table = blockTable(block);
  const minima = searched(table, dearest);
  const best = minima.reduce<BlockPoint>(deeper, { age: Infinity, rate: block.rateRun });
  const found = {
    ...run,
    costRate: best.rate,
    minima: minima.map(({ age, rate }) => ({ age, costRate: rate })),
    searchedTo: itemAt(table.points, table.points.length - 1).age,
  };
  if (best.age === Infinity) return { ...found, ...RUN };
  const span = (share: number): [number, number | null] => spanWithin(table, best, best.rate * (1 + share));
  const spans = { within2percent: span(0.02), within5percent: span(0.05) };
  return { ...found, action: 'replace', age: best.age, ...spans };
}

/**
 * Long-run cost per unit of time if every diaphragm is replaced at fixed times `age` apart, and at each leak or opening
 * between. Infinity leaves it until it leaks. Throws UsageError on costs or an age that are not above 0.
 */
export function blockCostRate(model: LifeModel, age: number, costs: ChooseAgeCosts): number {
  if (!(age > 0)) throw new UsageError('blockCostRate', 'the age must be above 0.', age);
  const checked = checkedCosts('blockCostRate', costs);
  const block = blockOf('blockCostRate', model, checked, costs.opening?.rate);
  return age === Infinity ? block.rateRun : block.rate(age);
}

const RUN = { action: 'run', age: null, within2percent: null, within5percent: null } as const;

function deeper(best: BlockPoint, point: BlockPoint): BlockPoint {
  return point.rate < best.rate * (1 - NOISE) ? point : best;
}

/** Without faulty fittings no leak is an early one. */
function dearestLeak(model: LifeModel, { earlyLeak, wearLeak }: AgeCosts): number {
  const faulty = model.kind === 'weibull' && (model.fault?.share ?? 0) > 0;
  return faulty ? Math.max(earlyLeak, wearLeak) : wearLeak;
}

/** A leak rate that never rises: renewals by T are then concave (Brown 1980), and no block is worth its replacement. */
function isFalling(model: LifeModel): boolean {
  if (model.kind === 'exponential') return true;
  return model.kind === 'weibull' && model.shape <= 1 && !model.fault?.share && !model.failureFree;
}

/** Local minima of the table, extended until no later interval can be better than the best of them. */
function searched(table: BlockTable, dearest: number): BlockPoint[] {
  const { block } = table;
  const { mean } = block.renewals.curve.law;
  const known = new Map<number, BlockPoint>();
  const minimumAt = (i: number): BlockPoint => {
    const minimum = known.get(i) ?? refined(table, i);
    known.set(i, minimum);
    return minimum;
  };
  for (let end = LEAST_LIVES * mean; ; end *= 1.5) {
    const more = table.extend(end);
    const minima = localMinima(table.points).map(minimumAt);
    const best = Math.min(block.rateRun, ...minima.map(({ rate }) => rate));
    const reached = itemAt(table.points, table.points.length - 1).age;
    const bound = (dearest - block.costs.replacement) / (block.rateRun - best);
    const { least, most } = table.lastSwing();
    const quiet = least > 0 && least > QUIET * most;
    if (!more || reached >= bound || quiet) return minima;
  }
}

/** Indices of the points at which the rate turns from falling to rising by more than noise. */
function localMinima(points: readonly BlockPoint[]): number[] {
  const found: number[] = [];
  let falling = true;
  let turn = 0;
  for (let i = 1; i < points.length; i++) {
    const [rate, extreme] = [itemAt(points, i).rate, itemAt(points, turn).rate];
    if (falling ? rate < extreme : rate > extreme) turn = i;
    else if (falling ? rate > extreme * (1 + NOISE) : rate < extreme * (1 - NOISE)) {
      if (falling) found.push(turn);
      falling = !falling;
      turn = i;
    }
  }
  return found;
}

/** The root of the slope between the neighbours of a point. */
function refined({ block, points }: BlockTable, i: number): BlockPoint {
  const here = itemAt(points, i);
  if (i === 0) return here;
  const slope = (T: number): number => T * block.leaksSlope(T) - block.leaks(T) - block.costs.replacement;
  const low = itemAt(points, i - 1).age;
  const high = itemAt(points, i + 1).age;
  const { root, converged } = findRoot(slope, low, high, { relative: 1e-13 });
  return converged ? { age: root, rate: block.rate(root) } : here;
}

/** The unbroken stretch of intervals round the best whose rate is at most `limit`. */
function spanWithin(table: BlockTable, best: BlockPoint, limit: number): [number, number | null] {
  const { block, points } = table;
  const crossing = (low: number, high: number): number =>
    findRoot((T) => block.rate(T) - limit, low, high, { relative: 1e-12 }).root;
  let below = points.findIndex(({ age }) => age >= best.age) - 1;
  let above = below + 1;
  while (below >= 0 && itemAt(points, below).rate <= limit) below--;
  const inside = Math.min(best.age, points[below + 1]?.age ?? best.age);
  const low = crossing(below < 0 ? atMostAge(block, limit) : itemAt(points, below).age, inside);
  for (;;) {
    while (above < points.length && itemAt(points, above).rate <= limit) above++;
    if (above < points.length)
      return [low, crossing(Math.max(best.age, itemAt(points, above - 1).age), itemAt(points, above).age)];
    const end = itemAt(points, points.length - 1).age;
    const stays = limit > block.rateRun && table.lastSwing().most <= (limit - block.rateRun) * end;
    if (stays) return [low, null];
    if (!table.extend(1.5 * end)) return [low, settledCrossing(block, end, limit)];
  }
}

/** An interval at which the replacement alone costs more than the limit. */
function atMostAge({ costs, openings }: Block, limit: number): number {
  return (0.5 * costs.replacement) / (limit - openings);
}

/** Once all has settled the rate nears that of running on one side: where it crosses a limit below it, null where it does not. */
function settledCrossing(block: Block, end: number, limit: number): number | null {
  const excess = end * (block.rate(end) - block.rateRun);
  return limit < block.rateRun ? Math.max(end, excess / (limit - block.rateRun)) : null;
}
