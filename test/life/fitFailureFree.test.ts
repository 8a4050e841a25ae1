/** A Weibull with a failure-free time: where it exists, where it does not, and what is said; bounds of the wider families. */
import { describe, expect, it } from 'vitest';
import { quantile, survival } from '../../lib/life/distribution/functions.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife, type LifeFit } from '../../lib/life/estimate/fit.js';
import type { FitOptions } from '../../lib/life/estimate/fitTypes.js';
import { logLikelihood } from '../../lib/life/estimate/weibull/weibullLikelihood.js';
import type { FittedModel, WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { minimiseSimplex } from '../../lib/numeric/minimise.js';
import { chiSquareQuantile } from '../../lib/numeric/special.js';
import cases from '../reference/life/published.json' with { type: 'json' };
import { apart } from '../reference/life/samples.js';

const exact = (ages: ArrayLike<number>): LifeSample => lifeSample({ lower: ages, upper: ages });
/** Even quantiles of a model: a sample without chance. */
const ideal = (model: FittedModel, lives: number): number[] =>
  Array.from({ length: lives }, (_, i) => quantile(model, (i + 0.5) / lives));
const delayed = (shape: number): WeibullModel => ({ kind: 'weibull', shape, scale: 300, failureFree: 200 });
const estimate: FitOptions = { kind: 'weibull', failureFree: 'estimate' };
const bearings = exact(cases.H4.data.millionRevs);
const codes = (fit: LifeFit): string[] => fit.warnings.map(({ code }) => code);

describe('an estimated failure-free time', () => {
  it('is found where lives are plainly delayed', () => {
    const fit = fitLife(exact(ideal(delayed(2.5), 200)), estimate);
    const model = fit.model as WeibullModel;
    expect(apart(model.failureFree ?? 0, 200)).toBeLessThan(0.05);
    expect(apart(model.shape, 2.5)).toBeLessThan(0.05);
    expect(codes(fit)).toEqual([]);
    expect(fit.parameters.map(({ name }) => name)).toEqual(['logShape', 'logScale', 'failureFree']);
  });

  it('is a local maximum, though the likelihood is higher beside the first failure', () => {
    const fit = fitLife(bearings, estimate);
    const model = fit.model as WeibullModel;
    for (const by of [-0.3, 0.3]) {
      const moved = { ...model, failureFree: (model.failureFree ?? 0) + by };
      expect(logLikelihood(bearings, moved)).toBeLessThan(fit.logLikelihood);
    }
    // Beside the first failure, at 17.88, with a shape below 1.
    const spike: WeibullModel = { kind: 'weibull', shape: 0.5, scale: 30, failureFree: 17.88 * (1 - 1e-15) };
    const lone = { ...spike, shape: 0.05 };
    expect(
      Math.max(logLikelihood(exact([17.88]), spike), logLikelihood(exact([17.88]), lone)),
    ).toBeGreaterThan(10);
    expect(codes(fit)).toEqual(['failure-free-not-seen', 'failure-free-irregular']);
    const at0 = fitLife(bearings, { kind: 'weibull' });
    const text = fit.warnings.find(({ code }) => code === 'failure-free-not-seen')?.text ?? '';
    expect(text).toContain(`lower by ${(fit.logLikelihood - at0.logLikelihood).toPrecision(2)} only`);
  });

  it('is refused where the likelihood only rises towards the first failure', () => {
    for (const sample of [
      exact([100, 101, 103, 110, 140, 250, 700]),
      lifeSample({
        lower: [99.5, 100.5, 103.5, 119.5, 199.5, 699.5],
        upper: [100.5, 101.5, 104.5, 120.5, 200.5, 700.5],
      }),
    ]) {
      expect(() => fitLife(sample, estimate)).toThrow(/cannot be estimated.*earliest failure, by 100/);
    }
  });

  it('is 0 where the likelihood falls from there, and says so', () => {
    // Negative skew: the best Weibull would begin below age 0.
    const fit = fitLife(
      exact(ideal({ kind: 'weibull', shape: 12, scale: 900 }, 60).map((t) => t - 150)),
      estimate,
    );
    const plain = fitLife(fit.sample, { kind: 'weibull' });
    expect((fit.model as WeibullModel).failureFree).toBe(0);
    expect(apart(fit.logLikelihood, plain.logLikelihood)).toBeLessThan(1e-12);
    expect(codes(fit)).toEqual(['failure-free-zero']);
    expect(fit.parameters.map(({ name }) => name)).toEqual(['logShape', 'logScale']);
    expect(lifeBounds(fit, { of: { quantile: 0.1 } }).low).toBeCloseTo(
      lifeBounds(plain, { of: { quantile: 0.1 } }).low,
      6,
    );
  });

  it('goes with a fixed shape', () => {
    const fit = fitLife(exact(ideal(delayed(2), 100)), { ...estimate, shape: 2 });
    expect(fit.parameters.map(({ name }) => name)).toEqual(['logScale', 'failureFree']);
    expect(apart((fit.model as WeibullModel).failureFree ?? 0, 200)).toBeLessThan(0.05);
    expect(fit.covariance).toHaveLength(4);
  });
});

describe('a failure-free time that is given', () => {
  it('is the plain fit of what lies beyond it', () => {
    const ages = [260, 300, 345, 400, 480, 600];
    const fit = fitLife(exact(ages), { kind: 'weibull', failureFree: 200 });
    const plain = fitLife(exact(ages.map((t) => t - 200)), { kind: 'weibull' });
    expect(apart(fit.logLikelihood, plain.logLikelihood)).toBeLessThan(1e-12);
    for (const [k, value] of fit.covariance.entries()) {
      expect(apart(value, plain.covariance[k] as number)).toBeLessThan(1e-9);
    }
    for (const method of ['normal', 'likelihood', 'posterior'] as const) {
      const [far, near] = [
        lifeBounds(fit, { of: { survival: 500 }, method }),
        lifeBounds(plain, { of: { survival: 300 }, method }),
      ];
      expect(apart(far.low, near.low)).toBeLessThan(1e-5);
      expect(apart(far.high, near.high)).toBeLessThan(1e-5);
    }
    const [far, near] = [
      lifeBounds(fit, { of: { quantile: 0.1 }, method: 'likelihood' }),
      lifeBounds(plain, { of: { quantile: 0.1 }, method: 'likelihood' }),
    ];
    expect(apart(far.low - 200, near.low)).toBeLessThan(1e-5);
  });

  it.each([
    [{ failureFree: 300 }, /below the earliest failure \(by 260\)/],
    [{ failureFree: -1 }, /at or above 0/],
    [{ failureFree: Number.NaN }, /at or above 0/],
    [{ failureFree: 5, fault: 'estimate' }, /leak early/],
    [{ failureFree: 'estimate', prior: { median: 2, sdLog: 0.5 } }, /as a number/],
    [{ failureFree: 'estimate', shape: 1 }, /at or below 1/],
  ] as const)('%o is refused', (options, why) => {
    expect(() => fitLife(exact([260, 300, 345]), { kind: 'weibull', ...options })).toThrow(why);
  });

  it('belongs to a Weibull, and a prior to laws with such a shape', () => {
    expect(() => fitLife(bearings, { kind: 'gamma', failureFree: 3 })).toThrow(/belongs to a Weibull/);
    expect(() => fitLife(bearings, { kind: 'gamma', method: 'posterior' })).toThrow(/prior of the shape/);
    const none = lifeSample({ lower: [400], upper: [Infinity] });
    expect(() => fitLife(none, { kind: 'weibull', shape: 2, failureFree: 9 })).toThrow(/without failures/);
  });
});

describe('bounds of the wider families', () => {
  const fits = [
    ...(['gamma', 'generalisedGamma', 'smallestValue'] as const).map((kind) => fitLife(bearings, { kind })),
    fitLife(exact(ideal(delayed(2.2), 40)), estimate),
  ];

  /** Best log likelihood with survival at t held near a value by a stiff penalty: another road to the profile. */
  function profile(fit: LifeFit, t: number, held: number): number {
    const modelOf = (x: readonly number[]): FittedModel => {
      const [a = 0, b = 0, c = 0] = x;
      if (fit.kind === 'gamma') return { kind: 'gamma', shape: Math.exp(a), scale: Math.exp(b) };
      if (fit.kind === 'smallestValue')
        return { kind: 'smallestValue', location: Math.exp(a), scale: Math.exp(b) };
      if (fit.kind === 'weibull')
        return { kind: 'weibull', shape: Math.exp(a), scale: Math.exp(b), failureFree: Math.abs(c) * 100 };
      return { kind: 'generalisedGamma', mu: a, sigma: Math.exp(b), q: c };
    };
    const value = fit.parameters.map(({ estimate: at }) => at);
    const start = fit.kind === 'smallestValue' ? [Math.log(value[0] as number), value[1] as number] : value;
    if (fit.kind === 'weibull') start[2] = (start[2] as number) / 100;
    const cost = (x: readonly number[]): number => {
      const model = modelOf(x);
      const off = (survival(model, t) - held) / 1e-6;
      const found = -logLikelihood(fit.sample, model) + 0.5 * off * off;
      return Number.isFinite(found) ? found : Infinity;
    };
    let best = minimiseSimplex(cost, start, { step: 0.05, maxIterations: 4000 });
    for (let again = 0; again < 4; again++)
      best = minimiseSimplex(cost, best.at, { step: 0.02, maxIterations: 4000 });
    return -best.value;
  }

  it.each(fits.map((fit) => ({ kind: fit.kind, fit })))(
    '$kind: the profile likelihood falls to the level at both ends',
    ({ fit }) => {
      const t = fit.kind === 'weibull' ? 380 : 50;
      const { low, high, method } = lifeBounds(fit, { of: { survival: t } });
      expect(method).toBe('likelihood');
      const drop = 0.5 * chiSquareQuantile(0.9, 1);
      // The simplex ends within a few thousandths of the top along the stiff valley.
      for (const end of [low, high])
        expect(Math.abs(fit.logLikelihood - profile(fit, t, end) - drop)).toBeLessThan(0.01);
    },
  );

  it.each(fits.map((fit) => ({ kind: fit.kind, fit })))(
    '$kind: normal, likelihood and bootstrap are of one size',
    ({ fit }) => {
      const width = (method: 'normal' | 'likelihood' | 'bootstrap'): number => {
        const { low, high, estimate: middle } = lifeBounds(fit, { of: { quantile: 0.4 }, method, draws: 60 });
        expect(low).toBeLessThan(middle);
        expect(high).toBeGreaterThan(middle);
        return Math.log(high / low);
      };
      expect(apart(width('normal'), width('likelihood'))).toBeLessThan(0.25);
      expect(apart(width('bootstrap'), width('likelihood'))).toBeLessThan(0.5);
    },
  );

  it('what a law has not is refused', () => {
    const [gamma, general, smallest, after] = fits as [LifeFit, LifeFit, LifeFit, LifeFit];
    expect(lifeBounds(gamma, { of: 'shape' }).estimate).toBe((gamma.model as { shape: number }).shape);
    expect(() => lifeBounds(general, { of: 'shape' })).toThrow(/no shape/);
    expect(() => lifeBounds(smallest, { of: 'shape' })).toThrow(/no shape/);
    for (const fit of fits)
      expect(() => lifeBounds(fit, { of: 'mean', method: 'posterior' })).toThrow(/prior of a shape/);
    expect(() => lifeBounds(smallest, { of: { quantile: 0.01 } })).toThrow(/lies on an edge/);
    expect(() => lifeBounds(after, { of: { survival: 100 } })).toThrow(/lies on an edge/);
    const few = fitLife(exact([10, 14, 20]), { kind: 'gamma' });
    expect(lifeBounds(few, { of: { survival: 12 } }).warnings.map(({ code }) => code)).toContain(
      'likelihood-few-failures',
    );
  });

  it('positions with several lives widen them', () => {
    const ages = [200, 220, 240, 600, 610, 640, 400, 420, 430, 800, 810, 790, 300, 310, 305, 520, 540, 500];
    const sample = lifeSample({ lower: ages, upper: ages, cluster: ages.map((_, i) => Math.floor(i / 3)) });
    for (const kind of ['gamma', 'smallestValue'] as const) {
      const fit = fitLife(sample, { kind });
      const width = (robust: boolean): number => {
        const { low, high } = lifeBounds(fit, { of: { quantile: 0.5 }, method: 'normal', robust });
        return Math.log(high / low);
      };
      expect(width(true)).toBeGreaterThan(1.3 * width(false));
    }
  });
});
