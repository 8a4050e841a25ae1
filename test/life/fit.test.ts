/** What fits and bounds say of themselves, where they refuse, and the parts that published cases do not reach. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { drawLives, hazard, meanLife, quantile, survival } from '../../lib/life/distribution/index.js';
import { kaplanMeier } from '../../lib/life/empirical/kaplanMeier.js';
import { turnbull } from '../../lib/life/empirical/turnbull.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { whyShapeNotEstimable } from '../../lib/life/estimate/estimable.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';
import { apart, sampleOf } from '../reference/life/samples.js';

/** Whole-day lives of a model, replaced on schedule at an age. */
function plantLives(model: WeibullModel, lives: number, replacedAt: number, seed: number): LifeSample {
  const days = Array.from(drawLives(model, lives, randomStream(seed, 'plant lives')), Math.floor);
  return lifeSample({
    lower: days.map((d) => (d < replacedAt ? Math.max(d - 0.5, 0) : replacedAt)),
    upper: days.map((d) => (d < replacedAt ? (d === 0 ? 1 : d + 0.5) : Infinity)),
  });
}

describe('estimable or not', () => {
  it.each([
    ['no failures', [5, 6], [0, 0], /no failures/],
    ['one age', [5, 5, 3], [1, 1, 0], /one age/],
    ['sole failure last', [5, 7], [0, 1], /largest age/],
  ])('%s', (_, age, failed, why) => {
    const sample = sampleOf(age, failed);
    expect(whyShapeNotEstimable(sample)).toMatch(why);
    for (const kind of ['weibull', 'lognormal', 'loglogistic'] as const) {
      expect(() => fitLife(sample, { kind })).toThrow(UsageError);
      expect(() => fitLife(sample, { kind })).toThrow(why);
    }
  });

  it('one age in every interval is not; a life older than it makes it so', () => {
    const intervals = { lower: [90, 100, 60], upper: [120, 130, Infinity] };
    expect(whyShapeNotEstimable(lifeSample(intervals))).not.toBeNull();
    const older = lifeSample({ lower: [...intervals.lower, 125], upper: [...intervals.upper, Infinity] });
    expect(whyShapeNotEstimable(older)).toBeNull();
    expect(fitLife(older, { kind: 'weibull' }).converged).toBe(true);
  });

  it('left-censored failures only: the likelihood rises as the shape falls', () => {
    const sample = lifeSample({ lower: [0, 0, 20, 30], upper: [5, 20, Infinity, Infinity] });
    expect(() => fitLife(sample, { kind: 'weibull' })).toThrow(/without limit as the shape falls/);
  });
});

it('the options of a fit are checked', () => {
  const sample = sampleOf([1, 2, 3], [1, 1, 1]);
  expect(() => fitLife(sample, { kind: 'normal' as 'weibull' })).toThrow(/kind must be/);
  expect(() => fitLife(sample, { kind: 'lognormal', shape: 2 })).toThrow(/only the shape of a Weibull/);
  expect(() => fitLife(sample, { kind: 'weibull', shape: -1 })).toThrow(/above 0/);
  expect(() => fitLife(sample, { kind: 'weibull', fault: { share: 1.5, shape: 1, scale: 1 } })).toThrow(
    /fault needs/,
  );
  const fit = fitLife(sample, { kind: 'weibull' });
  expect(() => lifeBounds(fit, { of: { quantile: 0 } })).toThrow(UsageError);
  expect(() => lifeBounds(fit, { of: 'shape', level: 90 })).toThrow(/level/);
  expect(() => lifeBounds(fitLife(sample, { kind: 'weibull', shape: 2 }), { of: 'shape' })).toThrow(/fixed/);
  expect(fitLife(sample, { kind: 'weibull' }).warnings.map(({ code }) => code)).toEqual(['few-failures']);
});

it('extreme shapes and ages', () => {
  for (const [shape, scale] of [
    [0.05, 1e6],
    [0.2, 1e-9],
    [50, 1e12],
    [400, 3],
  ] as const) {
    const lives = Array.from(drawLives({ kind: 'weibull', shape, scale }, 400, randomStream(5, 'extreme')));
    const fit = fitLife(
      sampleOf(
        lives,
        lives.map(() => 1),
      ),
      { kind: 'weibull' },
    );
    fit.parameters.forEach(({ estimate, standardError }, j) => {
      expect(Math.abs(estimate - Math.log([shape, scale][j] as number))).toBeLessThan(4 * standardError);
    });
  }
});

describe('fitting faults', () => {
  const truth: WeibullModel = {
    kind: 'weibull',
    shape: 3,
    scale: 900,
    fault: { share: 0.03, shape: 0.8, scale: 10 },
  };

  it('the share is estimated from five early leaks or more, and bounded', () => {
    const fit = fitLife(plantLives(truth, 1500, 730, 11), { kind: 'weibull', fault: 'estimate' });
    expect(fit.parameters.map(({ name }) => name)).toEqual(['logShape', 'logScale', 'logShare']);
    fit.parameters.forEach(({ estimate, standardError }, j) => {
      expect(Math.abs(estimate - Math.log([3, 900, 0.03][j] as number))).toBeLessThan(4 * standardError);
    });
    expect(fit.warnings.map(({ code }) => code)).toEqual(['fault-share-estimated']);
    const normal = lifeBounds(fit, { of: { survival: 365 }, method: 'normal' });
    const likelihood = lifeBounds(fit, { of: { survival: 365 }, method: 'likelihood' });
    const posterior = lifeBounds(fit, { of: { survival: 365 }, method: 'posterior' });
    // With 1500 lives the three ways agree to a tenth of their width.
    for (const other of [likelihood, posterior]) {
      expect(Math.abs(other.low - normal.low)).toBeLessThan(0.1 * (normal.high - normal.low));
      expect(Math.abs(other.high - normal.high)).toBeLessThan(0.1 * (normal.high - normal.low));
    }
  }, 60_000);

  it('with fewer early leaks the prior says it, and says so', () => {
    const clean = plantLives({ kind: 'weibull', shape: 3, scale: 900 }, 60, 730, 12);
    const fit = fitLife(clean, { kind: 'weibull', fault: 'estimate' });
    const share = (fit.model as WeibullModel).fault?.share as number;
    expect(share).toBeGreaterThan(0.001);
    expect(share).toBeLessThan(0.05);
    expect(fit.warnings.map(({ code }) => code)).toEqual(['fault-share-from-prior']);
  });

  it('survival, hazard and quantile of the two parts', () => {
    // By hand: Fe(10) = 1 - 1 / e; S(10) = (1 - 0.03 (1 - 1 / e)) exp(-(10 / 900)^3).
    expect(
      apart(survival(truth, 10), (1 - 0.03 * (1 - Math.exp(-1))) * Math.exp(-((10 / 900) ** 3))),
    ).toBeLessThan(1e-14);
    expect(apart(quantile(truth, 1 - survival(truth, 10)), 10)).toBeLessThan(1e-10);
    const early = (0.03 * 0.08 * Math.exp(-1)) / (1 - 0.03 * (1 - Math.exp(-1)));
    expect(apart(hazard(truth, 10), early + (3 / 900) * (10 / 900) ** 2)).toBeLessThan(1e-13);
    expect(meanLife(truth)).toBeLessThan(meanLife({ kind: 'weibull', shape: 3, scale: 900 }));
  });
});

describe('bounds by default', () => {
  it('are likelihood from five failures on, posterior below, and say which', () => {
    const five = fitLife(sampleOf([300, 400, 500, 600, 700, 730, 730], [1, 1, 1, 1, 1, 0, 0]), {
      kind: 'weibull',
    });
    const four = fitLife(sampleOf([300, 400, 500, 600, 730, 730, 730], [1, 1, 1, 1, 0, 0, 0]), {
      kind: 'weibull',
    });
    expect(lifeBounds(five, { of: 'scale' }).method).toBe('likelihood');
    const posterior = lifeBounds(four, { of: 'scale' });
    expect(posterior.method).toBe('posterior');
    expect(posterior.warnings[0]?.text).toMatch(/median 2, standard deviation of log shape 0.5/);
  });

  it('the bootstrap draws whole positions, from its seed', () => {
    const age = [200, 220, 240, 600, 610, 640, 400, 420, 430, 800, 810, 790, 300, 310, 305, 520, 540, 500];
    const position = age.map((_, i) => Math.floor(i / 3));
    const sample = lifeSample({ lower: age, upper: age, cluster: position });
    const fit = fitLife(sample, { kind: 'weibull' });
    const bounds = (robust: boolean, seed: number) =>
      lifeBounds(fit, { of: 'scale', method: 'bootstrap', draws: 300, robust, seed });
    expect(bounds(true, 1)).toEqual(bounds(true, 1));
    expect(bounds(true, 1)).not.toEqual(bounds(true, 2));
    // Lives of one position are nearly alike, so the data are six positions, not eighteen lives.
    const width = ({ low, high }: { low: number; high: number }): number => Math.log(high / low);
    expect(width(bounds(true, 1))).toBeGreaterThan(1.3 * width(bounds(false, 1)));
    const wide = lifeBounds(fit, { of: 'scale', method: 'likelihood' });
    expect(width(wide)).toBeGreaterThan(
      1.3 * width(lifeBounds(fit, { of: 'scale', method: 'likelihood', robust: false })),
    );
  });
});

describe('curves', () => {
  it('start where five are at risk when records begin late, and say from where', () => {
    const sample = sampleOf(
      [400, 500, 600, 700, 800, 900, 950],
      [1, 1, 1, 1, 1, 1, 0],
      [300, 350, 380, 390, 395, 420, 430],
    );
    const curve = kaplanMeier(sample);
    expect(curve.start).toBe(395);
    expect(Array.from(curve.atRisk)).toEqual([5, 6, 5, 4, 3, 2]);
    expect(curve.end).toBe(950);
  });

  it('refuse intervals, which turnbull takes; on exact ages the two agree', () => {
    const sample = lifeSample({ lower: [5, 6, 7], upper: [5, 9, 7] });
    expect(() => kaplanMeier(sample)).toThrow(/row 2 failed inside an interval/);
    const exact = sampleOf([3, 4, 4, 6, 8, 8, 9, 12], [1, 0, 1, 1, 0, 1, 1, 0]);
    const both = turnbull(exact, { draws: 50 });
    const curve = kaplanMeier(exact);
    expect(Array.from(both.age)).toEqual(Array.from(curve.age));
    both.survival.forEach((s, i) => {
      expect(Math.abs(s - (curve.survival[i] as number))).toBeLessThan(1e-7);
      expect(both.low[i]).toBeLessThanOrEqual(s);
      expect(both.high[i]).toBeGreaterThanOrEqual(s);
    });
  });
});
