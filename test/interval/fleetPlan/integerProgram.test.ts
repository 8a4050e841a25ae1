/** Against HiGHS, a general solver: the same plan as an integer program over each position's schedules. */
import highsModule from 'highs';
import { describe, expect, it } from 'vitest';
import { optimiseShutdowns } from '../../../lib/interval/fleetPlan/optimiseShutdowns.js';
import type { FleetProblem } from '../../../lib/interval/fleetPlan/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { type Option, optionsOf } from './bruteForce.js';
import { randomFleet } from './fixtures.js';

// Its types say that the default export sits one level deeper than it does in an ES module.
const loadHighs = highsModule as unknown as typeof highsModule.default;

/** The problem in the text format that solvers read: one variable for a position's schedule, one for a line's stop. */
function programOf(problem: FleetProblem, options: readonly Option[][]): string {
  const variables = options.flatMap((list, p) =>
    list.map((option, c) => ({ ...option, p, name: `x${p}_${c}` })),
  );
  const stops = problem.lines.flatMap(({ line, windows }, l) =>
    windows
      .filter(({ stopCost }) => stopCost > 0)
      .map((each) => ({ ...each, line, name: `y${l}_${each.window}` })),
  );
  const terms = (list: { name: string; factor: number }[]): string =>
    list.map(({ name, factor }) => `+ ${factor} ${name}`).join('\n ');
  const rows: string[] = options.map((list, p) => `${list.map((_, c) => `+ x${p}_${c}`).join(' ')} = 1`);
  for (const { name, crewHours } of problem.windows) {
    if (crewHours === null) continue;
    const used = variables
      .filter(({ windows }) => windows.includes(name))
      .map((each) => {
        const { fitterHours, instrumentHours } = itemAt(problem.positions, each.p);
        return { name: each.name, factor: fitterHours + instrumentHours };
      });
    rows.push(`${terms(used)} <= ${crewHours}`);
  }
  for (const { item, ready } of problem.stock ?? []) {
    for (const [w, { pieces }] of ready.entries()) {
      const until = ready.slice(0, w + 1).map(({ window }) => window);
      const used = variables
        .filter(({ p }) => itemAt(problem.positions, p).item === item)
        .map(({ name, windows }) => ({ name, factor: windows.filter((each) => until.includes(each)).length }))
        .filter(({ factor }) => factor > 0);
      rows.push(`${terms(used)} <= ${pieces}`);
    }
  }
  for (const { line, window, name } of stops) {
    for (const [p, position] of problem.positions.entries()) {
      if (position.line !== line) continue;
      const uses = variables.filter((each) => each.p === p && each.windows.includes(window));
      rows.push(`${uses.map((each) => `+ ${each.name}`).join(' ')} - ${name} <= 0`);
    }
  }
  const cost = [
    ...variables.map(({ name, cost: factor }) => ({ name, factor })),
    ...stops.map(({ name, stopCost }) => ({ name, factor: stopCost })),
  ];
  const names = [...variables, ...stops].map(({ name }) => name);
  return `Minimize\n ${terms(cost.map(({ name, factor }) => ({ name, factor: Math.round(1000 * factor) / 1000 })))}\nSubject To\n ${rows.join('\n ')}\nBinary\n ${names.join('\n ')}\nEnd\n`;
}

describe('against an integer program', () => {
  const cases = [
    { positions: 100, windows: 4, lines: 5, tightness: 0.25 },
    { positions: 250, windows: 4, lines: 12, tightness: 0.2, made: 1, stopCost: 900 },
    { positions: 500, windows: 3, lines: 25, tightness: 0.2, made: 1, stopCost: 1500, stock: true },
  ];
  for (const [seed, { stock = false, ...fleet }] of cases.entries()) {
    it(`${fleet.positions} positions: bound, optimum and plan stand in this order, within 2 %`, async () => {
      const base = randomFleet(seed + 1, fleet);
      const pieces = Math.round(0.15 * fleet.positions);
      const ready = base.windows.map(({ name }, w) => ({ window: name, pieces: pieces * (w + 1) * 0.5 }));
      const problem = stock ? { ...base, stock: [{ item: 'P1', ready }] } : base;
      const answer = optimiseShutdowns(problem);
      const highs = await loadHighs();
      const options = optionsOf(problem);
      // A tenth of a per mille decides it: HiGHS need not prove the last digit.
      const solved = highs.solve(programOf(problem, options), { mip_rel_gap: 1e-4, output_flag: false });
      expect(solved.Status).toBe('Optimal');
      const optimum = solved.ObjectiveValue;
      // The program's costs are rounded to a thousandth of the currency.
      const rounding = 0.001 * fleet.positions;
      expect(answer.unmet).toEqual([]);
      expect(answer.limits.filter(({ savingPerUnit }) => savingPerUnit > 0).length).toBeGreaterThan(1);
      expect(answer.lowerBound).toBeLessThanOrEqual(optimum + rounding);
      expect(optimum * (1 - 1e-4)).toBeLessThanOrEqual(answer.cost + rounding);
      expect(answer.cost).toBeLessThanOrEqual(1.02 * optimum);
      expect(optimum - answer.lowerBound).toBeLessThanOrEqual(0.02 * optimum);
    });
  }
});
