/** Laws of a regression: what happens to coefficients when columns, rows or units change. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { drawLives } from '../../../lib/life/distribution/index.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { coxSnell } from '../../../lib/life/estimate/regression/coxSnell.js';
import { fitRegression } from '../../../lib/life/estimate/regression/fitRegression.js';
import type { Covariates, RegressionFit } from '../../../lib/life/estimate/regression/types.js';
import { rowLogLikelihood } from '../../../lib/life/estimate/weibull/weibullLikelihood.js';
import type { FittedModel } from '../../../lib/life/model.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';

const RUNS = { numRuns: 40, seed: 20_264 };
const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'] as const;
const ROWS = 60;

interface Lives {
  kind: (typeof KINDS)[number];
  columns: { lower: number[]; upper: number[]; entry: number[]; count: number[]; cluster: number[] };
  covariates: { load: number[]; material: string[] };
}

/** Lives of every kind of row, with delayed entry, counts and positions of three lives. */
const anyLives: fc.Arbitrary<Lives> = fc
  .record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    kind: fc.constantFrom(...KINDS),
    effect: fc.double({ min: -1, max: 1, noNaN: true }),
  })
  .map(({ seed, kind, effect }) => {
    const random = randomStream(seed, 'regression laws');
    const columns: Lives['columns'] = { lower: [], upper: [], entry: [], count: [], cluster: [] };
    const covariates: Lives['covariates'] = { load: [], material: [] };
    for (let i = 0; i < ROWS; i++) {
      const load = random.normal();
      const entry = i % 4 === 0 ? 200 * random.uniform() : 0;
      let age = 0;
      while (age <= entry) {
        const [unit] = drawLives({ kind: 'weibull', shape: 2, scale: 1000 }, 1, random);
        age = (unit as number) * Math.exp(effect * load + (i % 3 === 0 ? 0.4 : 0));
      }
      const [lower, upper] = rowOf(age, entry, i);
      columns.lower.push(lower);
      columns.upper.push(upper);
      columns.entry.push(entry);
      columns.count.push(1 + (i % 3));
      columns.cluster.push(Math.floor(i / 3));
      covariates.load.push(load);
      covariates.material.push(i % 3 === 0 ? 'FKM' : 'EPDM');
    }
    return { kind, columns, covariates };
  });

function rowOf(age: number, entry: number, i: number): [number, number] {
  if (i % 5 === 1) return [Math.max(entry, 0.6 * age), Infinity];
  if (i % 5 === 2) return [0.8 * age, 1.2 * age];
  if (i % 5 === 3 && entry === 0) return [0, 1.5 * age];
  return [age, age];
}

const fitOf = ({ kind, columns, covariates }: Lives, change: Covariates = {}): RegressionFit =>
  fitRegression(lifeSample(columns), { ...covariates, ...change }, { kind });

/** Within a millionth of a standard error, which is what the search promises. */
function sameNumbers(got: RegressionFit, want: RegressionFit, factor: Record<string, number> = {}): void {
  for (const [name, value] of Object.entries(want.coefficients)) {
    const by = factor[name] ?? 1;
    const error = Math.abs(by) * (want.standardErrors[name] as number);
    expect(Math.abs((got.coefficients[name] as number) - by * value)).toBeLessThan(1e-6 * error);
    expect((got.standardErrors[name] as number) / error).toBeCloseTo(1, 6);
  }
}

const shifted = (fit: RegressionFit, by: number): RegressionFit => ({
  ...fit,
  coefficients: { ...fit.coefficients, intercept: (fit.coefficients.intercept as number) + by },
});

describe('a regression', () => {
  it('has the coefficient of a column scaled inversely to the column, and no other moved', () => {
    fc.assert(
      fc.property(anyLives, fc.double({ min: -6, max: 6, noNaN: true }), (lives, power) => {
        const by = 10 ** power;
        const scaled = fitOf(lives, { load: lives.covariates.load.map((x) => x * by) });
        sameNumbers(scaled, fitOf(lives), { load: 1 / by });
        expect(scaled.logLikelihood).toBeCloseTo(fitOf(lives).logLikelihood, 7);
      }),
      RUNS,
    );
  });

  it('has only its intercept moved by a shift of a column', () => {
    fc.assert(
      fc.property(anyLives, fc.double({ min: -1000, max: 1000, noNaN: true }), (lives, by) => {
        const plain = fitOf(lives);
        const moved = fitOf(lives, { load: lives.covariates.load.map((x) => x + by) });
        const { intercept, ...rest } = moved.coefficients;
        const load = plain.coefficients.load as number;
        expect(intercept).toBeCloseTo((plain.coefficients.intercept as number) - by * load, 6);
        for (const [name, value] of Object.entries(rest)) {
          const error = plain.standardErrors[name] as number;
          expect(Math.abs(value - (plain.coefficients[name] as number))).toBeLessThan(1e-6 * error);
          expect((moved.standardErrors[name] as number) / error).toBeCloseTo(1, 6);
        }
      }),
      RUNS,
    );
  });

  it('has only its intercept moved by another unit of age, from 1e-9 to 1e12', () => {
    fc.assert(
      fc.property(anyLives, fc.constantFrom(1e-9, 1 / 24, 1e12), (lives, unit) => {
        const { lower, upper, entry, ...rest } = lives.columns;
        const scale = (ages: number[]): number[] => ages.map((age) => age * unit);
        const columns = { ...rest, lower: scale(lower), upper: scale(upper), entry: scale(entry) };
        const plain = fitOf(lives);
        const other = fitOf({ ...lives, columns });
        sameNumbers(other, shifted(plain, Math.log(unit)));
        const exact = lower.reduce((n, age, i) => n + (age === upper[i] ? (rest.count[i] as number) : 0), 0);
        expect(other.logLikelihood + exact * Math.log(unit)).toBeCloseTo(plain.logLikelihood, 5);
      }),
      RUNS,
    );
  });

  it('does not depend on the order of rows to the last digit, nor on their merging', () => {
    fc.assert(
      fc.property(anyLives, fc.integer({ min: 1, max: 1e6 }), (lives, seed) => {
        const random = randomStream(seed, 'order');
        const keys = lives.columns.lower.map(() => random.uniform());
        const order = [...keys.keys()].sort((i, j) => (keys[i] as number) - (keys[j] as number));
        const pick = <T>(column: T[]): T[] => order.map((i) => column[i] as T);
        const { lower, upper, entry, count, cluster } = lives.columns;
        const mixed = fitOf({
          kind: lives.kind,
          columns: {
            lower: pick(lower),
            upper: pick(upper),
            entry: pick(entry),
            count: pick(count),
            cluster: pick(cluster),
          },
          covariates: { load: pick(lives.covariates.load), material: pick(lives.covariates.material) },
        });
        sameNumbers(mixed, fitOf(lives));
        const spread = order.flatMap((i) => new Array<number>(count[i] as number).fill(i));
        const each = <T>(column: T[]): T[] => spread.map((i) => column[i] as T);
        const apart = fitOf({
          kind: lives.kind,
          columns: {
            lower: each(lower),
            upper: each(upper),
            entry: each(entry),
            count: spread.map(() => 1),
            cluster: each(cluster),
          },
          covariates: { load: each(lives.covariates.load), material: each(lives.covariates.material) },
        });
        sameNumbers(apart, fitOf(lives));
      }),
      RUNS,
    );
  });

  it('with every count doubled has the same coefficients, twice the log-likelihood and half the plain variance', () => {
    fc.assert(
      fc.property(anyLives, (lives) => {
        const plain = fitOf(lives);
        const columns = { ...lives.columns, count: lives.columns.count.map((n) => 2 * n) };
        const twice = fitOf({ ...lives, columns });
        // Positions stay as many: the sandwich does not narrow.
        sameNumbers(twice, plain);
        expect(twice.logLikelihood / plain.logLikelihood).toBeCloseTo(2, 9);
        expect((twice.plainCovariance[0] as number) / (plain.plainCovariance[0] as number)).toBeCloseTo(
          0.5,
          7,
        );
      }),
      RUNS,
    );
  });

  it('has residuals whose exponential mean is 1 where the law is exponential or Weibull', () => {
    fc.assert(
      fc.property(anyLives, (lives) => {
        if (lives.kind !== 'exponential' && lives.kind !== 'weibull') return;
        const fit = fitOf(lives);
        const { model } = fitLife(coxSnell(fit), { kind: 'exponential' });
        expect('scale' in model && model.scale).toBeCloseTo(1, 7);
      }),
      RUNS,
    );
  });

  it('without covariates is fitLife', () => {
    fc.assert(
      fc.property(anyLives, ({ kind, columns }) => {
        const sample: LifeSample = lifeSample(columns);
        const fit = fitRegression(sample, {}, { kind, covariance: 'plain' });
        const life = fitLife(sample, { kind });
        expect(fit.logLikelihood).toBeCloseTo(life.logLikelihood, 7);
        const { model } = life;
        const location = 'mu' in model ? model.mu : Math.log((model as { scale: number }).scale);
        expect(fit.coefficients.intercept).toBeCloseTo(location, 6);
        if ('shape' in model) expect(fit.coefficients.logSigma).toBeCloseTo(-Math.log(model.shape), 6);
      }),
      RUNS,
    );
  });

  it('is at a maximum of the likelihood summed row by row over life models', () => {
    fc.assert(
      fc.property(anyLives, (lives) => {
        const fit = fitOf(lives);
        const rows = lives.columns.lower.map((_, i) => rowAlone(lifeSample(lives.columns), i));
        const value = (coefficients: Record<string, number>): number =>
          rows.reduce((total, row, i) => {
            const {
              intercept,
              load,
              'material=FKM': material,
              logSigma,
            } = coefficients as Record<string, number>;
            const isFkm = lives.covariates.material[i] === 'FKM' ? 1 : 0;
            const location =
              (intercept as number) +
              (load as number) * (lives.covariates.load[i] as number) +
              (material as number) * isFkm;
            return (
              total +
              rowLogLikelihood(row, 0, modelOf(lives.kind, location, logSigma)) * (row.count[0] as number)
            );
          }, 0);
        const top = value(fit.coefficients);
        expect(top).toBeCloseTo(fit.logLikelihood, 7);
        for (const [name, error] of Object.entries(fit.standardErrors)) {
          for (const step of [-0.02, 0.02]) {
            const there = { ...fit.coefficients, [name]: (fit.coefficients[name] as number) + step * error };
            expect(value(there)).toBeLessThan(top);
          }
        }
      }),
      RUNS,
    );
  });
});

function rowAlone(sample: LifeSample, i: number): LifeSample {
  const pick = (column: Float64Array): Float64Array => column.slice(i, i + 1);
  const { lower, upper, entry, count } = sample;
  return {
    lower: pick(lower),
    upper: pick(upper),
    entry: pick(entry),
    count: pick(count),
    cluster: Int32Array.of(-1),
  };
}

function modelOf(kind: Lives['kind'], location: number, logSigma = 0): FittedModel {
  if (kind === 'lognormal') return { kind, mu: location, sigma: Math.exp(logSigma) };
  const scale = Math.exp(location);
  return kind === 'exponential' ? { kind, scale } : { kind, shape: Math.exp(-logSigma), scale };
}

describe('whatever the sample', () => {
  /** A few lives of ages that need not go with anything: ties, levels in which nobody failed, columns that part lives. */
  const wild = fc.record({
    kind: fc.constantFrom(...KINDS),
    rows: fc.array(
      fc.record({
        age: fc.constantFrom(1, 2, 2, 3, 5, 8, 1e-9, 1e12),
        how: fc.constantFrom('exact', 'exact', 'sound', 'left', 'between', 'late'),
        x: fc.oneof(fc.integer({ min: 0, max: 2 }), fc.double({ min: -1e6, max: 1e6, noNaN: true })),
        m: fc.constantFrom('a', 'b', 'c'),
      }),
      { minLength: 2, maxLength: 14 },
    ),
    spreads: fc.boolean(),
  });

  it('gives finite numbers, or refuses with a sentence for the caller', () => {
    let fitted = 0;
    fc.assert(
      fc.property(wild, ({ kind, rows, spreads }) => {
        const sample = lifeSample({
          lower: rows.map(({ age, how }) => (how === 'left' ? 0 : age)),
          upper: rows.map(({ age, how }) => {
            if (how === 'sound') return Infinity;
            return how === 'between' ? 1.5 * age : age;
          }),
          entry: rows.map(({ age, how }) => (how === 'late' ? 0.5 * age : 0)),
        });
        const covariates = { x: rows.map(({ x }) => x), m: rows.map(({ m }) => m) };
        const shapeBy = spreads && kind !== 'exponential' ? ['m'] : [];
        try {
          const fit = fitRegression(sample, covariates, { kind, shapeBy, failuresPerCoefficient: 0 });
          fitted++;
          const numbers = [...Object.values(fit.coefficients), ...fit.covariance, fit.logLikelihood];
          expect(numbers.every(Number.isFinite)).toBe(true);
          expect(Object.values(fit.standardErrors).every((error) => error > 0)).toBe(true);
        } catch (error) {
          if (!(error instanceof UsageError)) throw error;
          expect(error.message).toMatch(/^fitRegression: /);
        }
      }),
      { numRuns: 600, seed: 20_267 },
    );
    expect(fitted).toBeGreaterThan(100);
  });
});
