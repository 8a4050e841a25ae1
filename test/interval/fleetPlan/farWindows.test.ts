import { describe, expect, it } from 'vitest';
import { optimiseShutdowns } from '../../../lib/interval/fleetPlan/optimiseShutdowns.js';
import type { FleetProblem } from '../../../lib/interval/fleetPlan/types.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { cheapestOfFew, chosenOf, isWithin, stopCostOf } from './bruteForce.js';
import { randomFleet } from './fixtures.js';

/** Two positions with 13 windows a few months apart, each limit in some of the seeds. */
function farFleet(seed: number): FleetProblem {
  const random = randomStream(seed, 'far');
  const count = 13;
  const base = randomFleet(seed, {
    positions: 2,
    windows: count,
    lines: 1 + random.below(2),
    tightness: 0.7,
    yearsLater: 4,
  });
  const windows = base.windows.map((window, w) => ({
    ...window,
    day: 30 + 120 * w,
    replacements: random.below(3) === 0 ? 1 : null,
    lines: random.below(4) === 0 ? 1 : null,
  }));
  const lines = base.lines.map((line) => ({
    ...line,
    windows: line.windows.map((window) => ({
      ...window,
      stopCost: seed % 2 === 0 && random.below(2) === 0 ? 60 : 0,
    })),
  }));
  const positions = base.positions.map((position) => ({
    ...position,
    latestAge: random.below(4) === 0 ? 900 : null,
  }));
  const must = seed % 4 === 0 ? [{ position: 'V1', window: 'W5' }] : [];
  const frozen = seed % 3 === 0 ? [{ line: 'L1', window: 'W2' }] : [];
  const ready = windows.map(({ name }, w) => ({ window: name, pieces: Math.floor(w / 3) }));
  const stock = seed % 5 === 0 ? [{ item: 'P1', ready }] : [];
  return { ...base, windows, lines, positions, must, frozen, stock };
}

describe('with more windows of a line than schedules are listed of', () => {
  it('bound, optimum and plan stand in this order in 12 fleets with 13 windows, most of them at the optimum', () => {
    let [within, bound] = [0, 0];
    for (let seed = 1; seed <= 12; seed++) {
      const problem = farFleet(seed);
      const answer = optimiseShutdowns(problem, { unmetCost: 20_000 });
      const chosen = chosenOf(problem, answer);
      const unmet = chosen.reduce((sum, option) => sum + option.missed, 0);
      const best = cheapestOfFew(problem, 20_000);
      const rounding = 1e-9 * (Math.abs(best) + 20_000);
      expect(isWithin(problem, chosen), `seed ${seed}`).toBe(true);
      const cost = chosen.reduce((sum, option) => sum + option.cost, stopCostOf(problem, chosen));
      expect(Math.abs(answer.cost - cost), `cost, seed ${seed}`).toBeLessThan(rounding);
      expect(answer.lowerBound + unmet * 20_000, `bound, seed ${seed}`).toBeLessThanOrEqual(best + rounding);
      expect(cost + unmet * 20_000, `plan, seed ${seed}`).toBeGreaterThanOrEqual(best - rounding);
      expect(cost + unmet * 20_000, `close, seed ${seed}`).toBeLessThanOrEqual(1.02 * best + rounding);
      within += cost + unmet * 20_000 <= 1.01 * best + rounding ? 1 : 0;
      bound += answer.limits.some(({ savingPerUnit }) => savingPerUnit > 0) ? 1 : 0;
    }
    expect(bound).toBeGreaterThan(5);
    expect(within).toBeGreaterThan(10);
  });

  it('is each position at its own best where nothing binds, with 104 of them', () => {
    const problem = randomFleet(7, { positions: 12, windows: 104, lines: 2, tightness: 99, yearsLater: 3 });
    const weekly = problem.windows.map((window, w) => ({ ...window, day: 5 + 7 * w }));
    const later = [1, 2, 3, 4, 5, 6].map((i) => ({ day: 733 + 180 * i, made: false }));
    const lines = problem.lines.map((line) => ({ ...line, later }));
    const answer = optimiseShutdowns({ ...problem, windows: weekly, lines });
    expect(answer.status).toBe('best');
    expect(answer.cost).toBeCloseTo(answer.leastCost, 6);
    for (const { windows, unlimited } of answer.choices) expect(windows).toEqual(unlimited);
    expect(answer.choices.some(({ windows }) => windows.length > 0)).toBe(true);
  });

  it('finds the same cost with the schedules of 12 windows listed and with a thirteenth that is of no use', () => {
    const listed = randomFleet(4, { positions: 20, windows: 12, lines: 2, tightness: 0.3, yearsLater: 4 });
    const names = listed.lines.map(({ line }) => ({ line, window: 'none' }));
    // The first day after today: all is replaced later on.
    const more: FleetProblem = {
      ...listed,
      windows: [...listed.windows, { name: 'none', day: 1, crewHours: 0 }],
      lines: listed.lines.map((line) => ({
        ...line,
        windows: [{ window: 'none', stopCost: 0 }, ...line.windows],
      })),
      frozen: names,
    };
    const [few, many] = [optimiseShutdowns(listed, { gap: 0 }), optimiseShutdowns(more, { gap: 0 })];
    // A window more splits the time before the first one, and with it when a leak is taken to happen.
    expect(Math.abs(many.lowerBound / few.lowerBound - 1)).toBeLessThan(0.01);
    expect(Math.abs(many.cost / few.cost - 1)).toBeLessThan(0.015);
    expect(many.choices.every(({ windows }) => !windows.includes('none'))).toBe(true);
  });
});
