/** What a regression says, refuses and predicts. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { quantile, survival } from '../../../lib/life/distribution/index.js';
import { coxSnell } from '../../../lib/life/estimate/regression/coxSnell.js';
import { fitRegression } from '../../../lib/life/estimate/regression/fitRegression.js';
import { predictLife } from '../../../lib/life/estimate/regression/predictLife.js';
import { regressionTest } from '../../../lib/life/estimate/regression/regressionTest.js';
import { relativeLife } from '../../../lib/life/estimate/regression/relativeLife.js';
import { standardisedResiduals } from '../../../lib/life/estimate/regression/standardisedResiduals.js';
import type { Covariates, RegressionOptions } from '../../../lib/life/estimate/regression/types.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';

const ages = (exact: number[], sound: number[] = []): LifeSample =>
  lifeSample({ lower: [...exact, ...sound], upper: [...exact, ...sound.map(() => Infinity)] });
const loose = { kind: 'weibull', failuresPerCoefficient: 0 } as const;

/** 120 Weibull lives: hotter ones half as long per 20 degrees, FKM 1.5 times as long. */
function plant(): { sample: LifeSample; covariates: { material: string[]; temperature: number[] } } {
  const random = randomStream(11, 'plant');
  const material = Array.from({ length: 120 }, (_, i) => (i % 2 === 0 ? 'EPDM' : 'FKM'));
  const temperature = Array.from({ length: 120 }, (_, i) => 80 + 10 * (i % 5));
  const lower = material.map((name, i) => {
    const slope = (-Math.LN2 / 20) * ((temperature[i] as number) - 100);
    return 900 * (name === 'FKM' ? 1.5 : 1) * Math.exp(slope) * (-Math.log(random.uniform())) ** (1 / 3);
  });
  return { sample: lifeSample({ lower, upper: lower }), covariates: { material, temperature } };
}

describe('one covariate of two levels, by hand', () => {
  // Exponential lives of the means 200 and 400 by group: the coefficients are the logs of mean and of ratio.
  const sample = ages([100, 200, 300, 200, 400, 600]);
  const fit = fitRegression(
    sample,
    { m: ['a', 'a', 'a', 'b', 'b', 'b'] },
    { kind: 'exponential', failuresPerCoefficient: 3 },
  );

  it('gives the logs of the group means, and variances of one over the failures', () => {
    expect(fit.coefficients.intercept).toBeCloseTo(Math.log(200), 10);
    expect(fit.coefficients['m=b']).toBeCloseTo(Math.LN2, 10);
    expect(fit.covariance.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([
      0.333333333, -0.333333333, -0.333333333, 0.666666667,
    ]);
    expect(fit.logLikelihood).toBeCloseTo(-3 * Math.log(200) - 3 * Math.log(400) - 6, 10);
    expect(fit.aic).toBeCloseTo(4 - 2 * fit.logLikelihood, 10);
  });

  it('says how many times as long, with bounds', () => {
    const ratio = relativeLife(fit, { m: 'a' }, { m: 'b' });
    const width = 1.6448536269514722 * Math.sqrt(2 / 3);
    expect(ratio.estimate).toBeCloseTo(2, 9);
    expect(ratio.low).toBeCloseTo(2 * Math.exp(-width), 8);
    expect(ratio.high).toBeCloseTo(2 * Math.exp(width), 8);
    expect(ratio.words).toBe('lasts 2.00 times as long, 90 % bounds 0.52 to 7.66');
    expect(relativeLife(fit, { m: 'b' }, { m: 'a' }).words).toContain('lasts 0.50 times as long');
    expect(relativeLife(fit, { m: 'b' }, { m: 'b' }).words).toContain('lasts 1.00 times');
  });

  it('says it as a sentence too', () => {
    expect(relativeLife(fit, { m: 'a' }, { m: 'b' }).sentence).toBe(
      'Lives at m b are 2.00 times as long as at m a, 90 % range 0.52 to 7.66.',
    );
  });

  it('gives standardised residuals: logs of the cumulative hazards of exponential lives', () => {
    const { lower, upper, entry } = standardisedResiduals(fit);
    [0.5, 1, 1.5, 0.5, 1, 1.5].forEach((hazard, i) => {
      expect(lower[i]).toBeCloseTo(Math.log(hazard), 9);
      expect(upper[i]).toBe(lower[i]);
      expect(entry[i]).toBe(-Infinity);
    });
  });

  it('takes another level as the reference where told to', () => {
    const other = fitRegression(
      sample,
      { m: ['a', 'a', 'a', 'b', 'b', 'b'] },
      { kind: 'exponential', reference: { m: 'b' }, failuresPerCoefficient: 3 },
    );
    expect(other.coefficients['m=a']).toBeCloseTo(-Math.LN2, 10);
  });

  it('turns ages into cumulative hazards', () => {
    const { lower } = coxSnell(fit);
    expect([...lower].map((x) => Math.round(x * 1e9) / 1e9)).toEqual([0.5, 1, 1.5, 0.5, 1, 1.5]);
  });
});

describe('the example of the README', () => {
  it('says what is printed there', () => {
    const lives = ages([430, 510, 390, 620, 365, 700, 810, 540, 660, 905], [730, 730]);
    const material = Array.from(lives.lower, (_, i) => (i < 6 ? 'EPDM' : 'FKM'));
    const byMaterial = fitRegression(lives, { material }, { kind: 'weibull' });
    const { words } = relativeLife(byMaterial, { material: 'EPDM' }, { material: 'FKM' });
    expect(readFileSync(new URL('../../../README.md', import.meta.url), 'utf8')).toContain(`// ${words}\n`);
  });
});

describe('prediction', () => {
  const { sample, covariates } = plant();
  const fit = fitRegression(sample, covariates, { kind: 'weibull' });

  it('finds the truth within its bounds, and not by bounds too wide to miss', () => {
    const ratio = relativeLife(fit, { material: 'EPDM' }, { material: 'FKM' }, { level: 0.999 });
    expect(ratio.low).toBeLessThan(1.5);
    expect(ratio.high).toBeGreaterThan(1.5);
    expect(ratio.high / ratio.low).toBeLessThan(2);
    const hotter = relativeLife(fit, { temperature: 90 }, { temperature: 110 }, { level: 0.999 });
    expect(hotter.low).toBeLessThan(0.5);
    expect(hotter.high).toBeGreaterThan(0.5);
    expect(hotter.high / hotter.low).toBeLessThan(2);
  });

  it('is a life model, with bounds that hold each other: quantile of survival and back', () => {
    const at = { material: 'FKM', temperature: 100 };
    const life = predictLife(fit, at, { quantiles: [0.1, 0.5], level: 0.95 });
    life.quantiles.p.forEach((p, i) => {
      expect(life.quantiles.age[i]).toBeCloseTo(quantile(life.model, p), 8);
    });
    const age = life.quantiles.age[0] as number;
    const there = predictLife(fit, at, { ages: [age] }).survival;
    expect(there.survival[0]).toBeCloseTo(0.9, 10);
    expect(there.survival[0]).toBeCloseTo(survival(life.model, age), 12);
    expect(there.low[0]).toBeLessThan(0.9);
    expect(there.high[0]).toBeGreaterThan(0.9);
    expect(life.warnings).toEqual([]);
  });

  it('says when it goes beyond the data', () => {
    const { warnings } = predictLife(fit, { material: 'FKM', temperature: 60 });
    expect(warnings.map(({ code }) => code)).toEqual(['outside-data']);
    expect(warnings[0]?.text).toContain('80 to 120');
  });

  it('refuses what the fit does not know', () => {
    expect(() => predictLife(fit, { material: 'FKM' })).toThrow(/every covariate must be given.*temperature/);
    expect(() => predictLife(fit, { material: 'NBR', temperature: 90 })).toThrow(/one of EPDM, FKM/);
    expect(() => relativeLife(fit, { size: 1 }, { size: 2 })).toThrow(/no covariate of that name/);
    expect(() => relativeLife(fit, { material: 'FKM' }, {})).toThrow(/both ends or at neither/);
    expect(() => predictLife(fit, { material: 'FKM', temperature: 90 }, { ages: [0] })).toThrow(/above 0/);
    expect(() => predictLife(fit, { material: 'FKM', temperature: 90 }, { quantiles: [1] })).toThrow(
      /between/,
    );
  });

  it('asks for the partner of an interaction, and refuses a ratio where spreads differ', () => {
    const options = { kind: 'weibull', interactions: [['material', 'temperature']] } as const;
    const both = fitRegression(sample, covariates, options);
    expect(() => relativeLife(both, { material: 'EPDM' }, { material: 'FKM' })).toThrow(
      /depends on temperature/,
    );
    const cold = { temperature: 80 };
    const hot = { temperature: 120 };
    const ratio = (t: object): number =>
      relativeLife(both, { material: 'EPDM', ...t }, { material: 'FKM', ...t }).estimate;
    const slope = both.coefficients['material=FKM:temperature'] as number;
    expect(Math.log(ratio(hot) / ratio(cold))).toBeCloseTo(40 * slope, 10);
    const spreads = fitRegression(sample, covariates, { kind: 'weibull', shapeBy: ['material'] });
    expect(() => relativeLife(spreads, { material: 'EPDM' }, { material: 'FKM' })).toThrow(/spread differs/);
    const sigma = Math.exp(spreads.coefficients['logSigma:material=FKM'] as number);
    const { model } = predictLife(spreads, { material: 'FKM', temperature: 100 });
    expect('shape' in model && model.shape).toBeCloseTo(1 / sigma, 12);
  });

  it('tests one fit against a part of it, and refuses one that is none', () => {
    const { material } = covariates;
    const less = fitRegression(sample, { material }, { kind: 'weibull' });
    const test = regressionTest(fit, less);
    expect(test.df).toBe(1);
    expect(test.pValue).toBeLessThan(1e-6);
    const flat = fitRegression(sample, covariates, { kind: 'exponential' });
    expect(regressionTest(fit, flat).df).toBe(1);
    expect(() => regressionTest(less, fit)).toThrow(/lacks/);
    expect(() => regressionTest(fit, fit)).toThrow(/more coefficients/);
    const other = fitRegression(ages([1, 2, 3, 4, 5]), {}, { kind: 'weibull' });
    expect(() => regressionTest(fit, other)).toThrow(/same lives/);
  });

  it('leaves what it was given as it was', () => {
    const before = JSON.stringify([sample, covariates]);
    fitRegression(sample, covariates, { kind: 'lognormal' });
    expect(JSON.stringify([sample, covariates])).toBe(before);
  });
});

describe('refused, with the name of what is wrong', () => {
  const eight = ages([1, 2.2, 3, 4], [5, 6, 7, 8]);
  const many = ages(Array.from({ length: 20 }, (_, i) => 3 + i));
  const numbers = (f: (i: number) => number): number[] => Array.from({ length: 20 }, (_, i) => f(i));
  const bad: [string, LifeSample, Covariates, RegressionOptions, RegExp][] = [
    [
      'a missing number',
      eight,
      { x: [1, 2, Number.NaN, 4, 5, 6, 7, 8] },
      loose,
      /row 3, covariate x: .*missing/,
    ],
    [
      'a missing level',
      eight,
      { m: ['a', '', 'b', 'a', 'b', 'a', 'b', 'a'] },
      loose,
      /row 2, covariate m: .*missing/,
    ],
    [
      'an endless number',
      eight,
      { x: [1, 2, 3, 4, 5, 6, Infinity, 8] },
      loose,
      /row 7, covariate x: .*finite/,
    ],
    ['a column too short', eight, { x: [1, 2, 3] }, loose, /as long as the sample \(8\).*3/],
    ['a constant column', eight, { x: new Array(8).fill(4) }, loose, /covariate x is the same in every row/],
    [
      'a level of all lives',
      eight,
      { m: new Array(8).fill('a') },
      loose,
      /covariate m is the same in every row/,
    ],
    [
      'a level without a failure',
      eight,
      { m: ['a', 'a', 'b', 'b', 'a', 'b', 'c', 'c'] },
      loose,
      /no life with m=c failed.*Join it/,
    ],
    [
      'columns that follow from others',
      many,
      { x: numbers((i) => i), y: numbers((i) => i % 3), z: numbers((i) => 1e6 + i - 2 * (i % 3)) },
      loose,
      /column z follows from x and y/,
    ],
    [
      'more than failures carry',
      many,
      { x: numbers((i) => i), y: numbers((i) => i % 3) },
      { kind: 'weibull', failuresPerCoefficient: 12 },
      /20 failures carry 1 coefficient .*2 coefficients/,
    ],
    [
      'a number that parts lives',
      eight,
      { x: [0, 0, 0, 0, 1, 1, 1, 1] },
      loose,
      /coefficient of x runs away/,
    ],
    [
      'the same, lognormal',
      eight,
      { x: [0, 0, 0, 0, 1, 1, 1, 1] },
      { ...loose, kind: 'lognormal' },
      /coefficient of x runs away/,
    ],
    [
      'the same, exponential',
      eight,
      { x: [0, 0, 0, 0, 1, 1, 1, 1] },
      { ...loose, kind: 'exponential' },
      /coefficient of x runs away/,
    ],
    ['failures all explained', ages([1, 2, 4, 8, 16]), { x: [0, 1, 2, 3, 4] }, loose, /logSigma runs away/],
    ['failures all at one age', ages([5, 5, 5, 5, 5]), {}, loose, /logSigma runs away/],
    ['no failures', ages([], [1, 2, 3]), { x: [1, 2, 3] }, loose, /no failures/],
    [
      'a logarithm of nothing',
      eight,
      { x: [0, 1, 2, 3, 4, 5, 6, 7] },
      { ...loose, transforms: { x: 'log' } },
      /row 1, covariate x: .*above 0/,
    ],
    [
      'below absolute zero',
      eight,
      { x: [0, 1, 2, 3, 4, 5, 6, -274] },
      { ...loose, transforms: { x: 'arrhenius' } },
      /row 8, covariate x: .*absolute zero/,
    ],
    [
      'an option for nobody',
      eight,
      { x: [0, 1, 2, 3, 4, 5, 6, 7] },
      { ...loose, shapeBy: ['y'] },
      /unknown covariate.*"y"/,
    ],
    ['a name that is taken', eight, { intercept: [0, 1, 2, 3, 4, 5, 6, 7] }, loose, /needs a name/],
    ['an unknown kind', eight, {}, { kind: 'gamma' } as never, /kind must be one of/],
  ];

  it.each(bad)('%s', (_, sample, covariates, options, message) => {
    expect(() => fitRegression(sample, covariates, options)).toThrow(UsageError);
    expect(() => fitRegression(sample, covariates, options)).toThrow(message);
  });

  it('rows of unknown cause', () => {
    const sample = { ...eight, otherHazard: new Float64Array(8).fill(0.1) };
    expect(() => fitRegression(sample, {}, loose)).toThrow(/unknown cause/);
  });
});

describe('hard places', () => {
  it('one failure among many sound lives, exponential', () => {
    const fit = fitRegression(ages([10], [20, 30, 40]), {}, { kind: 'exponential' });
    expect(fit.coefficients.intercept).toBeCloseTo(Math.log(100), 10);
  });

  it.each([0.05, 50])('shape %s comes back', (shape) => {
    const random = randomStream(5, 'shape');
    const x = Array.from({ length: 200 }, (_, i) => i % 7);
    const lower = x.map((load) => Math.exp(3 + 0.3 * load) * (-Math.log(random.uniform())) ** (1 / shape));
    const fit = fitRegression(lifeSample({ lower, upper: lower }), { x }, { kind: 'weibull' });
    expect(Math.abs((fit.coefficients.logSigma as number) + Math.log(shape))).toBeLessThan(
      4 * (fit.standardErrors.logSigma as number),
    );
    expect(Math.abs((fit.coefficients.x as number) - 0.3)).toBeLessThan(4 * (fit.standardErrors.x as number));
  });

  it('intervals so narrow that they are points: the same coefficients', () => {
    const exact = [3.1, 5.7, 2.2, 9.4, 7.7, 4.3, 12.9, 6.1, 8.8, 5.2];
    const x = [1, 2, 1, 3, 3, 2, 4, 2, 3, 1];
    for (const kind of ['weibull', 'lognormal', 'loglogistic'] as const) {
      const points = fitRegression(ages(exact), { x }, { kind });
      const sample = lifeSample({
        lower: exact.map((t) => t * (1 - 1e-7)),
        upper: exact.map((t) => t * (1 + 1e-7)),
      });
      const intervals = fitRegression(sample, { x }, { kind });
      for (const [name, value] of Object.entries(points.coefficients)) {
        expect(intervals.coefficients[name]).toBeCloseTo(value, 6);
      }
      const width = exact.reduce((total, t) => total + Math.log(2e-7 * t), 0);
      expect(intervals.logLikelihood - width).toBeCloseTo(points.logLikelihood, 5);
    }
  });

  it('a billion lives to a row, where a log-likelihood has no digits left for small gains', () => {
    const { sample, covariates } = plant();
    const many = { ...sample, count: sample.count.map(() => 1e9) };
    for (const kind of ['weibull', 'exponential', 'lognormal', 'loglogistic'] as const) {
      const one = fitRegression(sample, covariates, { kind });
      const fit = fitRegression(many, covariates, { kind, covariance: 'plain' });
      for (const [name, value] of Object.entries(one.coefficients)) {
        const error = one.standardErrors[name] as number;
        expect(Math.abs((fit.coefficients[name] as number) - value)).toBeLessThan(1e-6 * error);
      }
    }
  });

  it('columns in any unit, far from 0', () => {
    const { sample, covariates } = plant();
    const plain = fitRegression(sample, covariates, { kind: 'weibull' });
    const seconds = covariates.temperature.map((t) => 1.7e9 + 60 * t);
    const far = fitRegression(sample, { ...covariates, temperature: seconds }, { kind: 'weibull' });
    expect(
      (60 * (far.coefficients.temperature as number)) / (plain.coefficients.temperature as number),
    ).toBeCloseTo(1, 7);
  });
});
