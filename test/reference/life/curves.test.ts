/** Curves without a model against R survival (published.json B8; curves.R for delayed entry and intervals). */
import { expect, it } from 'vitest';
import { kaplanMeier } from '../../../lib/life/empirical/kaplanMeier.js';
import { nelsonAalen } from '../../../lib/life/empirical/nelsonAalen.js';
import { turnbull } from '../../../lib/life/empirical/turnbull.js';
import { lifeSample } from '../../../lib/life/sample.js';
import curves from './curves.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };
import { sampleOf } from './samples.js';

const near = (got: ArrayLike<number>, want: readonly (number | null)[], tolerance: number): void => {
  expect(got.length).toBe(want.length);
  want.forEach((value, i) => {
    if (value !== null) expect(Math.abs((got[i] as number) - value)).toBeLessThan(tolerance);
  });
};

it('B8: product limit, three kinds of bounds, cumulative hazard', () => {
  const { data, expected } = cases.B8;
  const sample = sampleOf(data.hours, data.status);
  const curve = kaplanMeier(sample, { level: 0.95 });
  expect(Array.from(curve.age)).toEqual(expected.time);
  expect(Array.from(curve.atRisk)).toEqual(expected.atRisk);
  expect(Array.from(curve.failed)).toEqual(expected.events);
  near(curve.survival, expected.survival, 1e-14);
  near(curve.standardError, expected.greenwoodSe, 1e-14);
  for (const bounds of ['loglog', 'log', 'plain'] as const) {
    const limits = kaplanMeier(sample, { level: 0.95, bounds });
    near(limits.low, expected[bounds].lower, 1e-12);
    near(limits.high, expected[bounds].upper, 1e-12);
  }
  const hazard = nelsonAalen(sample);
  near(hazard.cumulativeHazard, expected.nelsonAalen, 1e-14);
  near(hazard.standardError, expected.nelsonAalenSe_poisson, 1e-14);
});

it('delayed entry with ties, as R survfit with (entry, exit]', () => {
  const { entry, exit, failed, age, atRisk, survival, standardError, low, high } = curves.late;
  const curve = kaplanMeier(sampleOf(exit, failed, entry));
  expect(curve.start).toBe(0);
  // R leaves out no age here, because more than five are watched from new.
  expect(Array.from(curve.age).filter((_, i) => (curve.failed[i] as number) > 0)).toEqual(
    [...new Set([...age, 400])].sort((a, b) => a - b),
  );
  const keep = Array.from(curve.age.keys()).filter((i) => age.includes(curve.age[i] as number));
  const pick = (column: Float64Array): number[] => keep.map((i) => column[i] as number);
  near(pick(curve.atRisk), atRisk, 1e-12);
  near(pick(curve.survival), survival, 1e-12);
  near(pick(curve.standardError), standardError, 1e-12);
  near(pick(curve.low), low, 1e-12);
  near(pick(curve.high), high, 1e-12);
});

it('interval-censored ages, as R survfit', () => {
  const { lower, upper, survival } = curves.interval;
  const curve = turnbull(lifeSample({ lower, upper: upper.map((x) => x ?? Infinity) }), { draws: 0 });
  const falls = Array.from(curve.mass.keys()).filter((j) => (curve.mass[j] as number) > 1e-6);
  // R repeats the value at each inspection; it stops its own search at about 1e-5.
  const steps = survival.filter((s, i) => i === 0 || s < (survival[i - 1] as number));
  near(
    falls.map((j) => curve.survival[j] as number),
    steps,
    1e-4,
  );
  expect(falls.map((j) => [curve.from[j], curve.age[j]])).toEqual([
    [0, 90],
    [90, 180],
    [200, 270],
    [300, 365],
    [365, 400],
  ]);
});
