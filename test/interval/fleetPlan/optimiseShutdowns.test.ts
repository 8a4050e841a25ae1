import { describe, expect, it } from 'vitest';
import { optimiseShutdowns } from '../../../lib/interval/fleetPlan/optimiseShutdowns.js';
import type { FleetProblem } from '../../../lib/interval/fleetPlan/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { cheapest, chosenOf, isWithin, type Option, optionsOf, stopCostOf } from './bruteForce.js';
import { randomFleet, weibull } from './fixtures.js';

/** A small fleet with every kind of limit, each in some of the seeds. */
function smallFleet(seed: number): FleetProblem {
  const random = randomStream(seed, 'small');
  const few = seed % 20 === 0 ? 6 : 3 + random.below(3);
  const base = randomFleet(seed, {
    positions: few,
    windows: 3,
    lines: 1 + random.below(3),
    tightness: 0.2 + 0.6 * random.uniform(),
    made: random.below(2),
    stopCost: 100 + 500 * random.uniform(),
    yearsLater: 5,
  });
  const maybe = <T>(value: T): T | null => (random.below(3) === 0 ? value : null);
  const windows = base.windows.map((window) => ({
    ...window,
    fitterHours: maybe(2 * random.uniform()),
    instrumentHours: maybe(random.uniform()),
    lines: maybe(1),
    replacements: maybe(1 + random.below(3)),
  }));
  const must = random.below(2) === 0 ? [{ position: 'V1', window: 'W2' }] : [];
  const frozen =
    random.below(3) === 0
      ? [
          { line: 'L1', window: 'W1' },
          { position: 'V2', window: 'W3' },
        ]
      : [];
  const ready = ['W1', 'W2', 'W3'].map((window, w) => ({ window, pieces: w + random.below(2) }));
  const stock = random.below(2) === 0 ? [{ item: 'P1', ready }] : [];
  const positions = base.positions.map((position) => ({
    ...position,
    latestAge: random.below(4) === 0 ? 600 + random.below(500) : null,
    until: random.below(6) === 0 ? 100 + random.below(500) : null,
  }));
  return { ...base, windows, positions, must, frozen, stock };
}

describe('against every plan of small fleets', () => {
  it('bound, optimum and plan stand in this order in 200 of them, and the gap printed is true', () => {
    const unmetCost = 20_000;
    let [bound, exact, missed] = [0, 0, 0];
    for (let seed = 1; seed <= 200; seed++) {
      const problem = smallFleet(seed);
      const answer = optimiseShutdowns(problem, { unmetCost });
      const best = cheapest(problem, unmetCost);
      const chosen = chosenOf(problem, answer);
      const unmet = chosen.reduce((sum, option) => sum + option.missed, 0);
      const cost = chosen.reduce((sum, option) => sum + option.cost, stopCostOf(problem, chosen));
      const rounding = 1e-9 * (Math.abs(cost) + unmetCost);
      expect(isWithin(problem, chosen), `seed ${seed}`).toBe(true);
      expect(Math.abs(answer.cost - cost), `cost, seed ${seed}`).toBeLessThan(rounding);
      const optimum = best.cost + best.missed * unmetCost;
      expect(answer.lowerBound + unmet * unmetCost, `bound, seed ${seed}`).toBeLessThanOrEqual(
        optimum + rounding,
      );
      expect(answer.leastCost, `least cost, seed ${seed}`).toBeLessThanOrEqual(best.cost + rounding);
      expect(optimum, `plan, seed ${seed}`).toBeLessThanOrEqual(cost + unmet * unmetCost + rounding);
      expect(optimum, `gap, seed ${seed}`).toBeGreaterThanOrEqual(
        cost * (1 - answer.gap) + unmet * unmetCost - rounding,
      );
      bound += answer.limits.some(({ savingPerUnit }) => savingPerUnit > 0) ? 1 : 0;
      exact += cost + unmet * unmetCost <= optimum + rounding ? 1 : 0;
      missed += unmet > 0 ? 1 : 0;
    }
    // The fleets are such that limits bind, demands are missed, and small moves do find the optimum mostly.
    expect(bound).toBeGreaterThan(100);
    expect(missed).toBeGreaterThan(15);
    expect(exact).toBeGreaterThan(160);
  });
});

describe('with more stops to pay than sets of them are tried', () => {
  it('the bound still holds, in 30 fleets with 7 of them and a limit on open lines', () => {
    let within = 0;
    for (let seed = 1; seed <= 30; seed++) {
      const base = randomFleet(seed, { positions: 2, windows: 7, lines: 2, tightness: 0.7, yearsLater: 5 });
      const problem: FleetProblem = {
        ...base,
        windows: base.windows.map((window) => ({ ...window, lines: 1 })),
        lines: base.lines.map((line) => ({
          ...line,
          windows: line.windows.map((window, w) => ({ ...window, stopCost: 40 * (w + 1) })),
        })),
        positions: base.positions.map((position) => ({
          ...position,
          line: seed % 2 === 0 ? 'L1' : position.line,
        })),
      };
      const answer = optimiseShutdowns(problem);
      const best = cheapest(problem, 1e5).cost;
      const rounding = 1e-9 * best;
      expect(isWithin(problem, chosenOf(problem, answer)), `seed ${seed}`).toBe(true);
      expect(answer.lowerBound, `bound, seed ${seed}`).toBeLessThanOrEqual(best + rounding);
      expect(answer.cost, `plan, seed ${seed}`).toBeGreaterThanOrEqual(best - rounding);
      within += answer.cost <= 1.02 * best ? 1 : 0;
    }
    expect(within).toBeGreaterThan(24);
  });
});

describe('the answer', () => {
  const problem = randomFleet(3, { positions: 60, windows: 5, lines: 6, tightness: 0.15, made: 2 });

  it('is the same to the last digit each time, and leaves what it was given alone', () => {
    const before = JSON.stringify(problem);
    const once = JSON.stringify(optimiseShutdowns(problem));
    expect(JSON.stringify(optimiseShutdowns(problem))).toBe(once);
    expect(JSON.stringify(problem)).toBe(before);
  });

  it('is nearly what each position does for itself where nothing binds', () => {
    const free = { ...problem, windows: problem.windows.map((window) => ({ ...window, crewHours: null })) };
    const answer = optimiseShutdowns({
      ...free,
      lines: free.lines.map((line) => ({
        ...line,
        windows: line.windows.map((each) => ({ ...each, stopCost: 0 })),
      })),
    });
    expect(answer.status).toBe('best');
    expect(answer.limits).toEqual([]);
    for (const { windows, unlimited } of answer.choices) expect(windows).toEqual(unlimited);
  });

  it('prices an hour as a plan with more hours shows', () => {
    const answer = optimiseShutdowns(problem, { gap: 0 });
    const [first] = answer.limits;
    const more = 0.2 * (itemAt(problem.windows, 0).crewHours as number);
    const eased = {
      ...problem,
      windows: problem.windows.map((window, w) => ({
        ...window,
        crewHours: (window.crewHours ?? 0) + (w === 0 ? more : 0),
      })),
    };
    const saved = answer.lowerBound - optimiseShutdowns(eased, { gap: 0 }).lowerBound;
    // The bound is concave in the hours: its slope at the start is the most that each hour saves.
    expect(first?.window).toBe('W1');
    expect(first?.savingPerUnit).toBeGreaterThan(0);
    expect(saved / more).toBeLessThanOrEqual(1.02 * (first?.savingPerUnit ?? 0));
    expect(saved / more).toBeGreaterThan(0.3 * (first?.savingPerUnit ?? 0));
  });

  it('prices another plan alike, and is no dearer than one that is within the limits', () => {
    const best = optimiseShutdowns(problem);
    const against = new Map(best.choices.map(({ position, windows }) => [position, windows]));
    const again = optimiseShutdowns(problem, { rounds: 1, against });
    expect(again.againstCost).toBeCloseTo(best.cost, 6);
    expect(again.cost).toBeLessThanOrEqual(best.cost + 1e-6);
    const nothing = optimiseShutdowns(problem, { against: new Map() }).againstCost ?? 0;
    const options = optionsOf(problem).map(
      (each) => each.find(({ windows }) => windows.length === 0) as Option,
    );
    expect(nothing).toBeCloseTo(
      options.reduce((sum, { cost }) => sum + cost, 0),
      6,
    );
    expect(nothing).toBeGreaterThan(1.05 * best.cost);
    expect(best.againstCost).toBeNull();
  });

  it('counts demands by their weight: the heavier one is met', () => {
    const two = {
      ...problem,
      positions: problem.positions.slice(0, 2).map((each) => ({ ...each, line: 'L1' })),
    };
    const hours = Math.max(...two.positions.map((each) => each.fitterHours + each.instrumentHours));
    const windows = two.windows.map((window) => ({ ...window, crewHours: hours }));
    const must = two.positions.map(({ position }) => ({ position, window: 'W1' }));
    for (const heavy of [0, 1]) {
      const positions = two.positions.map((each, p) => ({ ...each, unmetWeight: p === heavy ? 5 : 1 }));
      const { choices, unmet } = optimiseShutdowns({ ...two, windows, must, positions });
      expect(choices[heavy]?.windows).toContain('W1');
      expect(unmet.map(({ position, short }) => [position, short])).toEqual([[`V${2 - heavy}`, true]]);
    }
  });

  it('pays a stop once: two positions share what neither pays for itself', () => {
    const kind = weibull(4, [600], { leakCost: 3000 });
    const one = itemAt(problem.positions, 0);
    const position = (name: string) => ({
      ...one,
      position: name,
      line: 'A',
      now: kind,
      next: kind,
      ages: [{ age: 380, chance: 1 }],
      replacementCost: 100,
    });
    const windows = [
      { name: 'made', day: 60, crewHours: null },
      { name: 'anyway', day: 180, crewHours: null },
    ];
    const later = [1, 2, 3, 4, 5, 6, 7, 8].map((i) => ({ day: 180 + 180 * i, made: false }));
    const line = {
      line: 'A',
      windows: [
        { window: 'made', stopCost: 0 },
        { window: 'anyway', stopCost: 0 },
      ],
      later,
    };
    const plan = (names: string[], stopCost: number) =>
      optimiseShutdowns({
        today: 0,
        windows,
        lines: [
          {
            ...line,
            windows: [
              { window: 'made', stopCost },
              { window: 'anyway', stopCost: 0 },
            ],
          },
        ],
        positions: names.map(position),
      });
    const alone = plan(['a'], 0);
    expect(itemAt(alone.choices, 0).windows).toContain('made');
    const worth = plan(['a'], 1e6).cost - alone.cost;
    expect(itemAt(plan(['a'], 1.5 * worth).choices, 0).windows).not.toContain('made');
    const pair = plan(['a', 'b'], 1.5 * worth);
    expect(itemAt(pair.choices, 0).windows).toContain('made');
    expect(pair.cost).toBeCloseTo(2 * alone.cost + 1.5 * worth, 6);
    expect(pair.status).toBe('best');
  });
});
