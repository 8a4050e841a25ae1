/**
 * Numbers that once came out wrong elsewhere, from public reports named beside each; tags and numbers are made up. Values by R (survival) and
 * scipy, or in closed form as said.
 */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { chooseAge } from '../../lib/interval/chooseAge.js';
import { cumulativeIncidence } from '../../lib/life/empirical/cumulativeIncidence.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import { normalCdf } from '../../lib/numeric/special.js';
import { stockMeasures } from '../../lib/stock/measures.js';
import { normalLoss } from '../../lib/stock/newsvendor.js';
import { demandOver } from '../../lib/stock/reorderPoint.js';
import { apart, sampleOf } from '../reference/life/samples.js';

const weibull = (days: number[], failed: number[]): WeibullModel & { logLikelihood: number } => {
  const fit = fitLife(sampleOf(days, failed), { kind: 'weibull' });
  return { ...(fit.model as WeibullModel), logLikelihood: fit.logLikelihood };
};

describe('05: a flag that may mean failed or censored (github.com/sebp/scikit-survival/issues/261)', () => {
  const days = [200, 350, 410, 520, 600, 600, 600, 600];
  const failed = [1, 1, 0, 1, 0, 0, 0, 0];
  const censored = failed.map((flag) => 1 - flag);

  it('gives one answer whichever of the two the file holds, once it is said which', () => {
    for (const flags of [failed, censored.map((flag) => 1 - flag)]) {
      const fit = weibull(days, flags);
      expect(apart(fit.shape, 2.0366674)).toBeLessThan(1e-7);
      expect(apart(fit.scale, 818.58589)).toBeLessThan(1e-7);
      expect(apart(fit.logLikelihood, -23.8009122)).toBeLessThan(1e-8);
    }
  });

  it('would give quite another the wrong way round', () => {
    const fit = weibull(days, censored);
    expect(fit.shape).toBeCloseTo(14.076, 3);
    expect(fit.scale).toBeCloseTo(591.994, 2);
  });
});

describe('19: two ways to fail, neither plain censoring of the other (pmc.ncbi.nlm.nih.gov/articles/PMC2410013)', () => {
  const days = [120, 180, 240, 300, 360, 420, 480, 540, 600, 600];
  const modes = ['tear', 'chem', 'tear', '', 'chem', 'tear', 'chem', 'chem', '', ''];
  const number = modes.map((mode) => ['', 'tear', 'chem'].indexOf(mode));
  const sample = lifeSample({ lower: days, upper: days.map((age, i) => (number[i] === 0 ? Infinity : age)) });

  it('the shares of both by an age add up to the whole', () => {
    const { modes: curves } = cumulativeIncidence(sample, number);
    const at540 = curves.map(({ age, incidence }) => incidence[age.filter((t) => t <= 540).length - 1] ?? 0);
    expect(at540[0]).toBeCloseTo(0.3166667, 7);
    expect(at540[1]).toBeCloseTo(0.45, 12);
    expect((at540[0] ?? 0) + (at540[1] ?? 0)).toBeCloseTo(0.7666667, 7);
  });

  it('each mode by itself, where the two are independent, has its own Weibull', () => {
    const tear = weibull(
      days,
      modes.map((mode) => (mode === 'tear' ? 1 : 0)),
    );
    const chem = weibull(
      days,
      modes.map((mode) => (mode === 'chem' ? 1 : 0)),
    );
    expect(apart(tear.shape, 1.469279)).toBeLessThan(1e-6);
    expect(apart(tear.scale, 909.429)).toBeLessThan(1e-6);
    expect(apart(chem.shape, 2.85561)).toBeLessThan(1e-6);
    expect(apart(chem.scale, 606.038)).toBeLessThan(1e-6);
  });
});

describe('23: the cost of a leak, whole or extra (studylib.net/doc/15636608)', () => {
  const model = { kind: 'weibull', shape: 3, scale: 1000 } as const;
  const ageAt = (leak: number): number => chooseAge(model, { replacement: 1, leak }).age ?? Number.NaN;

  it('is the whole cost: planned 1 and extra 4 make 5', () => {
    expect(ageAt(5)).toBeCloseTo(502.61, 2);
    // What the two misreadings would give.
    expect(ageAt(4)).toBeCloseTo(554.15, 2);
    expect(ageAt(6)).toBeCloseTo(466.1, 2);
  });
});

describe('25: 98 % of what (neoprimate.github.io/IEOR/supply-chain/service-levels/fill-rate)', () => {
  it('share of time ready and share of pieces served are two numbers, one step apart for one-for-one stock', () => {
    const levels = [3, 4, 5, 6, 7, 8];
    const measures = levels.map((level) =>
      stockMeasures({ kind: 'baseStock', level }, { kind: 'poisson', mean: 3 }),
    );
    const ready = [0.647232, 0.815263, 0.916082, 0.966491, 0.988095, 0.996197];
    const served = [0.42319, 0.647232, 0.815263, 0.916082, 0.966491, 0.988095];
    measures.forEach(({ readyRate, fillRate }, i) => {
      expect(readyRate).toBeCloseTo(ready[i] ?? 0, 6);
      expect(fillRate).toBeCloseTo(served[i] ?? 0, 6);
    });
    expect(levels[measures.findIndex(({ readyRate }) => readyRate >= 0.95)]).toBe(6);
    expect(levels[measures.findIndex(({ fillRate }) => fillRate >= 0.95)]).toBe(7);
  });

  it('with normal demand of 20 and spread 6, lots of 80: what each reorder point serves (closed form)', () => {
    const served = (point: number): number => 1 - (6 * normalLoss((point - 20) / 6)) / 80;
    expect(served(20)).toBeCloseTo(0.970079, 6);
    expect(served(21.8015)).toBeCloseTo(0.98, 5);
    expect(served(12.2811)).toBeCloseTo(0.9, 5);
    expect(normalCdf(32.3225, 20, 6)).toBeCloseTo(0.98, 5);
    expect(normalCdf(21.8015, 20, 6)).toBeCloseTo(0.618006, 4);
  });
});

describe('29: lead time in weeks, demand by month (imathworks.com, why the root of the lead time enters)', () => {
  const MONTH = 365.25 / 12;
  const random = { perDay: 1.5 / MONTH, variancePerDay: 1.5 / MONTH, rateSd: 0 };

  it('both in days, with the spread of the lead time: mean 2.07, spread 1.60', () => {
    const law = demandOver(random, 6 * 7, 2 * 7);
    expect(law).toMatchObject({ kind: 'negativeBinomial' });
    expect(law.mean).toBeCloseTo(2.069815, 6);
    expect('variance' in law ? Math.sqrt(law.variance) : 0).toBeCloseTo(1.595566, 6);
    const known = demandOver(random, 6 * 7, 0);
    expect([known.kind, Math.sqrt(known.mean)]).toEqual(['poisson', expect.closeTo(1.438685, 6)]);
  });

  it('a lead time that is no length of time is refused', () => {
    expect(() =>
      stockMeasures(
        { kind: 'review', level: 3, leadPeriods: Number.NaN, reviewPeriods: 1 },
        { kind: 'poisson', mean: 1 },
      ),
    ).toThrow(UsageError);
  });
});
