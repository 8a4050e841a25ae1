/** Lives far older than their model expects: the chance of a leak stays a chance. */
import { describe, expect, it } from 'vitest';
import { expectedEvents } from '../../lib/demand/path.js';
import { at, itemAt } from '../../lib/numeric/columns.js';
import { DAYS_PER_MONTH } from '../../lib/numeric/day.js';
import { plant } from './plant.js';

const SHAPE = 6;
const SCALE = 400;

function leaksOfFirstMonth(age: number): number {
  const ages = new Array<number>(10).fill(age);
  const { fleet, grouped } = plant([{ shape: SHAPE, scale: SCALE, share: 0, openingsPerYear: 0, ages }]);
  const events = expectedEvents(fleet, grouped, { name: 'today', intervalDays: [null] }, 12);
  for (const column of [itemAt(events, 0).leaks, itemAt(events, 0).opened, itemAt(events, 0).planned]) {
    for (const amount of column) expect(amount).toBeGreaterThanOrEqual(0);
  }
  return at(itemAt(events, 0).leaks, 0);
}

describe('lives that should have leaked long ago', () => {
  // Survival at these ages: 4e-3, 1e-5, 1e-14, 1e-57 and too small for a number.
  it.each([530, 600, 714, 900, 1900])('%d days: as many leaks as the model gives, and no more', (age) => {
    const hazard = (t: number): number => (t / SCALE) ** SHAPE;
    const expected = -Math.expm1(hazard(age) - hazard(age + DAYS_PER_MONTH));
    const leaks = leaksOfFirstMonth(age) / 10;
    expect(leaks).toBeGreaterThan(0.998 * expected);
    // A diaphragm fitted within the month hardly leaks within it.
    expect(leaks).toBeLessThan(1.003 * expected);
  });
});
