/** A hundred thousand damaged Parquet and Arrow files: each is a table or refused by its name, and none takes long or much memory. */
import { expect, it } from 'vitest';
import { outcomeOf } from '../fleet/columnar/damagedOutcome.js';

const RUNS = 100_000;

it('holds for every file', () => {
  const { tables, refused, faults, slowest, memory } = outcomeOf(0, RUNS, 1800);
  expect(faults).toEqual([]);
  expect(tables + refused).toBe(RUNS);
  expect(slowest).toBeLessThan(2000);
  expect(memory).toBeLessThan(1500);
});
