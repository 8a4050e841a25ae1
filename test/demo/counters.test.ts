/** Counters of the demo plant: every one that began again is found, as set to zero, and nothing else is told of any. */
import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { demoPlant } from '../../data-demo/plant/demo.js';
import { type ExposedLives, exposeLives } from '../../lib/exposure/exposeLives.js';
import { readFleet } from '../../lib/fleet/read.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { ROOT } from '../structure/source.js';

const { truth } = demoPlant();
let fleet: Fleet;
let exposed: ExposedLives;
beforeAll(async () => {
  fleet = await readFleet(join(ROOT, 'data-demo'));
  exposed = exposeLives(fleet);
});

it('finds each counter that began again', () => {
  const planted = truth.faults.filter(({ code }) => code === 'counter-went-down').length;
  const strokes = exposed.findings.events.filter(({ counter }) => counter === 'strokes');
  expect(planted).toBeGreaterThan(3);
  expect(strokes.map(({ position }) => position)).toHaveLength(planted);
  const codes = new Set(exposed.findings.events.map(({ code }) => code));
  expect([...codes].sort()).toEqual(['reset', 'reset-at-fitting']);
});

it('uses every reading that was read, and knows most lives by readings', () => {
  const { rowsIn, rowsUsed, counters } = exposed.findings;
  expect(rowsIn).toBe(fleet.readings.length);
  expect(rowsUsed).toBe(rowsIn);
  const byReadings = counters[0]?.marks.slice(0, 2).reduce((sum, { share }) => sum + share, 0) ?? 0;
  // One position in eight has no counter; running lives end after the last reading.
  expect(byReadings).toBeGreaterThan(0.6);
});
