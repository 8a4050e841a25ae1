/** Cumulative incidence by failure mode against R survfit with a factor status (incidence.R). */
import { describe, expect, it } from 'vitest';
import { cumulativeIncidence } from '../../../../lib/life/empirical/cumulativeIncidence.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import type { LifeSample } from '../../../../lib/life/sampleTypes.js';
import cases from './incidence.json' with { type: 'json' };

interface Case {
  entry: number[];
  exit: number[];
  mode: number[];
  count: number[];
}

const sampleOf = ({ entry, exit, mode, count }: Case): LifeSample =>
  lifeSample({ lower: exit, upper: exit.map((t, i) => (mode[i] === 0 ? Infinity : t)), entry, count });

/** Where R gives no bound, the incidence has come to 1. */
const near = (got: Float64Array, want: readonly (number | null)[]): void => {
  expect(got.length).toBe(want.length);
  want.forEach((value, i) => {
    if (value !== null) expect(Math.abs((got[i] as number) - value)).toBeLessThan(1e-12);
  });
};

describe.each(['counts', 'late', 'start'] as const)('%s', (name) => {
  const data = cases[name];
  const sample = sampleOf(data);

  it('incidence, standard error and bounds of each mode as R', () => {
    const logs = cumulativeIncidence(sample, data.mode, { level: 0.9 });
    const plain = cumulativeIncidence(sample, data.mode, { level: 0.9, bounds: 'plain' });
    expect(logs.start).toBe(name === 'start' ? 200 : 0);
    expect(logs.modes.map(({ mode }) => mode)).toEqual(data.curves.map((_, k) => k + 1));
    data.curves.forEach((want, k) => {
      const got = logs.modes[k] as (typeof logs.modes)[number];
      near(got.age, want.age);
      near(got.failed, want.failed);
      near(got.atRisk, want.atRisk);
      near(got.incidence, want.incidence);
      near(got.standardError, want.standardError);
      near(got.low, want.low);
      near(got.high, want.high);
      near((plain.modes[k] as typeof got).low, want.plainLow);
      near((plain.modes[k] as typeof got).high, want.plainHigh);
    });
  });
});
