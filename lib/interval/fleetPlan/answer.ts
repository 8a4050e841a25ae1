/** A plan found, in the words of who asked: windows by name, what binds and what it is worth, what cannot be met. */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import type { Draft } from './draft.js';
import { addUse } from './limitRows.js';
import type { Model, ModelPlace } from './model.js';
import { leastCost, missedBy, scheduleCost } from './schedules.js';
import type { Found } from './search.js';
import type { FleetChoice, FleetLimit, FleetOptimum, FleetProblem } from './types.js';
import { unmetDemands } from './unmet.js';

/** A price below this share of the cost of a plan, for a whole limit, is rounding. */
const NO_PRICE = 1e-9;

export function answerOf(
  problem: FleetProblem,
  model: Model,
  { plan, bound, prices, rounds, status }: Found,
  against: Int32Array | null,
): FleetOptimum {
  const unlimited = Int32Array.from(problem.positions, (position, p) =>
    ownBest(model, p, position.stopShare),
  );
  const choices = problem.positions.map((position, p): FleetChoice => {
    const place = itemAt(model.places, p);
    return {
      position: position.position,
      windows: windowNames(model, p, at(plan.chosen, p)),
      unlimited: windowNames(model, p, at(unlimited, p)),
      cost: scheduleCost(place.arcs, at(plan.chosen, p)),
      unlimitedCost: scheduleCost(place.arcs, at(unlimited, p)),
    };
  });
  const missed = model.places.reduce(
    (sum, { arcs, unmetCost }, p) => sum + missedBy(arcs, at(plan.chosen, p)) * unmetCost,
    0,
  );
  const cost = choices.reduce((sum, choice) => sum + choice.cost, stopCosts(plan));
  const lowerBound = Math.min(cost, bound - missed);
  return {
    choices,
    cost,
    lowerBound,
    leastCost: Math.min(cost, leastOfAll(model)),
    gap: cost > 0 ? Math.max(0, (cost - lowerBound) / cost) : 0,
    againstCost: against === null ? null : costOfOther(model, against),
    unmetCost: model.unmetCost,
    limits: limitsOf(problem, model, plan, unlimited, prices, cost),
    unmet: unmetDemands(problem, model, plan),
    status,
    rounds,
  };
}

/** Every position at its own least cost, nothing limited and stops free. */
function leastOfAll({ places }: Model): number {
  return places.reduce((sum, { arcs, windows }) => sum + leastCost(arcs, windows.frozen), 0);
}

/** What another plan costs, stops included. */
function costOfOther(model: Model, schedules: Int32Array): number {
  let total = 0;
  for (const line of model.lines) {
    let open = 0;
    for (const p of line.places) {
      total += scheduleCost(itemAt(model.places, p).arcs, at(schedules, p));
      open |= at(schedules, p);
    }
    for (let k = 0; k < line.windows.length; k++) if ((open >> k) & 1) total += floatAt(line.stopCost, k);
  }
  return total;
}

/** Schedules of a plan that names windows. */
export function schedulesOf(
  { positions }: FleetProblem,
  model: Model,
  plan: ReadonlyMap<string, readonly string[]>,
): Int32Array {
  return Int32Array.from(positions, ({ position }, p) => {
    const { line, windows } = itemAt(model.places, p);
    const own = itemAt(model.lines, line).windows;
    let schedule = 0;
    for (let k = 0; k < windows.known; k++) {
      const { name } = itemAt(model.windows, at(own, k));
      if (plan.get(position)?.includes(name) === true) schedule |= 1 << k;
    }
    return schedule;
  });
}

/** The schedule of a place if nothing is limited and each replacement in a stop made for it pays its share. */
function ownBest(model: Model, p: number, stopShare: number): number {
  const { schedules, windows }: ModelPlace = itemAt(model.places, p);
  let [least, found] = [Infinity, 0];
  for (let c = 0; c < schedules.windows.length; c++) {
    const schedule = at(schedules.windows, c);
    let total = floatAt(schedules.cost, c);
    for (let k = 0; k < windows.known; k++) {
      if (((schedule >> k) & 1) === 1 && windows.made[k + 1] === 1) total += stopShare;
    }
    if (total < least) [least, found] = [total, schedule];
  }
  return found;
}

function windowNames(model: Model, p: number, schedule: number): string[] {
  const { windows } = itemAt(model.lines, itemAt(model.places, p).line);
  return Array.from(windows)
    .filter((_, k) => ((schedule >> k) & 1) === 1)
    .map((w) => itemAt(model.windows, w).name);
}

function stopCosts({ model, open }: Draft): number {
  let total = 0;
  for (const { offset, stopCost } of model.lines) {
    for (let k = 0; k < stopCost.length; k++) if (at(open, offset + k) > 0) total += floatAt(stopCost, k);
  }
  return total;
}

/** Limits that are asked for more than there is, or that have a price. */
function limitsOf(
  problem: FleetProblem,
  model: Model,
  plan: Draft,
  unlimited: Int32Array,
  prices: Float64Array,
  cost: number,
): FleetLimit[] {
  const wanted = wantedUse(model, unlimited);
  const { list, nextOfItem } = model.rows;
  return list
    .map(({ kind, window, item, capacity }, row): FleetLimit => {
      // A piece that is there by a window is there for all later ones too.
      let price = floatAt(prices, row);
      for (let next = at(nextOfItem, row); next >= 0; next = at(nextOfItem, next))
        price += floatAt(prices, next);
      return {
        window: itemAt(model.windows, window).name,
        limit: kind,
        item: item < 0 ? null : ((problem.stock ?? [])[item]?.item ?? null),
        available: capacity,
        used: floatAt(plan.use, row),
        wanted: floatAt(wanted, row),
        savingPerUnit: price * Math.max(1, capacity) <= NO_PRICE * Math.abs(cost) ? 0 : price,
      };
    })
    .filter(({ wanted: asked, available, savingPerUnit }) => savingPerUnit > 0 || asked > available + 1e-9);
}

function wantedUse(model: Model, unlimited: Int32Array): Float64Array {
  const use = new Float64Array(model.rows.list.length);
  for (let p = 0; p < unlimited.length; p++) addUse(model, p, at(unlimited, p), 1, use);
  for (const { windows, lineRow, places } of model.lines) {
    for (let k = 0; k < windows.length; k++) {
      const row = at(lineRow, k);
      const isOpen = places.some((p) => ((at(unlimited, p) >> k) & 1) === 1);
      if (row >= 0 && isOpen) use[row] = floatAt(use, row) + 1;
    }
  }
  return use;
}
