/** Life data that once broke other people's fits. Input, right outcome and public report of each case: lives.json. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { meanUpTo, survival } from '../../lib/life/distribution/index.js';
import { kaplanMeier } from '../../lib/life/empirical/kaplanMeier.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { poissonCdf, poissonQuantile } from '../../lib/numeric/special.js';
import { apart, sampleOf } from '../reference/life/samples.js';
import cases from './lives.json' with { type: 'json' };

const weibull = (sample: LifeSample): WeibullModel & { logLikelihood: number } => {
  const fit = fitLife(sample, { kind: 'weibull' });
  return { ...(fit.model as WeibullModel), logLikelihood: fit.logLikelihood };
};

it('01: two parameters mean two', () => {
  const { input, expect: want } = cases['01'];
  const fit = weibull(sampleOf(input.durations, input.event));
  expect(apart(fit.shape, want.shape)).toBeLessThan(1e-7);
  expect(apart(fit.scale, want.scale)).toBeLessThan(1e-7);
  expect(apart(fit.logLikelihood, want.loglik)).toBeLessThan(1e-7);
});

describe('03: one failure in five', () => {
  const { input, expect: want } = cases['03'];

  it('is estimable where older lives are sound, and warns', () => {
    const fit = fitLife(sampleOf(input.a.durations, input.a.event), { kind: 'weibull' });
    const model = fit.model as WeibullModel;
    expect(apart(model.shape, want.a.shape)).toBeLessThan(1e-6);
    expect(apart(model.scale, want.a.scale)).toBeLessThan(1e-6);
    expect(apart(fit.logLikelihood, want.a.loglik)).toBeLessThan(1e-7);
    expect(fit.warnings.map(({ code }) => code)).toContain('one-failure');
  });

  it('is not where the failure is the oldest, and says why', () => {
    const sample = sampleOf(input.b.durations, input.b.event);
    expect(() => fitLife(sample, { kind: 'weibull' })).toThrow(/sole failure is at the largest age/);
    const withPrior = fitLife(sample, { kind: 'weibull', method: 'posterior' });
    expect(withPrior.converged).toBe(true);
    expect((withPrior.model as WeibullModel).shape).toBeLessThan(10);
  });
});

it('07: an interval from 0, and one of equal ends', () => {
  const { input, expect: want } = cases['07'];
  const fit = weibull(lifeSample({ lower: input.lower, upper: input.upper.map((x) => x ?? Infinity) }));
  expect(apart(fit.shape, want.shape)).toBeLessThan(1e-7);
  expect(apart(fit.scale, want.scale)).toBeLessThan(1e-7);
  expect(apart(fit.logLikelihood, want.loglik)).toBeLessThan(1e-8);
});

it('09: records that begin years after the valves', () => {
  const { input, expect: want } = cases['09'];
  const fit = weibull(sampleOf(input.exit_age, input.event, input.entry_age));
  expect(apart(fit.shape, want.shape)).toBeLessThan(1e-5);
  expect(apart(fit.scale, want.scale)).toBeLessThan(1e-6);
  expect(apart(fit.logLikelihood, want.loglik)).toBeLessThan(1e-8);
  expect(() => lifeSample({ lower: [5], upper: [5], entry: [5] })).toThrow(/row 1: .*entry/);
});

it('11: bounds of survival stay between 0 and 1 far beyond the data, and warn', () => {
  const { input, expect: want } = cases['11'];
  const fit = fitLife(sampleOf(input.durations, input.event), { kind: 'weibull' });
  expect(apart(survival(fit.model, input.at_age), want.survival_at_600)).toBeLessThan(1e-5);
  const bounds = lifeBounds(fit, { of: { survival: input.at_age }, level: 0.95, method: 'normal' });
  // The case prints three digits below and six above.
  expect(bounds.low.toPrecision(3)).toBe('4.11e-38');
  expect(apart(bounds.high, want.loglog_limits_95[1] as number)).toBeLessThan(1e-5);
  expect(bounds.warnings.map(({ code }) => code)).toContain('beyond-data');
  for (const [of, limits] of [
    ['shape', want.shape_log_limits_95],
    ['scale', want.scale_log_limits_95],
  ] as const) {
    const { low, high } = lifeBounds(fit, { of, level: 0.95, method: 'normal' });
    expect(apart(low, limits[0] as number)).toBeLessThan(1e-5);
    expect(apart(high, limits[1] as number)).toBeLessThan(1e-5);
  }
  for (const method of ['likelihood', 'posterior', 'bootstrap'] as const) {
    const { low, estimate, high } = lifeBounds(fit, { of: { survival: input.at_age }, method, draws: 100 });
    expect(0 <= low && low <= estimate && estimate <= high && high <= 1).toBe(true);
  }
});

it('13: hours, years and milliseconds give the same shape', () => {
  const { input, expect: want } = cases['13'];
  for (const unit of input.multipliers) {
    const fit = weibull(
      sampleOf(
        input.durations_days.map((t) => t * unit),
        input.event,
      ),
    );
    expect(apart(fit.shape, want.shape)).toBeLessThan(1e-7);
    expect(apart(fit.scale, want.scale_days * unit)).toBeLessThan(1e-7);
  }
});

it('15: ages that are nearly or quite the same, and one that is no age', () => {
  const { input, expect: want } = cases['15'];
  const near = weibull(sampleOf(input.a.durations, input.a.event));
  expect(apart(near.shape, want.a.shape)).toBeLessThan(1e-6);
  expect(apart(near.scale, want.a.scale)).toBeLessThan(1e-8);
  expect(() => fitLife(sampleOf(input.b.durations, input.b.event), { kind: 'weibull' })).toThrow(/one age/);
  const ages = input.c.durations.map(Number);
  expect(() => lifeSample({ lower: ages, upper: ages })).toThrow(UsageError);
  expect(() => lifeSample({ lower: ages, upper: ages })).toThrow(/row 2: lower must be finite/);
});

it('17: ties between failure, censoring and late entry', () => {
  const { input, expect: want } = cases['17'];
  const curve = kaplanMeier(sampleOf(input.exit, input.event, input.entry));
  expect(Array.from(curve.age)).toEqual(want.times);
  expect(Array.from(curve.atRisk)).toEqual(want.at_risk);
  want.survival.forEach((s, i) => {
    expect(curve.survival[i]).toBeCloseTo(s, 14);
  });
  expect([curve.low[2], curve.high[2]]).toEqual([0, curve.high[1]]);
});

it('21: mean life over a horizon far beyond all lives', () => {
  const { input, expect: want } = cases['21'];
  const at = (model: { shape: number; scale: number }, t: number | string): number =>
    meanUpTo({ kind: 'weibull', shape: model.shape, scale: model.scale }, Number(t));
  input.upper.forEach((t, i) => {
    expect(apart(at(input, t), want.values[i] as number)).toBeLessThan(1e-10);
  });
  input.second.upper.forEach((t, i) => {
    expect(apart(at(input.second, t), want.second[i] as number)).toBeLessThan(1e-9);
  });
});

it('27: a target exactly on a step of the count distribution', () => {
  const { input, expect: want } = cases['27'];
  for (const mean of input.means) {
    for (let k = 0; k <= 30; k++) {
      const chance = poissonCdf(k, mean);
      expect(chance).toBeLessThanOrEqual(1);
      if (chance < 1 - 1e-12) expect(poissonQuantile(chance, mean)).toBe(k);
    }
  }
  input.single.slice(0, 4).forEach(({ mean, target }, i) => {
    expect(poissonQuantile(target, mean)).toBe(want.single[i]);
  });
  expect(() => poissonQuantile(1, 0.8)).toThrow(UsageError);
});
