/** What one more window would save. */
import { describe, expect, it } from 'vitest';
import { optimiseShutdowns } from '../../lib/interval/fleetPlan/optimiseShutdowns.js';
import { MOST_POSITIONS, oneMoreWindow } from '../../lib/interval/oneMoreWindow.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { DAYS_PER_YEAR, textFromDay } from '../../lib/numeric/day.js';
import { cheapest } from './fleetPlan/bruteForce.js';
import { randomFleet } from './fleetPlan/fixtures.js';

describe('one more window', () => {
  it('saves what every plan of a small fleet says, with and without it', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const fleet = randomFleet(seed, { positions: 4, windows: 3, lines: 2, tightness: 9 });
      const [extra] = oneMoreWindow(fleet) ?? [];
      const days = fleet.windows.map(({ day }) => day);
      const gaps = days.slice(1).map((day, i) => day - itemAt(days, i));
      const at = gaps.indexOf(Math.max(...gaps));
      const middle = itemAt(days, at) + Math.round(itemAt(gaps, at) / 2);
      expect(extra?.day).toBe(textFromDay(middle));
      const open = fleet.windows.map((window) => ({ ...window, crewHours: null }));
      const base = { ...fleet, windows: open };
      const more = {
        ...base,
        windows: [...open, { name: 'X', day: middle, crewHours: null }],
        lines: fleet.lines.map((line) => ({
          ...line,
          windows: [...line.windows, { window: 'X', stopCost: 0 }],
        })),
      };
      const unmet =
        10 * Math.max(...fleet.positions.flatMap(({ now, next }) => [now.leakCost, next.leakCost]));
      const saved = cheapest(base, unmet).cost - cheapest(more, unmet).cost;
      expect(extra?.savingPerYear).toBeCloseTo(
        Math.max(0, saved) / (itemAt(days, days.length - 1) / DAYS_PER_YEAR),
        6,
      );
      expect(extra?.positions).toBe(4);
    }
  });

  it('is not looked for in short gaps, in full calendars, and in fleets that are too large', () => {
    const fleet = randomFleet(3, { positions: 4, windows: 3, lines: 2, tightness: 9 });
    const close = { ...fleet, windows: fleet.windows.map((window, i) => ({ ...window, day: 40 + 59 * i })) };
    expect(oneMoreWindow(close)).toEqual([]);
    expect(oneMoreWindow(randomFleet(3, { positions: 2, windows: 104, lines: 1, tightness: 9 }))).toEqual([]);
    const [one] = fleet.positions;
    const many = Array.from({ length: MOST_POSITIONS + 1 }, (_, i) => ({ ...one, position: `P${i}` }));
    expect(oneMoreWindow({ ...fleet, positions: many as typeof fleet.positions })).toBeNull();
    expect(optimiseShutdowns(fleet).choices).toHaveLength(4);
  });
});
