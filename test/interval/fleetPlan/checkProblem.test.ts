import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { optimiseShutdowns } from '../../../lib/interval/fleetPlan/optimiseShutdowns.js';
import type { FleetPosition, FleetProblem, FleetWindow } from '../../../lib/interval/fleetPlan/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { randomFleet } from './fixtures.js';

const fleet = randomFleet(2, { positions: 4, windows: 3, lines: 2, tightness: 1 });

function withPosition(change: Partial<FleetPosition>): FleetProblem {
  return { ...fleet, positions: [{ ...itemAt(fleet.positions, 0), ...change }, ...fleet.positions.slice(1)] };
}

function withWindow(change: Partial<FleetWindow>): FleetProblem {
  return { ...fleet, windows: [{ ...itemAt(fleet.windows, 0), ...change }, ...fleet.windows.slice(1)] };
}

describe('nonsense is refused by name', () => {
  const kind = itemAt(fleet.positions, 0).now;
  const cases: [string, FleetProblem, RegExp][] = [
    [
      'a cost that is no number',
      withPosition({ replacementCost: Number.NaN }),
      /replacementCost of position "V1".*NaN/,
    ],
    [
      'a leak that is no number',
      withPosition({ now: { ...kind, leakCost: Number.NaN } }),
      /leakCost of position "V1"/,
    ],
    ['hours below 0', withPosition({ fitterHours: -1 }), /fitterHours of position "V1".*-1/],
    ['no age', withPosition({ ages: [] }), /ages of position "V1"/],
    ['a limit of 0 days', withPosition({ latestAge: 0 }), /latestAge of position "V1"/],
    ['a line that is not there', withPosition({ line: 'X' }), /line of position "V1".*"X"/],
    ['a window that is past', withWindow({ day: 0 }), /"W1" must be after today/],
    ['crew hours below 0', withWindow({ crewHours: -5 }), /crewHours of window "W1"/],
    [
      'two windows of a line on one day',
      withWindow({ day: itemAt(fleet.windows, 1).day }),
      /two windows on one day/,
    ],
    ['two windows of one name', withWindow({ name: 'W2' }), /different names.*"W2"/],
    ['an unknown position', { ...fleet, must: [{ position: 'X', window: 'W1' }] }, /name a position/],
    ['an unknown window', { ...fleet, frozen: [{ line: 'L1', window: 'X' }] }, /window of line "L1".*"X"/],
    [
      'pieces below 0',
      { ...fleet, stock: [{ item: 'P1', ready: [{ window: 'W1', pieces: -1 }] }] },
      /pieces of item "P1"/,
    ],
  ];
  for (const [name, problem, message] of cases) {
    it(name, () => {
      expect(() => optimiseShutdowns(problem)).toThrow(UsageError);
      expect(() => optimiseShutdowns(problem)).toThrow(message);
    });
  }

  it('options too', () => {
    expect(() => optimiseShutdowns(fleet, { rounds: 0 })).toThrow(/rounds/);
    expect(() => optimiseShutdowns(fleet, { gap: Number.NaN })).toThrow(/gap/);
  });
});

describe('what cannot be had is said', () => {
  it('no windows: nothing to plan', () => {
    const lines = fleet.lines.map((line) => ({ ...line, windows: [], later: [] }));
    const answer = optimiseShutdowns({ ...fleet, windows: [], lines });
    expect(answer).toMatchObject({ status: 'nothing to plan', cost: 0, gap: 0, limits: [], unmet: [] });
    expect(optimiseShutdowns({ ...fleet, positions: [] }).status).toBe('nothing to plan');
  });

  it('no crew hours at a window, or fewer than a task takes: nothing is done there, and a must names why', () => {
    for (const crewHours of [0, 0.1]) {
      const must = [{ position: 'V1', window: 'W1' }];
      const answer = optimiseShutdowns({ ...withWindow({ crewHours }), must });
      expect(answer.choices.every(({ windows }) => !windows.includes('W1'))).toBe(true);
      expect(answer.unmet).toHaveLength(1);
      expect(answer.unmet[0]).toMatchObject({ position: 'V1', window: 'W1', demand: 'must' });
      expect(answer.unmet[0]?.because).toMatch(/crew hours of W1 are needed and 0(\.1)? of 0(\.1)? left/);
    }
  });

  it('a must in a frozen window, and after the end of service', () => {
    const must = [{ position: 'V1', window: 'W2' }];
    const frozen = optimiseShutdowns({ ...fleet, must, frozen: [{ line: 'L1', window: 'W2' }] });
    expect(frozen.unmet[0]?.because).toBe('nothing may be touched there');
    const gone = optimiseShutdowns({ ...withPosition({ until: 100 }), must });
    expect(gone.unmet[0]?.because).toBe('it is out of service by then');
  });

  it('a limit of age that no window can keep', () => {
    const answer = optimiseShutdowns(withPosition({ latestAge: 120, ages: [{ age: 100, chance: 1 }] }));
    expect(answer.choices[0]?.windows).toEqual(['W1', 'W2', 'W3']);
    expect(answer.unmet.map(({ window, demand }) => [window, demand])).toEqual(
      ['today', 'W1', 'W2', 'W3'].map((window) => [window, 'latest age']),
    );
    expect(answer.unmet[1]?.because).toBe('no window comes before it gets older than that');
  });

  it('no piece of an item: nothing is replaced with it', () => {
    const ready = fleet.windows.map(({ name }) => ({ window: name, pieces: 0 }));
    const must = [{ position: 'V1', window: 'W3' }];
    const item = itemAt(fleet.positions, 0).item as string;
    const answer = optimiseShutdowns({ ...fleet, must, stock: [{ item, ready }] });
    expect(answer.choices[0]?.windows).toEqual([]);
    expect(answer.unmet[0]?.because).toBe('no piece is left by W3');
  });
});
