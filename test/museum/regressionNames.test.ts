/** Regressions that once went wrong: names that an object has of itself, names that clash, columns beyond squares, factors of thousands. */
import { describe, expect, it } from 'vitest';
import { fitRegression } from '../../lib/life/estimate/regression/fitRegression.js';
import { predictLife } from '../../lib/life/estimate/regression/predictLife.js';
import { relativeLife } from '../../lib/life/estimate/regression/relativeLife.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';

const random = randomStream(71, 'museum of regressions');
const ages = Array.from({ length: 60 }, () => 900 * (-Math.log(random.uniform())) ** 0.4);
const upper = ages.map((age, i) => (i % 4 === 0 ? Infinity : age));
const sample = lifeSample({ lower: ages, upper });
const m = ages.map((_, i) => 'ABC'[i % 3] as string);
const x = ages.map(() => random.normal());
const weibull = { kind: 'weibull' } as const;

describe.each(['constructor', '__proto__', 'toString'])('a covariate called %s', (name) => {
  const fit = fitRegression(
    sample,
    Object.fromEntries([
      [name, x],
      ['m', m],
    ]),
    weibull,
  );
  const plain = fitRegression(sample, { x, m }, weibull);

  it('is one like others, also where it is not named', () => {
    expect(Object.values(fit.coefficients)).toEqual(Object.values(plain.coefficients));
    const ratio = relativeLife(fit, { m: 'A' }, { m: 'B' });
    expect(ratio.estimate).toBe(relativeLife(plain, { m: 'A' }, { m: 'B' }).estimate);
  });

  it('is asked for where it is missing', () => {
    expect(() => relativeLife(fit, Object.fromEntries([[name, 0]]), {})).toThrow(/both ends or at neither/);
    expect(() => predictLife(fit, { m: 'A' })).toThrow(/every covariate must be given/);
    expect(() =>
      fitRegression(sample, { m }, { ...weibull, transforms: Object.fromEntries([[name, 'log']]) }),
    ).toThrow(/unknown covariate/);
  });
});

describe('names and columns', () => {
  it('levels of such names are levels', () => {
    const odd = new Map([
      ['A', '__proto__'],
      ['B', 'constructor'],
      ['C', 'toString'],
    ]);
    const fit = fitRegression(sample, { m: m.map((level) => odd.get(level) as string) }, weibull);
    const plain = fitRegression(sample, { m }, weibull);
    expect(Object.values(fit.coefficients)).toEqual(Object.values(plain.coefficients));
  });

  it('two coefficients of one name are refused', () => {
    expect(() => fitRegression(sample, { m, 'm=B': x }, weibull)).toThrow(/one name.*m=B/);
    const y = ages.map(() => random.normal());
    const z = ages.map(() => random.normal());
    const clash = { ...weibull, interactions: [['x', 'y']] } as const;
    expect(() => fitRegression(sample, { x, y, 'x:y': z }, clash)).toThrow(/one name.*x:y/);
  });

  it.each([1e-153, 1e153])('a column in units of %s, whose squares are at the end of numbers', (unit) => {
    const plain = fitRegression(sample, { x, m }, weibull);
    const far = fitRegression(sample, { x: x.map((value) => value * unit), m }, weibull);
    expect((far.coefficients.x as number) * unit).toBeCloseTo(plain.coefficients.x as number, 9);
    expect((far.standardErrors.x as number) * unit).toBeCloseTo(plain.standardErrors.x as number, 9);
  });

  it.each([1e-300, 1e300])(
    'a column in units of %s has a coefficient whose variance no number holds',
    (unit) => {
      expect(() => fitRegression(sample, { x: x.map((value) => value * unit), m }, weibull)).toThrow(
        /variance of the coefficient of x is beyond .*another unit/,
      );
    },
  );

  it('names the column that parts lives, not the levels that follow it', () => {
    const apart = upper.map((age) => (age === Infinity ? 1 : 0));
    const line = ages.map((_, i) => `line ${i % 6}`);
    const options = { ...weibull, failuresPerCoefficient: 0 };
    expect(() => fitRegression(sample, { line, apart }, options)).toThrow(/coefficient of apart runs away/);
    expect(() => fitRegression(sample, { apart, line }, options)).toThrow(/coefficient of apart runs away/);
  });
});

describe('a factor of many levels', () => {
  const all = Array.from({ length: 6000 }, () => 900 * (-Math.log(random.uniform())) ** 0.4);
  const lives = lifeSample({ lower: all, upper: all });
  const valve = all.map((_, i) => `valve ${i % 600}`);

  it('of 600 levels has the coefficients at which each level has as many failures as its hazards add up to', () => {
    const load = all.map(() => random.normal());
    const fit = fitRegression(lives, { valve, load }, weibull);
    const sigma = Math.exp(fit.coefficients.logSigma as number);
    for (const level of ['valve 1', 'valve 599']) {
      const place = (fit.coefficients.intercept as number) + (fit.coefficients[`valve=${level}`] as number);
      let expected = 0;
      all.forEach((age, i) => {
        const location = place + (fit.coefficients.load as number) * (load[i] as number);
        if (valve[i] === level) expected += Math.exp((Math.log(age) - location) / sigma);
      });
      expect(expected).toBeCloseTo(10, 9);
    }
  });

  it('is told by its own name where a column follows from it', () => {
    const number = all.map((_, i) => i % 600);
    expect(() => fitRegression(lives, { valve, number }, weibull)).toThrow(
      /column number follows from the levels of valve: leave one/,
    );
  });

  it('of 5501 levels is refused before its covariance takes all memory', () => {
    const each = all.map((_, i) => `valve ${i % 5501}`);
    const options = { ...weibull, failuresPerCoefficient: 0 };
    expect(() => fitRegression(lives, { each }, options)).toThrow(
      /5502 coefficients are too many.*join levels/,
    );
  });
});
