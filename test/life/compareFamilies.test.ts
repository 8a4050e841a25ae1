/** The rule by which a family is chosen, the test of a constant rate, and the correction of the shape. */
import { describe, expect, it } from 'vitest';
import { drawLives } from '../../lib/life/distribution/functions.js';
import { compareFamilies } from '../../lib/life/estimate/compareFamilies.js';
import { correctBias } from '../../lib/life/estimate/correctBias.js';
import { exponentialTest } from '../../lib/life/estimate/exponentialTest.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { FittedKind, LifeModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';
import cases from '../reference/life/published.json' with { type: 'json' };
import { apart, sampleOf } from '../reference/life/samples.js';

const exact = (ages: ArrayLike<number>): LifeSample => lifeSample({ lower: ages, upper: ages });
const drawn = (model: LifeModel, lives: number): LifeSample =>
  exact(drawLives(model, lives, randomStream(31, 'families')));

describe('compareFamilies', () => {
  const lognormal = drawn({ kind: 'lognormal', mu: 6, sigma: 0.9 }, 200);

  it('gives the criteria of each fit, lowest AIC first', () => {
    const { rows, failures } = compareFamilies(lognormal);
    expect(rows).toHaveLength(7);
    expect(failures).toBe(200);
    let last = -Infinity;
    for (const row of rows) {
      const fit = fitLife(lognormal, { kind: row.kind });
      expect(row.parameters).toBe(fit.parameters.length);
      expect(row.logLikelihood).toBe(fit.logLikelihood);
      const [k, aic] = [row.parameters, row.aic ?? Number.NaN];
      expect(aic).toBe(2 * k - 2 * fit.logLikelihood);
      expect(apart(row.aicc ?? 0, aic + (2 * k * (k + 1)) / (199 - k))).toBeLessThan(1e-14);
      expect(apart(row.bic ?? 0, k * Math.log(200) - 2 * fit.logLikelihood)).toBeLessThan(1e-14);
      expect(row.aboveBest).toBe(aic - (rows[0]?.aic ?? 0));
      expect(aic).toBeGreaterThanOrEqual(last);
      last = aic;
    }
  });

  it('leaves the Weibull only for an AIC lower by 6 with 20 failures', () => {
    const { chosen, secondOpinion, warnings } = compareFamilies(lognormal, ['weibull', 'lognormal']);
    expect([chosen, secondOpinion]).toEqual(['lognormal', null]);
    expect(warnings.map(({ code }) => code)).toEqual(['other-family']);
    // Nineteen lives, one too few, whatever the AIC.
    const few = compareFamilies(
      exact([1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.7, 2, 2.4, 3, 4, 6, 9, 20, 60, 200, 800, 5e3, 9e4]),
    );
    expect(few.rows.find(({ kind }) => kind === 'weibull')?.aboveBest).toBeGreaterThan(6);
    expect([few.chosen, few.secondOpinion]).toEqual(['weibull', 'lognormal']);
    expect(few.warnings.map(({ code }) => code)).toContain('too-few-to-choose');
    const close = compareFamilies(drawn({ kind: 'weibull', shape: 2, scale: 500 }, 60));
    expect([close.chosen, close.secondOpinion]).toEqual(['weibull', 'lognormal']);
    expect(close.warnings.map(({ code }) => code)).not.toContain('too-few-to-choose');
  });

  it('a family that cannot be fitted is a row with its reason', () => {
    const one = compareFamilies(sampleOf([5, 7], [0, 1]));
    expect(one.chosen).toBeNull();
    expect(one.rows[0]?.kind).toBe('exponential');
    const weibull = one.rows.find(({ kind }) => kind === 'weibull');
    expect(weibull?.reason).toMatch(/largest age/);
    expect([weibull?.aic, weibull?.fit]).toEqual([null, null]);
    expect(one.warnings.map(({ code }) => code)).toEqual(['no-family', 'family-not-fitted']);
    const none = compareFamilies(sampleOf([5, 7], [0, 0]));
    expect(none.rows.every(({ fit, reason }) => fit === null && reason !== null)).toBe(true);
    expect(none.chosen).toBeNull();
  });

  it('refuses kinds that are none, twice the same, or no Weibull', () => {
    expect(() => compareFamilies(lognormal, ['normal' as FittedKind, 'weibull'])).toThrow(
      /kinds must be among/,
    );
    expect(() => compareFamilies(lognormal, ['weibull', 'weibull'])).toThrow(/named once/);
    expect(() => compareFamilies(lognormal, ['lognormal'])).toThrow(/include weibull/);
  });
});

describe('exponentialTest', () => {
  it('gives the published ratios and chances (H4)', () => {
    const { data, expected } = cases.H4;
    const fans = exponentialTest(sampleOf(data.fanHours, data.fanStatus));
    expect(apart(fans.ratio, expected.fans.lr)).toBeLessThan(1e-9);
    expect(apart(fans.pValue, expected.fans.p)).toBeLessThan(1e-9);
    const bearings = exponentialTest(exact(data.millionRevs));
    expect(apart(bearings.ratio, expected.bearings.lr)).toBeLessThan(1e-9);
    expect(bearings.signedRoot).toBe(Math.sqrt(bearings.ratio));
    expect(apart(2 * bearings.pRising, bearings.pValue)).toBeLessThan(1e-12);
    expect(bearings.canBeJudged).toBe(true);
  });

  it('has a sign, and says when failures are too few', () => {
    const falling = exponentialTest(exact([1, 2, 3, 50, 900]));
    expect(falling.shape).toBeLessThan(1);
    expect(falling.signedRoot).toBe(-Math.sqrt(falling.ratio));
    expect(falling.pRising).toBeGreaterThan(0.5);
    expect(falling.canBeJudged).toBe(false);
    expect(falling.warnings[0]?.text).toMatch(/cannot be judged/);
    expect(() => exponentialTest(exact([4, 4]))).toThrow(/one age/);
  });

  it('rejects a constant rate as often as it says', () => {
    // Of 2000 samples of 30 a nominal 5 %: the standard error of the share, 0.5 %, is an eighth of the effect, a share of 9 %.
    const random = randomStream(32, 'size of the test');
    let [risen, rejected] = [0, 0];
    for (let k = 0; k < 2000; k++) {
      const test = exponentialTest(exact(drawLives({ kind: 'exponential', scale: 1 }, 30, random)));
      if (test.pValue < 0.05) rejected++;
      if (test.pRising < 0.5) risen++;
    }
    expect(Math.abs(rejected / 2000 - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / 2000));
    // The shape of 30 lives is above 1 in more than half of samples: the median of its estimate is 3 % too high.
    expect(risen / 2000).toBeGreaterThan(0.5);
    expect(risen / 2000).toBeLessThan(0.7);
  });
});

describe('correctBias', () => {
  /** Mean of the corrected shape over the true one and its standard error, r failures of n. */
  function meanOf(n: number, r: number, times: number): { corrected: number; fitted: number; error: number } {
    const random = randomStream(33, `bias ${n} ${r}`);
    let [total, squares, plain] = [0, 0, 0];
    for (let k = 0; k < times; k++) {
      const ages = drawLives({ kind: 'exponential', scale: 1 }, n, random).sort();
      const last = ages[r - 1] as number;
      const sample = lifeSample({
        lower: ages.map((t) => Math.min(t, last)),
        upper: ages.map((t, i) => (i < r ? t : Infinity)),
      });
      const { shape, fittedShape } = correctBias(fitLife(sample, { kind: 'weibull' }));
      total += shape;
      squares += shape * shape;
      plain += fittedShape;
    }
    const corrected = total / times;
    return { corrected, fitted: plain / times, error: Math.sqrt((squares / times - corrected ** 2) / times) };
  }

  // The bias to be taken away is 43, 17 and 7 % in complete samples; 58 % and 22 % where half have failed.
  it.each([
    [5, 5, 0.01],
    [10, 10, 0.01],
    [20, 20, 0.01],
    [10, 5, 0.05],
    [20, 10, 0.03],
  ])('%d lives, %d failures: the mean is right within %d', (n, r, off) => {
    const { corrected, fitted, error } = meanOf(n, r, 2500);
    expect(error).toBeLessThan((fitted - 1) / 8);
    expect(Math.abs(corrected - 1)).toBeLessThan(4 * error + off);
    expect(fitted - 1).toBeGreaterThan(2 * Math.abs(corrected - 1));
  });

  it('agrees with the table of unbiasing factors of Thoman, Bain & Antle (1969) within 1 %', () => {
    // From memory: 10 lives 0.859, 20 lives 0.931, 30 lives 0.955.
    for (const [n, factor] of [
      [10, 0.859],
      [20, 0.931],
      [30, 0.955],
    ] as const) {
      const fit = fitLife(exact(Array.from({ length: n }, (_, i) => i + 1)), { kind: 'weibull' });
      const done = correctBias(fit);
      expect(Math.abs(done.shape / done.fittedShape / factor - 1)).toBeLessThan(0.01);
      expect(done.method).toMatch(/Ross 1996/);
      expect(done.warnings).toEqual([]);
    }
  });

  it('warns where it does not hold and refuses what it was not made for', () => {
    const heavy = fitLife(sampleOf([1, 2, 3, 4, 4, 4, 4, 4, 4], [1, 1, 1, 1, 0, 0, 0, 0, 0]), {
      kind: 'weibull',
    });
    expect(correctBias(heavy).warnings.map(({ code }) => code)).toEqual([
      'bias-few-failures',
      'bias-heavy-censoring',
    ]);
    const late = fitLife(sampleOf([1, 2, 3, 4, 5, 6], [1, 1, 1, 1, 1, 1], [0, 0, 0, 1, 1, 1]), {
      kind: 'weibull',
    });
    expect(correctBias(late).warnings.map(({ code }) => code)).toEqual(['bias-other-rows']);
    const five = exact([1, 2, 3, 4, 5]);
    expect(() => correctBias(fitLife(five, { kind: 'weibull', shape: 2 }))).toThrow(/maximum likelihood/);
    expect(() => correctBias(fitLife(five, { kind: 'weibull', method: 'posterior' }))).toThrow(
      /without a prior/,
    );
    expect(() => correctBias(fitLife(five, { kind: 'lognormal' }))).toThrow(/plain Weibull/);
    expect(() => correctBias(fitLife(exact([1, 2]), { kind: 'weibull' }))).toThrow(/3 failures/);
  });
});
