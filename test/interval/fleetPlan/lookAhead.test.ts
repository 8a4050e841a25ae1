import { describe, expect, it } from 'vitest';
import { optimiseShutdowns } from '../../../lib/interval/fleetPlan/optimiseShutdowns.js';
import { randomFleet } from './fixtures.js';

describe('the look-ahead', () => {
  it('is long enough: twice as much changes hardly a window, and the cost by less than a thousandth', () => {
    const fleet = { positions: 200, windows: 5, lines: 8, tightness: 10, made: 1, stopCost: 500 };
    const once = optimiseShutdowns(randomFleet(5, { ...fleet, yearsLater: 8 }));
    const twice = optimiseShutdowns(randomFleet(5, { ...fleet, yearsLater: 16 }));
    const moved = once.choices.filter(
      ({ unlimited }, p) => unlimited.join() !== twice.choices[p]?.unlimited.join(),
    );
    // One in a hundred may stand between two windows that cost the same.
    expect(moved.length).toBeLessThanOrEqual(2);
    expect(Math.abs(once.cost / twice.cost - 1)).toBeLessThan(0.001);
    // And it matters: without any, less is replaced towards the end.
    const none = optimiseShutdowns(randomFleet(5, { ...fleet, yearsLater: 0 }));
    const lastOf = ({ choices }: typeof once) =>
      choices.filter(({ windows }) => windows.includes('W5')).length;
    expect(lastOf(none)).not.toBe(lastOf(once));
  });
});
