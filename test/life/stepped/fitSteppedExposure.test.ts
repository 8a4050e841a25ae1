/** Exposure that changes in steps: where nothing changes it is a regression, drawn lives of known truth, laws, refusals. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { fitRegression } from '../../../lib/life/estimate/regression/fitRegression.js';
import { predictLife } from '../../../lib/life/estimate/regression/predictLife.js';
import { relativeLife } from '../../../lib/life/estimate/regression/relativeLife.js';
import type { RegressionLaw } from '../../../lib/life/estimate/regression/types.js';
import {
  fitSteppedExposure,
  type SteppedOptions,
} from '../../../lib/life/estimate/stepped/fitSteppedExposure.js';
import type { ExposureSteps } from '../../../lib/life/estimate/stepped/readSteps.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';

const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'] as const;

interface Plant {
  sample: LifeSample;
  steps: { life: number[]; from: number[]; values: { load: number[]; line: string[] } };
}

/** Three steps a life; load wears by exp(0.5), line B by exp(0.7) times as fast. Every kind of row, positions of two lives. */
function plantOf(seed: number, lives: number, constant = false): Plant {
  const random = randomStream(seed, 'stepped');
  const steps: Plant['steps'] = { life: [], from: [], values: { load: [], line: [] } };
  const columns = { lower: [], upper: [], entry: [], cluster: [] } as Record<string, number[]>;
  for (let i = 0; i < lives; i++) {
    const from = [0, 100 + 200 * random.uniform(), 300 + 300 * random.uniform()];
    const drawn = from.map(() => random.normal());
    const lines = from.map(() => (random.uniform() < 0.5 ? 'A' : 'B'));
    const load = constant ? drawn.map(() => drawn[0] as number) : drawn;
    const line = constant ? lines.map(() => lines[0] as string) : lines;
    const speed = from.map((_, k) => Math.exp(0.5 * (load[k] as number) + (line[k] === 'B' ? 0.7 : 0)));
    const age = ageAt(800 * (-Math.log(random.uniform())) ** (1 / 2.5), from, speed);
    const kind = i % 5;
    const entry = kind === 3 ? age / 3 : 0;
    columns.lower?.push(
      kind === 1 ? 0.7 * age : kind === 2 ? 0.8 * age : kind === 4 && i % 2 === 0 ? 0 : age,
    );
    columns.upper?.push(kind === 1 ? Infinity : kind === 2 ? 1.2 * age : age);
    columns.entry?.push(entry);
    columns.cluster?.push(i >> 1);
    from.forEach((start, k) => {
      steps.life.push(i);
      steps.from.push(start);
      steps.values.load.push(load[k] as number);
      steps.values.line.push(line[k] as string);
    });
  }
  return { sample: lifeSample(columns as never), steps };
}

function ageAt(z: number, from: readonly number[], speed: readonly number[]): number {
  let left = z;
  for (let k = 0; k < from.length; k++) {
    const length = (from[k + 1] ?? Infinity) - (from[k] as number);
    if (left <= length * (speed[k] as number)) return (from[k] as number) + left / (speed[k] as number);
    left -= length * (speed[k] as number);
  }
  return Number.NaN;
}

function same(got: RegressionLaw, want: RegressionLaw, digits = 1e-6): void {
  expect(Object.keys(got.coefficients)).toEqual(Object.keys(want.coefficients));
  for (const [name, value] of Object.entries(want.coefficients)) {
    const error = want.standardErrors[name] as number;
    expect(Math.abs((got.coefficients[name] as number) - value)).toBeLessThan(digits * error);
    expect((got.standardErrors[name] as number) / error).toBeCloseTo(1, 6);
  }
  expect(Math.abs(got.logLikelihood / want.logLikelihood - 1)).toBeLessThan(1e-10);
}

describe('histories that do not change', () => {
  it.each(KINDS)('%s: the regression, to the last digits', (kind) => {
    const { sample, steps } = plantOf(1, 120, true);
    const { load, line } = steps.values;
    const once = { load: load.filter((_, k) => k % 3 === 0), line: line.filter((_, k) => k % 3 === 0) };
    for (const covariance of ['plain', 'robust'] as const) {
      const options = { kind, covariance, interactions: [['load', 'line']] } as const;
      same(fitSteppedExposure(sample, steps, options), fitRegression(sample, once, options));
    }
  });

  it('takes transforms, and predicts and compares as a regression does', () => {
    const { sample, steps } = plantOf(2, 100, true);
    const heat = steps.values.load.map((load) => 100 + 10 * load);
    const options = { kind: 'weibull', transforms: { heat: 'arrhenius' } } as const;
    const stepped = fitSteppedExposure(sample, { ...steps, values: { heat } }, options);
    const plain = fitRegression(sample, { heat: heat.filter((_, k) => k % 3 === 0) }, options);
    same(stepped, plain);
    expect(relativeLife(stepped, { heat: 90 }, { heat: 120 }).words).toBe(
      relativeLife(plain, { heat: 90 }, { heat: 120 }).words,
    );
    const ages = predictLife(stepped, { heat: 100 }, { quantiles: [0.1] }).quantiles;
    expect(ages.low[0]).toBeCloseTo(
      predictLife(plain, { heat: 100 }, { quantiles: [0.1] }).quantiles.low[0] as number,
      5,
    );
  });
});

describe('drawn lives', () => {
  it('give the truth back: no bias and honest standard errors over 60 plants (METHODS 6.2)', () => {
    const truth = { load: -0.5, 'line=B': -0.7, logSigma: -Math.log(2.5) } as const;
    const plants = 60;
    const fits = Array.from({ length: plants }, (_, k) => {
      const { sample, steps } = plantOf(k + 101, 150);
      return fitSteppedExposure(sample, steps, { kind: 'weibull', covariance: 'plain' });
    });
    for (const [name, value] of Object.entries(truth)) {
      const z = fits.map(
        ({ coefficients, standardErrors }) =>
          ((coefficients[name] as number) - value) / (standardErrors[name] as number),
      );
      const mean = z.reduce((a, b) => a + b, 0) / plants;
      const square = z.reduce((a, b) => a + b * b, 0) / plants;
      // Means of 60 standard normal errors, with 0.2 for the bias of a maximum likelihood estimate from 120 failures.
      expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(plants) + 0.2);
      expect(Math.abs(square - 1)).toBeLessThan(4 * Math.sqrt(2 / plants));
    }
  });

  it('fit worse by where each history began than by the history', () => {
    const { sample, steps } = plantOf(7, 200);
    const fit = fitSteppedExposure(sample, steps, { kind: 'weibull' });
    const first = { load: steps.values.load.filter((_, k) => k % 3 === 0) };
    expect(fitRegression(sample, first, { kind: 'weibull' }).aic).toBeGreaterThan(fit.aic + 20);
  });
});

describe('laws', () => {
  const { sample, steps } = plantOf(11, 60);
  const options: SteppedOptions = { kind: 'loglogistic' };
  const plain = fitSteppedExposure(sample, steps, options);

  it('the order of steps does not matter, nor a step cut in two or one after the end', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const random = randomStream(seed, 'order');
        const more: ExposureSteps = {
          life: [...steps.life, 0, 1],
          from: [...steps.from, 50, 1e9],
          values: {
            load: [...steps.values.load, steps.values.load[0] as number, 7],
            line: [...steps.values.line, steps.values.line[0] as string, 'A'],
          },
        };
        const order = Array.from({ length: more.life.length }, (_, k) => [random.uniform(), k] as const)
          .sort((a, b) => a[0] - b[0])
          .map(([, k]) => k);
        const pick = <T>(column: ArrayLike<T>): T[] => order.map((k) => column[k] as T);
        const mixed = {
          life: pick(more.life),
          from: pick(more.from),
          values: { load: pick(more.values.load as number[]), line: pick(more.values.line as string[]) },
        };
        same(fitSteppedExposure(sample, mixed, options), plain);
      }),
      { numRuns: 15, seed: 20_283 },
    );
  });

  it('another unit of age moves the intercept only, from 1e-9 to 1e12', () => {
    for (const unit of [1e-9, 1 / 24, 1e12]) {
      const scale = (ages: Float64Array): Float64Array => ages.map((age) => age * unit);
      const other = fitSteppedExposure(
        { ...sample, lower: scale(sample.lower), upper: scale(sample.upper), entry: scale(sample.entry) },
        { ...steps, from: steps.from.map((age) => age * unit) },
        options,
      );
      for (const [name, value] of Object.entries(plain.coefficients)) {
        const moved = name === 'intercept' ? value + Math.log(unit) : value;
        const error = plain.standardErrors[name] as number;
        expect(Math.abs((other.coefficients[name] as number) - moved)).toBeLessThan(1e-6 * error);
      }
    }
  });

  it('a count of two is two lives', () => {
    const twice = { ...sample, count: sample.count.map(() => 2) };
    const fit = fitSteppedExposure(twice, steps, { ...options, covariance: 'plain' });
    expect(fit.logLikelihood).toBeCloseTo(2 * plain.logLikelihood, 7);
    expect(fit.covariance[0]).toBeCloseTo((plain.plainCovariance[0] as number) / 2, 9);
  });

  it('leaves what it was given as it was', () => {
    const before = JSON.stringify([sample, steps]);
    fitSteppedExposure(sample, steps, options);
    expect(JSON.stringify([sample, steps])).toBe(before);
  });
});

describe('refused', () => {
  const { sample, steps } = plantOf(12, 40);
  const refit = (change: object, options: object = {}, lives = sample): unknown =>
    fitSteppedExposure(lives, { ...steps, ...change } as ExposureSteps, { kind: 'weibull', ...options });
  const set = <T>(column: readonly T[], k: number, value: T): T[] =>
    column.map((x, j) => (j === k ? value : x));
  const { load, line } = steps.values;
  const bad: [string, () => unknown, RegExp][] = [
    ['a column too short', () => refit({ from: [0] }), /from must be as long as life \(120\)/],
    [
      'the same beside a covariate called from',
      () => refit({ from: [0], values: { from: load } }),
      /from must be as long as life \(120\)/,
    ],
    ['a life that is not there', () => refit({ life: set(steps.life, 4, 40) }), /step 5: life must be a row/],
    ['a negative age', () => refit({ from: set(steps.from, 1, -1) }), /step 2: from/],
    ['no step at age 0', () => refit({ from: set(steps.from, 0, 1) }), /life 0 .*no step at age 0/],
    ['two steps at one age', () => refit({ from: set(steps.from, 1, 0) }), /life 0 has two steps/],
    [
      'a missing value',
      () => refit({ values: { load: set(load, 0, Number.NaN) } }),
      /step 1 .*covariate load.*missing/,
    ],
    ['one level only', () => refit({ values: { line: line.map(() => 'A') } }), /same in every row/],
    ['a constant number', () => refit({ values: { load: load.map(() => 4) } }), /same in every row/],
    [
      'one that follows from another',
      () => refit({ values: { load, twice: load.map((x) => 1 - 2 * x) } }),
      /column twice follows from load/,
    ],
    ['spreads by group', () => refit({}, { shapeBy: ['line'] }), /shapeBy is not taken/],
    ['more than failures carry', () => refit({}, { failuresPerCoefficient: 20 }), /carry 1 coefficient/],
    ['an unknown law', () => refit({}, { kind: 'gamma' }), /kind must be one of/],
    [
      'no failures',
      () => refit({}, {}, lifeSample({ lower: sample.lower, upper: sample.lower.map(() => Infinity) })),
      /no failures/,
    ],
    [
      'a level of sound lives only',
      () => refit({ values: { line: line.map((x, k) => (k >= 3 && k < 6 ? 'C' : x)) } }),
      /no life that failed spent time with line=C/,
    ],
  ];

  it.each(bad)('%s', (_, work, message) => {
    expect(work).toThrow(UsageError);
    expect(work).toThrow(message);
    expect(work).toThrow(/^fitSteppedExposure: /);
  });

  it('steps that part lives: all that failed spent their time loaded, none of the others', () => {
    const lives = lifeSample({
      lower: [1, 2.2, 3, 4, 5, 6, 7, 8],
      upper: [1, 2.2, 3, 4, Infinity, Infinity, Infinity, Infinity],
    });
    const life = [0, 1, 2, 3, 4, 5, 6, 7];
    const values = { x: [0, 0, 0, 0, 1, 1, 1, 1] };
    const work = (): unknown =>
      fitSteppedExposure(
        lives,
        { life, from: life.map(() => 0), values },
        { kind: 'weibull', failuresPerCoefficient: 0 },
      );
    expect(work).toThrow(/coefficient of x runs away/);
  });
});
