import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { positionLives } from '../../lib/fleet/positionLives.js';
import { REASONS } from '../../lib/fleet/types.js';
import { plant, TODAY } from '../demand/plant.js';
import { withRemovals } from '../interval/fixtures.js';

describe('lives of single positions', () => {
  const { fleet } = plant([{ shape: 3, scale: 900, ages: [100, 50] }]);

  it('are in order of the day, each with how it ended', () => {
    const reasons = REASONS.map((reason, i) => ({ position: 0, removed: TODAY - 1000 + 50 * i, reason }));
    const [first] = positionLives(withRemovals(fleet, reasons), [0]);
    const ends = first?.lives.map(({ end }) => end) ?? [];
    expect(ends.filter((end) => end === 'leak')).toHaveLength(2);
    expect(ends.filter((end) => end === 'scheduled')).toHaveLength(1);
    expect(ends.filter((end) => end === 'opened')).toHaveLength(1);
    expect(ends.filter((end) => end === 'other')).toHaveLength(3);
    const days = first?.lives.map(({ from }) => from) ?? [];
    expect([...days].sort((a, b) => a - b)).toEqual(days);
  });

  it('go on to the day of the data where the diaphragm is in place, and count those without a day of fitting', () => {
    const rows = [0, 0, 0].map((position, i) => ({
      position,
      removed: TODAY - 10 * i,
      reason: 'leak' as const,
    }));
    const made = withRemovals(fleet, rows);
    const { fitted, removed } = made.lives;
    const lives = {
      ...made.lives,
      fitted: fitted.map((day, i) => (i === 1 ? Number.NaN : day)),
      removed: removed.map((day, i) => (i === 0 ? Number.NaN : day)),
    };
    const [first] = positionLives({ ...made, lives }, [0]);
    expect(first?.undated).toBe(1);
    expect(first?.lives).toEqual([
      { from: TODAY - 320, until: TODAY - 20, end: 'leak' },
      { from: TODAY - 300, until: fleet.site.dataUntil, end: 'in place' },
    ]);
  });

  it('come in the order asked for, and only those asked for', () => {
    expect(positionLives(fleet, [1, 0]).map(({ position }) => position)).toEqual(['V-2', 'V-1']);
    expect(positionLives(fleet, [])).toEqual([]);
  });

  it('refuses an index that is no position', () => {
    expect(() => positionLives(fleet, [7])).toThrow(UsageError);
  });
});
