/** A3, A4, D1, D2, D4, D5: ranks and lines on probability paper against published.json (sources there) and handbook.py. */
import { describe, expect, it } from 'vitest';
import { benardRank, failureRanks, medianRank, rankQuantile } from '../../../../lib/life/empirical/ranks.js';
import { fitByRanks, type RankFitOptions } from '../../../../lib/life/estimate/rankRegression.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import type { LifeSample } from '../../../../lib/life/sampleTypes.js';
import { apart } from '../samples.js';
import second from './handbook.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };

/** Failures of n lives, the others sound at an age above all of them. */
function firstFailures(ages: readonly number[], n: number): LifeSample {
  const sound = n - ages.length;
  const end = 2 * Math.max(...ages);
  return lifeSample({
    lower: sound > 0 ? [...ages, end] : ages,
    upper: sound > 0 ? [...ages, Infinity] : ages,
    count: sound > 0 ? [...ages.map(() => 1), sound] : ages.map(() => 1),
  });
}

function weibullLine(sample: LifeSample, options: Omit<RankFitOptions, 'kind'>) {
  const { model, r2, points } = fitByRanks(sample, { kind: 'weibull', ...options });
  if (model.kind !== 'weibull') throw new Error('not a Weibull');
  return { shape: model.shape, scale: model.scale, r2, points };
}

describe('A3 and D4: ten failures of twenty, NIST/SEMATECH e-Handbook 8.4.1.1', () => {
  const { data, expected, published } = cases.A3;
  const sample = firstFailures(data.failures, data.n);

  it('A3: cumulative hazards at the plotting positions, as printed', () => {
    const { rank } = failureRanks(sample, 'benard');
    rank.forEach((p, k) => {
      const hazard = -Math.log1p(-p);
      expect(apart(hazard, expected.y[k] as number)).toBeLessThan(1e-12);
      expect(hazard.toFixed(8)).toBe((published.y[k] as number).toFixed(8));
    });
    expect(rank).toHaveLength(expected.y.length);
  });

  it('A3: intercept and slope of log10 hazard on log10 age, as printed', () => {
    const { shape, scale, r2 } = weibullLine(sample, { ranks: 'benard', regress: 'rank' });
    const intercept = -shape * Math.log10(scale);
    expect(shape.toFixed(6)).toBe(published.slope.toFixed(6));
    expect(intercept.toFixed(6)).toBe(published.intercept.toFixed(6));
    for (const [got, want] of [
      [shape, expected.shape_yonx],
      [scale, expected.scale_yonx],
      [intercept, expected.intercept_yonx],
      [r2, expected.r2],
    ] as const) {
      expect(apart(got, want)).toBeLessThan(1e-9);
    }
    const other = weibullLine(sample, { ranks: 'benard', regress: 'age' });
    expect(apart(other.shape, expected.shape_xony)).toBeLessThan(1e-9);
    expect(apart(other.scale, expected.scale_xony)).toBeLessThan(1e-9);
  });

  it.each(['benard', 'exact'] as const)('D4: both directions by %s ranks', (ranks) => {
    const want = cases.D4.expected[ranks === 'exact' ? 'exactMedianRanks' : 'benard'];
    const road = second.A3[ranks];
    for (const regress of ['age', 'rank'] as const) {
      const got = weibullLine(sample, { ranks, regress });
      const { shape, scale } = regress === 'age' ? want.xOnY : want.yOnX;
      expect(apart(got.shape, shape)).toBeLessThan(1e-10);
      expect(apart(got.scale, scale)).toBeLessThan(1e-10);
      expect(apart(got.r2, want.r2)).toBeLessThan(1e-10);
      expect(apart(got.shape, road[regress][0] as number)).toBeLessThan(1e-10);
      expect(apart(got.scale, road[regress][1] as number)).toBeLessThan(1e-10);
    }
  });
});

describe('D5: ball bearings (Lieblein & Zelen 1956)', () => {
  // The source gives the two lives of 68.64 ranks of their own; here a tie is one point. So the second is set a hair later,
  // which moves the log age by 1e-13.
  const ages = cases.D5.data.millionRevs.map((t, k, all) => (t === all[k - 1] ? t * (1 + 1e-13) : t));
  const sample = firstFailures(ages, ages.length);

  it.each(['benard', 'exact', 'hazen', 'mean'] as const)('both directions by %s ranks', (ranks) => {
    const want = cases.D5.expected[ranks === 'exact' ? 'exactMedianRanks' : ranks];
    const road = second.D5[ranks];
    for (const regress of ['age', 'rank'] as const) {
      const got = weibullLine(sample, { ranks, regress });
      const { shape, scale } = regress === 'age' ? want.xOnY : want.yOnX;
      expect(apart(got.shape, shape)).toBeLessThan(1e-10);
      expect(apart(got.scale, scale)).toBeLessThan(1e-10);
      expect(apart(got.r2, want.r2)).toBeLessThan(1e-10);
      expect(apart(got.shape, road[regress][0] as number)).toBeLessThan(1e-10);
      expect(got.points.age).toHaveLength(23);
    }
  });
});

describe('D1 and D2: ranks of one to ten lives (Johnson 1951; qbeta)', () => {
  const numbers = Array.from({ length: 10 }, (_, k) => k + 1);

  it.each(numbers)('D1, D2: n = %i', (n) => {
    for (let i = 1; i <= n; i++) {
      const { expected } = cases.D1;
      const pick = (table: { ranks: number[] }[]): number => table[n - 1]?.ranks[i - 1] as number;
      expect(apart(medianRank(i, n), pick(expected.exactMedian))).toBeLessThan(1e-12);
      expect(apart(rankQuantile(i, n, 0.5), pick(expected.exactMedian))).toBeLessThan(1e-12);
      expect(apart(benardRank(i, n), pick(expected.benard))).toBeLessThan(1e-12);
      expect(apart(rankQuantile(i, n, 0.05), pick(cases.D2.expected.rank05))).toBeLessThan(1e-12);
      expect(apart(rankQuantile(i, n, 0.95), pick(cases.D2.expected.rank95))).toBeLessThan(1e-12);
      // The second road's binomial tail is good to about 1e-13 of 1.
      const road = (table: number[][]): number => table[n - 1]?.[i - 1] as number;
      expect(Math.abs(medianRank(i, n) - road(second.D1))).toBeLessThan(1e-12);
      expect(Math.abs(rankQuantile(i, n, 0.05) - road(second.D2['0.05']))).toBeLessThan(1e-12);
      expect(Math.abs(rankQuantile(i, n, 0.95) - road(second.D2['0.95']))).toBeLessThan(1e-12);
    }
  });

  it('D1, D2: as the tables print them, four digits', () => {
    const printed = (n: number, of: (i: number) => number): number[] =>
      Array.from({ length: n }, (_, k) => Number(of(k + 1).toFixed(4)));
    const { n3, n4, n5, n10 } = cases.D1.published;
    for (const row of [n3, n4, n5, n10]) {
      expect(printed(row.length, (i) => medianRank(i, row.length))).toEqual(row);
    }
    expect(printed(10, (i) => rankQuantile(i, 10, 0.05))).toEqual(cases.D2.published.n10_rank05);
  });
});

describe('A4: Arrhenius by probability plots, NIST/SEMATECH e-Handbook 8.4.2.1', () => {
  const { data, inputs, expected, published } = cases.A4;
  const cells = [data.cell85, data.cell105, data.cell125].map((ages, k) => {
    const { model } = fitByRanks(firstFailures(ages, data.units[k] as number), {
      kind: 'lognormal',
      ranks: 'benard',
      regress: 'age',
    });
    if (model.kind !== 'lognormal') throw new Error('not a lognormal');
    return model;
  });

  it('log of the median life and spread of each cell', () => {
    cells.forEach(({ mu, sigma }, k) => {
      expect(mu.toFixed(6)).toBe((published.lnT50[k] as number).toFixed(6));
      expect(apart(mu, expected.lnT50[k] as number)).toBeLessThan(1e-9);
      expect(apart(sigma, expected.cellSigma[k] as number)).toBeLessThan(1e-9);
      expect(apart(mu, second.A4.lnT50[k] as number)).toBeLessThan(1e-9);
      expect(apart(sigma, second.A4.cellSigma[k] as number)).toBeLessThan(1e-9);
    });
  });

  it('line through the cells, each weighing as many as failed there', () => {
    const x = data.tempC.map((celsius) => 11605 / (celsius + 273.15));
    expect(x.map((value) => Number(value.toFixed(5)))).toEqual(published.x);
    const mean = (values: readonly number[]): number =>
      values.reduce((total, v, k) => total + v * (inputs.weights[k] as number), 0) / 64;
    const [middle, centre] = [mean(cells.map(({ mu }) => mu)), mean(x)];
    const deltaH =
      mean(cells.map(({ mu }, k) => ((x[k] as number) - centre) * (mu - middle))) /
      mean(x.map((value) => (value - centre) ** 2));
    const intercept = middle - deltaH * centre;
    expect(deltaH.toFixed(7)).toBe(published.deltaH.toFixed(7));
    expect(intercept.toFixed(7)).toBe(published.intercept.toFixed(7));
    expect(Math.exp(intercept).toPrecision(7)).toBe(published.A.toPrecision(7));
    for (const road of [expected, second.A4]) {
      expect(apart(deltaH, road.deltaH)).toBeLessThan(1e-9);
      expect(apart(intercept, road.intercept)).toBeLessThan(1e-9);
    }
    // The handbook takes 273.15 above and 273.16 for the acceleration that it prints.
    const acceleration = (zero: number): number =>
      Math.exp(deltaH * 11605 * (1 / (85 + zero) - 1 / (125 + zero)));
    expect(acceleration(273.16).toFixed(5)).toBe(published.acceleration.toFixed(5));
    expect(apart(acceleration(273.16), expected['acceleration85to125_kelvin273.16'])).toBeLessThan(1e-9);
    expect(apart(acceleration(273.15), expected['acceleration85to125_kelvin273.15'])).toBeLessThan(1e-9);
  });
});
