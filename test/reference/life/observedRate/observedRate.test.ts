/** Failures per time at risk by age against R: survival's pyears and the exact Poisson bounds of poisson.test. */
import { expect, it } from 'vitest';
import { observedRate } from '../../../../lib/life/empirical/observedRate.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import values from './observedRate.json' with { type: 'json' };

// Relative. Both take the bounds from quantiles of the gamma law, good to near the last digit of a number.
const TOLERANCE = 1e-12;

it('counts, times at risk and bounds by age, entry delayed, a span without failures among them', () => {
  const sample = lifeSample({
    lower: values.exit,
    upper: values.exit.map((age, i) => (values.failed[i] === 1 ? age : Infinity)),
    entry: values.entry,
  });
  const rows = observedRate(sample, values.edges);
  expect(rows.map(({ failures }) => failures)).toEqual(values.failures);
  expect(values.failures).toContain(0);
  rows.forEach((row, i) => {
    expect(row.atRisk).toBeCloseTo(values.atRisk[i] as number, 9);
    const [low, high] = [values.low[i] as number, values.high[i] as number];
    expect(Math.abs(row.low - low)).toBeLessThanOrEqual(TOLERANCE * low);
    expect(Math.abs(row.high - high)).toBeLessThan(TOLERANCE * high);
  });
});
