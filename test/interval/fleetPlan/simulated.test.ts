/** The cost of a schedule against positions that are simulated day by day, leaks, renewals and all. */
import { describe, expect, it } from 'vitest';
import { optimiseShutdowns } from '../../../lib/interval/fleetPlan/optimiseShutdowns.js';
import type { FleetPosition, FleetProblem } from '../../../lib/interval/fleetPlan/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';
import { weibull } from './fixtures.js';

const [SHAPE, SCALES, LEAK] = [2.5, [600, 900], 1000];
const DAYS = [100, 400, 650];
const END = 900;
const RUNS = 400_000;

function fleetOf(change: Partial<FleetPosition>): FleetProblem {
  const kind = weibull(SHAPE, SCALES, { leakCost: LEAK });
  const position: FleetPosition = {
    position: 'V1',
    line: 'L1',
    now: kind,
    next: kind,
    ages: [{ age: 200, chance: 1 }],
    replacementCost: 0,
    stopShare: 0,
    fitterHours: 1,
    instrumentHours: 0,
    item: null,
    latestAge: null,
    until: END,
    ...change,
  };
  const windows = DAYS.map((day, w) => ({ name: `W${w + 1}`, day, crewHours: null }));
  const line = { line: 'L1', windows: windows.map(({ name }) => ({ window: name, stopCost: 0 })), later: [] };
  return { today: 0, windows, lines: [line], positions: [position] };
}

/** Age at which one leaks that has reached an age. */
function leakAge(random: RandomStream, reached: number): number {
  const scale = itemAt(SCALES, random.below(SCALES.length));
  return scale * ((reached / scale) ** SHAPE - Math.log(random.uniform())) ** (1 / SHAPE);
}

/** Cost of one position from a day to the end, replaced at windows by a rule on the days of fitting and of the next window. */
function lived(
  random: RandomStream,
  start: number,
  age: number,
  replaces: (fitted: number, next: number) => boolean,
  replacement: number,
): number {
  let [cost, fitted] = [0, start - age];
  let leaks = fitted + leakAge(random, age);
  for (const [i, day] of [...DAYS, END].entries()) {
    if (day <= start) continue;
    while (leaks < day) {
      cost += LEAK;
      fitted = leaks;
      leaks = fitted + leakAge(random, 0);
    }
    const next = [...DAYS, END][i + 1];
    if (next === undefined || !replaces(fitted, next)) continue;
    cost += replacement;
    fitted = day;
    leaks = fitted + leakAge(random, 0);
  }
  return cost;
}

function meanOf(draw: () => number): { mean: number; error: number } {
  let [sum, squares] = [0, 0];
  for (let i = 0; i < RUNS; i++) {
    const value = draw();
    sum += value;
    squares += value * value;
  }
  const mean = sum / RUNS;
  return { mean, error: Math.sqrt((squares / RUNS - mean * mean) / RUNS) };
}

/** The plan's cost ends at the last window, less what going on with a fresh one costs. */
function compare(problem: FleetProblem, replaces: (fitted: number, next: number) => boolean, seed: number) {
  const { replacementCost } = itemAt(problem.positions, 0);
  const random = randomStream(seed, 'lived');
  const whole = meanOf(() => lived(random, 0, 200, replaces, replacementCost));
  const after = meanOf(() => lived(random, itemAt(DAYS, 2), 0, () => false, replacementCost));
  const answer = optimiseShutdowns(problem);
  return { answer, simulated: whole.mean - after.mean, error: Math.hypot(whole.error, after.error) };
}

describe('the cost of a schedule', () => {
  it('is what positions cost that are replaced at every window, because it costs nothing', () => {
    const { answer, simulated, error } = compare(fleetOf({}), () => true, 1);
    expect(itemAt(answer.choices, 0).windows).toEqual(['W1', 'W2', 'W3']);
    // A twentieth of the cost must be found.
    expect(error).toBeLessThan(0.05 * simulated * 0.125);
    expect(Math.abs(answer.cost - simulated)).toBeLessThan(4 * error);
  });

  it('is what positions cost that are replaced only where they would get too old, because it costs more than a leak', () => {
    const tooOld = (fitted: number, next: number): boolean => next - fitted > 500;
    const { answer, simulated, error } = compare(
      fleetOf({ replacementCost: 3000, latestAge: 500 }),
      tooOld,
      2,
    );
    expect(itemAt(answer.choices, 0).windows).toEqual(['W1', 'W2']);
    // So must a fiftieth of the cost: replacements saved by leaks are dear.
    expect(error).toBeLessThan(0.02 * simulated * 0.125);
    expect(Math.abs(answer.cost - simulated)).toBeLessThan(4 * error);
  });

  it('is what positions cost that are never replaced', () => {
    const { answer, simulated, error } = compare(fleetOf({ replacementCost: 1e5 }), () => false, 3);
    expect(itemAt(answer.choices, 0).windows).toEqual([]);
    expect(error).toBeLessThan(0.05 * simulated * 0.125);
    expect(Math.abs(answer.cost - simulated)).toBeLessThan(4 * error);
  });
});
