import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { observedRate } from '../../../lib/life/empirical/observedRate.js';
import { lifeSample } from '../../../lib/life/sample.js';

describe('failures per time at risk', () => {
  it('by hand: two lives, one entered late', () => {
    const sample = lifeSample({ lower: [30, 50], upper: [30, Infinity], entry: [0, 20] });
    const rows = observedRate(sample, [0, 25, 100, 200]);
    // 0 to 25: 25 + 5 watched, none failed; 25 to 100: 5 + 25 watched, one failed; beyond 50 nobody is watched.
    expect(rows.map(({ failures, atRisk }) => [failures, atRisk])).toEqual([
      [0, 30],
      [1, 30],
    ]);
    expect(rows[0]).toMatchObject({ rate: 0, low: 0 });
    // No failure: the upper bound is -ln(0.05) over the time at risk.
    expect(rows[0]?.high).toBeCloseTo(-Math.log(0.05) / 30, 12);
    expect(rows[1]?.rate).toBeCloseTo(1 / 30, 14);
  });

  it('weights count like rows, and the level moves the bounds', () => {
    const many = lifeSample({ lower: [10, 10, 40], upper: [10, 10, Infinity] });
    const few = lifeSample({ lower: [10, 40], upper: [10, Infinity], count: [2, 1] });
    expect(observedRate(few, [0, 50])).toEqual(observedRate(many, [0, 50]));
    const [wide] = observedRate(few, [0, 50], { level: 0.99 });
    const [narrow] = observedRate(few, [0, 50], { level: 0.5 });
    expect((wide?.high ?? 0) - (wide?.low ?? 0)).toBeGreaterThan((narrow?.high ?? 0) - (narrow?.low ?? 0));
  });

  it('refuses interval rows and edges that do not rise', () => {
    const interval = lifeSample({ lower: [10], upper: [20] });
    expect(() => observedRate(interval, [0, 50])).toThrow(UsageError);
    const exact = lifeSample({ lower: [10], upper: [10] });
    for (const edges of [[0], [5, 5], [-1, 5], [0, Number.NaN]])
      expect(() => observedRate(exact, edges)).toThrow('edges must rise');
    expect(() => observedRate(exact, [0, 5], { level: 1 })).toThrow('level must be between 0 and 1');
  });
});
