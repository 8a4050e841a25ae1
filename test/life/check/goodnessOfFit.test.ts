import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { type Goodness, goodnessOfFit } from '../../../lib/life/check/goodnessOfFit.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { type Plant, SIMULATED, simulatedLives } from './simulatedLives.js';

/** Right when the law is right: rejected at 0.05 as often as that. With 39 samples p = 0.05 is a possible value. */
function rejections(plant: Plant, samples: number): { rejected: number; judged: number } {
  let [rejected, judged] = [0, 0];
  for (let seed = 1; seed <= samples; seed++) {
    const { sample, closing } = simulatedLives(plant, seed);
    const { p } = goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), {
      seed,
      resamples: 59,
      closing,
    });
    if (p === null) continue;
    judged++;
    if (p <= 0.05) rejected++;
  }
  return { rejected, judged };
}

/** Weibull lives of shape 2, each looked at every 0 to 400 days until its removal at 1200 days at most. */
function inspectedAtOwnAges(seed: number, lives: number): LifeSample {
  const random = randomStream(seed, 'test/own-inspections');
  const [lower, upper] = [new Float64Array(lives), new Float64Array(lives)];
  for (let i = 0; i < lives; i++) {
    const age = 900 * Math.sqrt(-Math.log(random.uniform()));
    let [sound, found] = [0, 0];
    while (found < age) [sound, found] = [found, found + 400 * random.uniform()];
    lower[i] = age > 1200 ? 1200 : sound;
    upper[i] = age > 1200 ? Infinity : Math.min(found, 1200);
  }
  return lifeSample({ lower, upper });
}

describe('goodnessOfFit', () => {
  it('rejects a right law as often as it says, whole days, entries, planned ends and running lives included', () => {
    const { rejected, judged } = rejections(SIMULATED.right, 300);
    expect(judged).toBe(300);
    // Binomial (300, 0.05): 4 to 29 at 99.9 %.
    expect(rejected).toBeGreaterThanOrEqual(4);
    expect(rejected).toBeLessThanOrEqual(29);
  }, 30_000);

  it('finds two kinds of lives in one, and a wrong family', () => {
    // At nominal 0.05, 25 samples of a right law give more than 5 in one case of 1000.
    expect(rejections(SIMULATED.mixture, 25).rejected).toBeGreaterThan(12);
    expect(rejections(SIMULATED.lognormal, 25).rejected).toBeGreaterThan(12);
  }, 30_000);

  it('does not reject a right law because lives are inspected at ages of their own', () => {
    let [rejected, low] = [0, 0];
    for (let seed = 1; seed <= 60; seed++) {
      const sample = inspectedAtOwnAges(seed, 60);
      const got = goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), { seed, resamples: 59 });
      expect(got.warnings.map(({ code }) => code)).toEqual(['own-inspections']);
      if ((got.p ?? 0) <= 0.05) rejected++;
      if ((got.p ?? 0) <= 0.5) low++;
    }
    // Binomial (60, 0.05) is at most 10 at 99.9 %, (60, 0.5) within 17 and 43; as if inspected at all ends it was 56 of 60.
    expect(rejected).toBeLessThanOrEqual(10);
    expect(low).toBeGreaterThanOrEqual(17);
    expect(low).toBeLessThanOrEqual(43);
  }, 30_000);

  it('judges a hundred wide overlapping intervals with 999 samples in seconds', () => {
    const sample = inspectedAtOwnAges(7, 100);
    const got = goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), { seed: 1 });
    expect(got.resamples).toBe(999);
  }, 20_000);

  it('says that few failures cannot be judged', () => {
    const ages = [100, 200, 300, 400, 500, 600, 700, 800, 900];
    const sample = lifeSample({ lower: ages, upper: ages });
    const got = goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), { seed: 1 });
    expect(got).toMatchObject({
      p: null,
      standardError: null,
      failures: 9,
      verdict: { code: 'cannot-be-judged' },
    });
    expect(got.verdict.text).toContain('there are 9 failures, and 10 are needed');
    const sound = lifeSample({ lower: [500], upper: [Infinity], count: [20] });
    const none = goodnessOfFit(sound, fitLife(sound, { kind: 'weibull', shape: 2 }), { seed: 1 });
    expect(none).toMatchObject({ statistic: null, p: null, verdict: { code: 'cannot-be-judged' } });
  });

  it('gives the same for a seed, whatever the order and the merging of rows of one kind', () => {
    const { sample, closing } = simulatedLives(SIMULATED.right, 5);
    const fit = fitLife(sample, { kind: 'weibull' });
    const once = goodnessOfFit(sample, fit, { seed: 3, resamples: 199, closing });
    expect(goodnessOfFit(sample, fit, { seed: 3, resamples: 199, closing })).toEqual(once);
    const other = goodnessOfFit(sample, fit, { seed: 4, resamples: 199, closing });
    expect(other.statistic).toBe(once.statistic);
    const apart = Math.abs((other.p as number) - (once.p as number));
    expect(apart).toBeGreaterThan(0);
    expect(apart).toBeLessThan(4 * Math.SQRT2 * (once.standardError as number));
  });

  it('does not depend on the unit of age', () => {
    const ages = [17.88, 28.92, 33.5, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8];
    const judge = (unit: number): Goodness => {
      const sample = lifeSample({ lower: ages.map((t) => t * unit), upper: ages.map((t) => t * unit) });
      return goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), { seed: 1, resamples: 99 });
    };
    // 1e12 times such ages are whole numbers: whole is then how they are written down, which moves nothing.
    for (const unit of [1e-9, 1e12]) {
      expect(judge(unit).p).toBe(judge(1).p);
      expect(Math.abs((judge(unit).statistic as number) - (judge(1).statistic as number))).toBeLessThan(1e-9);
    }
  });

  it('warns of positions that repeat and of inspections', () => {
    const lower = Array.from({ length: 30 }, (_, i) => 30 * (i % 12));
    const upper = lower.map((age, i) => (i % 3 === 0 ? Infinity : age + 60));
    const sample = lifeSample({ lower, upper, cluster: lower.map((_, i) => i % 10) });
    const got = goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), { seed: 1, resamples: 19 });
    expect(got.warnings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['positions-repeat', 'own-inspections']),
    );
    const apart = lifeSample({ lower, upper: upper.map((age) => (age === Infinity ? age : age - 30)) });
    const common = goodnessOfFit(apart, fitLife(apart, { kind: 'weibull' }), { seed: 1, resamples: 19 });
    expect(common.warnings.map(({ code }) => code)).toContain('common-inspections');
    expect(got.p).toBeGreaterThan(0);
  });

  it('stops at so many samples as far off, with p as many over those drawn', () => {
    const { sample, closing } = simulatedLives(SIMULATED.right, 5);
    const fit = fitLife(sample, { kind: 'weibull' });
    const all = goodnessOfFit(sample, fit, { seed: 3, resamples: 199, closing });
    const stopped = goodnessOfFit(sample, fit, { seed: 3, resamples: 199, closing, enough: 5 });
    expect(stopped.resamples).toBeLessThan(199);
    expect(stopped.p).toBe(5 / stopped.resamples);
    expect(stopped.statistic).toBe(all.statistic);
    // One fewer drawn and the fifth is not there: then the p of a run that was not stopped.
    const short = stopped.resamples - 1;
    const cut = goodnessOfFit(sample, fit, { seed: 3, resamples: Math.max(19, short), closing, enough: 5 });
    expect(cut.p).toBe(short < 19 ? stopped.p : 5 / (1 + short));
    // Never reached: as if it were not given.
    expect(goodnessOfFit(sample, fit, { seed: 3, resamples: 199, closing, enough: 200 })).toEqual(all);
  });

  it('is no more ready to reject a right law for stopping (Besag & Clifford 1991)', () => {
    let low = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const { sample, closing } = simulatedLives(SIMULATED.right, seed);
      const fit = fitLife(sample, { kind: 'weibull' });
      const { p } = goodnessOfFit(sample, fit, { seed, resamples: 99, closing, enough: 5 });
      if ((p ?? 0) <= 0.2) low++;
    }
    // Binomial (200, 0.2): 40 with a standard error of 5.7.
    expect(low).toBeLessThanOrEqual(62);
    expect(low).toBeGreaterThanOrEqual(18);
  }, 30_000);

  it('refuses nonsense', () => {
    const { sample } = simulatedLives(SIMULATED.right, 1);
    const fit = fitLife(sample, { kind: 'weibull' });
    expect(() => goodnessOfFit(sample, fit, { seed: 1, resamples: 10 })).toThrow(UsageError);
    expect(() => goodnessOfFit(sample, fit, { seed: 1, closing: [1] })).toThrow('goodnessOfFit: closing');
    for (const enough of [0, 1.5, Number.NaN]) {
      expect(() => goodnessOfFit(sample, fit, { seed: 1, enough })).toThrow('goodnessOfFit: enough');
    }
  });
});
