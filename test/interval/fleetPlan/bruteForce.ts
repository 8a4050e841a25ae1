/** Every plan of a small fleet, one after the other: the slow and plain way to the cheapest. */
import { modelOf } from '../../../lib/interval/fleetPlan/model.js';
import { missedBy, scheduleCost } from '../../../lib/interval/fleetPlan/schedules.js';
import { sharedParts } from '../../../lib/interval/fleetPlan/sharedParts.js';
import type { FleetOptimum, FleetProblem } from '../../../lib/interval/fleetPlan/types.js';
import { at, itemAt } from '../../../lib/numeric/columns.js';

/** What one position may do, with its cost and the windows used, by name. */
export interface Option {
  windows: string[];
  cost: number;
  /** Demands that it misses. */
  missed: number;
}

/** All schedules of every position that leave frozen windows alone. Only the costs of single positions are the library's. */
export function optionsOf(problem: FleetProblem): Option[][] {
  const model = modelOf(problem, 1, sharedParts());
  return model.places.map(({ arcs, line, windows }) => {
    const names = Array.from(itemAt(model.lines, line).windows, (w) => itemAt(model.windows, w).name);
    const found: Option[] = [];
    for (let schedule = 0; schedule < 1 << arcs.known; schedule++) {
      const own = [...names.keys()].filter((k) => ((schedule >> k) & 1) === 1);
      const used = own.map((k) => itemAt(names, k));
      if (used.some((name) => at(windows.frozen, names.indexOf(name) + 1) === 1)) continue;
      found.push({ windows: used, cost: scheduleCost(arcs, own), missed: missedBy(arcs, own) });
    }
    return found;
  });
}

/** Whether a choice of options keeps within every limit of the problem. */
export function isWithin(problem: FleetProblem, chosen: readonly Option[]): boolean {
  const inWindow = (name: string) =>
    problem.positions.filter((_, p) => itemAt(chosen, p).windows.includes(name));
  const sum = (values: number[]): number => values.reduce((total, value) => total + value, 0) - 1e-9;
  const limits = problem.windows.every((window) => {
    const there = inWindow(window.name);
    const fitters = sum(there.map(({ fitterHours }) => fitterHours));
    const instruments = sum(there.map(({ instrumentHours }) => instrumentHours));
    const all = sum(there.map((each) => each.fitterHours + each.instrumentHours));
    return (
      all <= (window.crewHours ?? Infinity) &&
      fitters <= (window.fitterHours ?? Infinity) &&
      instruments <= (window.instrumentHours ?? Infinity) &&
      there.length <= (window.replacements ?? Infinity) &&
      new Set(there.map(({ line }) => line)).size <= (window.lines ?? Infinity)
    );
  });
  return limits && isStocked(problem, chosen);
}

function isStocked(problem: FleetProblem, chosen: readonly Option[]): boolean {
  const dayOf = new Map(problem.windows.map(({ name, day }) => [name, day]));
  return (problem.stock ?? []).every(({ item, ready }) =>
    ready.every(({ window, pieces }) => {
      const until = dayOf.get(window) ?? 0;
      const taken = problem.positions.reduce((count, position, p) => {
        if (position.item !== item) return count;
        return count + itemAt(chosen, p).windows.filter((name) => (dayOf.get(name) ?? 0) <= until).length;
      }, 0);
      return taken <= pieces;
    }),
  );
}

/** What the stops of a choice cost: once per line and window. */
export function stopCostOf(problem: FleetProblem, chosen: readonly Option[]): number {
  let total = 0;
  for (const { line, windows } of problem.lines) {
    for (const { window, stopCost } of windows) {
      const isUsed = problem.positions.some(
        (position, p) => position.line === line && itemAt(chosen, p).windows.includes(window),
      );
      if (isUsed) total += stopCost;
    }
  }
  return total;
}

/**
 * The same for few positions with many windows: a schedule with a part that costs no more is never needed, and no more is added to a plan
 * that is dearer already than the best with the rest for nothing.
 */
export function cheapestOfFew(problem: FleetProblem, unmetCost: number): number {
  const nothing = problem.positions.map((): Option => ({ windows: [], cost: 0, missed: 0 }));
  const options = optionsOf(problem).map((list, p) =>
    withoutUseless(list, unmetCost).filter((each) =>
      // What does not fit where the others do nothing never fits.
      isWithin(
        problem,
        nothing.map((none, q) => (q === p ? each : none)),
      ),
    ),
  );
  const leastOf = options.map((list) => Math.min(...list.map((each) => each.cost + each.missed * unmetCost)));
  const rest = options.map((_, p) => leastOf.slice(p).reduce((total, value) => total + value, 0));
  let best = Infinity;
  const chosen: Option[] = [];
  const choose = (p: number, cost: number): void => {
    if (p === options.length) {
      const total = cost + stopCostOf(problem, chosen);
      if (total < best && isWithin(problem, chosen)) best = total;
      return;
    }
    for (const option of itemAt(options, p)) {
      const so = cost + option.cost + option.missed * unmetCost;
      if (so + (rest[p + 1] ?? 0) >= best) continue;
      chosen[p] = option;
      choose(p + 1, so);
    }
  };
  choose(0, 0);
  return best;
}

function withoutUseless(list: readonly Option[], unmetCost: number): Option[] {
  const costOf = ({ cost, missed }: Option): number => cost + missed * unmetCost;
  const least = new Map<string, number>();
  const kept: Option[] = [];
  for (const option of [...list].sort((a, b) => a.windows.length - b.windows.length)) {
    const parts = option.windows.map((_, i) => option.windows.filter((_name, n) => n !== i).join());
    const ofParts = Math.min(...parts.map((part) => least.get(part) ?? Infinity));
    least.set(option.windows.join(), Math.min(ofParts, costOf(option)));
    if (costOf(option) < ofParts) kept.push(option);
  }
  return kept.sort((a, b) => costOf(a) - costOf(b));
}

/** Cost of the cheapest plan, demands missed counted at `unmetCost`, by trying all. */
export function cheapest(problem: FleetProblem, unmetCost: number): { cost: number; missed: number } {
  const options = optionsOf(problem);
  let best = { cost: Infinity, missed: 0 };
  const chosen: Option[] = [];
  const choose = (p: number, cost: number, missed: number): void => {
    if (p === options.length) {
      const total = cost + stopCostOf(problem, chosen);
      const better = total + missed * unmetCost < best.cost + best.missed * unmetCost;
      if (better && isWithin(problem, chosen)) best = { cost: total, missed };
      return;
    }
    for (const option of itemAt(options, p)) {
      chosen[p] = option;
      choose(p + 1, cost + option.cost, missed + option.missed);
    }
  };
  choose(0, 0, 0);
  return best;
}

/** The options that an answer chose, found by their windows. */
export function chosenOf(problem: FleetProblem, answer: FleetOptimum): Option[] {
  return optionsOf(problem).map((options, p) => {
    const { windows } = itemAt(answer.choices, p);
    return options.find((option) => option.windows.join() === windows.join()) as Option;
  });
}
