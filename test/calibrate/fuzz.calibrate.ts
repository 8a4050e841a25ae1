/** Twenty thousand folders whose files came to harm: none breaks the reading, and of those that are read some are planned as well. */
import { expect, it } from 'vitest';
import { planFleet } from '../../lib/plan.js';
import { runFuzz } from '../fleet/fuzz/runFuzz.js';

const RUNS = 20_000;
/** Every so many runs the fleet is planned too, where it was read. */
const PLANNED = 500;

it('holds for every run', () => {
  let planned = 0;
  const { broken, read, refused, slowest } = runFuzz(1, RUNS, (fleet, run) => {
    if (run % PLANNED !== 0) return;
    planned += 1;
    const plan = planFleet(fleet);
    if (/:(NaN|Infinity|-Infinity)/.test(JSON.stringify(plan, shown)))
      throw new Error('a plan with a number that is none');
  });
  expect(broken).toEqual([]);
  expect(read + refused).toBe(RUNS);
  expect(planned).toBeGreaterThan(0);
  expect(slowest).toBeLessThan(120);
});

/** JSON would write null for a number that is none. */
function shown(_key: string, value: unknown): unknown {
  return typeof value === 'number' && Number.isNaN(value) ? ':NaN' : value;
}
