/** A5, B4, B6: life at several temperatures and voltages against published.json (handbook; R survreg) and arrhenius.R (the likelihood by optim). */
import { describe, expect, it } from 'vitest';
import { compareGroups } from '../../../../lib/life/check/compareGroups.js';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import { fitRegression } from '../../../../lib/life/estimate/regression/fitRegression.js';
import { predictLife } from '../../../../lib/life/estimate/regression/predictLife.js';
import type { RegressionFit } from '../../../../lib/life/estimate/regression/types.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import { chiSquareQuantile, gammaQ } from '../../../../lib/numeric/special.js';
import { apart, sampleOf } from '../samples.js';
import second from './arrhenius.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };

/** Largest difference of two covariances, relative to the standard errors that belong to it. */
function covarianceApart(got: readonly number[], want: readonly number[]): number {
  const size = Math.sqrt(want.length);
  const sd = (i: number): number => Math.sqrt(want[i * size + i] as number);
  return Math.max(
    ...want.map((v, k) => Math.abs((got[k] as number) - v) / (sd(Math.floor(k / size)) * sd(k % size))),
  );
}

interface Road {
  coef: number[];
  covariance: number[];
  logLik: number;
}

/** 1e-6 as the case says. */
function agree(fit: RegressionFit, road: Road): void {
  const got = Object.values(fit.coefficients);
  expect(got).toHaveLength(road.coef.length);
  for (const [j, value] of got.entries()) expect(apart(value, road.coef[j] as number)).toBeLessThan(1e-6);
  expect(covarianceApart(fit.covariance, road.covariance)).toBeLessThan(1e-6);
  expect(apart(fit.logLikelihood, road.logLik)).toBeLessThan(1e-9);
}

describe('A5: three cells, NIST/SEMATECH e-Handbook 8.4.2.2', () => {
  const { data, inputs, expected, published } = cases.A5;
  const cells = [data.cell85, data.cell105, data.cell125].map((ages, k) => {
    const sound = (data.units[k] as number) - ages.length;
    return sampleOf(
      [...ages, ...Array.from({ length: sound }, () => data.censorTime)],
      [...ages.map(() => 1), ...Array.from({ length: sound }, () => 0)],
    );
  });
  const all = lifeSample({
    lower: cells.flatMap(({ lower }) => Array.from(lower)),
    upper: cells.flatMap(({ upper }) => Array.from(upper)),
  });
  // The handbook's own constants: 8.617e-5 eV/K and 273.16.
  const x = cells.flatMap(({ lower }, k) =>
    Array.from(lower, () => 1 / (inputs.boltzmann_eV * ((data.tempC[k] as number) + inputs.kelvinOffset))),
  );
  const together = fitRegression(all, { x }, { kind: 'lognormal' });
  const separate = cells.map((cell) => fitLife(cell, { kind: 'lognormal' }));

  it('each cell on its own', () => {
    separate.forEach(({ model, logLikelihood }, k) => {
      if (model.kind !== 'lognormal') throw new Error('not a lognormal');
      expect(apart(model.mu, expected.cellMu[k] as number)).toBeLessThan(1e-6);
      expect(apart(model.sigma, expected.cellSigma[k] as number)).toBeLessThan(1e-6);
      expect(apart(logLikelihood, expected.cellLogLik[k] as number)).toBeLessThan(1e-9);
      // Printed with three digits, the second cell's as 6.470 and 0.715.
      expect(Math.abs(model.mu - (published.cellMu[k] as number))).toBeLessThan(0.005);
      expect(Math.abs(model.sigma - (published.cellSigma[k] as number))).toBeLessThan(0.005);
      expect(logLikelihood.toFixed(1)).toBe((published.cellLogLik[k] as number).toFixed(1));
    });
  });

  it('standard errors of each cell', () => {
    cells.forEach((cell, k) => {
      const { standardErrors } = fitRegression(cell, {}, { kind: 'lognormal' });
      expect(apart(standardErrors.intercept as number, expected.cellSeMu[k] as number)).toBeLessThan(1e-6);
      expect(apart(standardErrors.logSigma as number, expected.cellSeLogSigma[k] as number)).toBeLessThan(
        1e-6,
      );
    });
  });

  it('one line through all cells', () => {
    const { intercept, x: energy, logSigma } = together.coefficients as Record<string, number>;
    const want = [expected.intercept, expected.activationEnergy, Math.log(expected.sigma)];
    agree(together, { coef: want, covariance: expected.variance.flat(), logLik: expected.logLik });
    agree(together, second.A5);
    expect(intercept?.toFixed(3)).toBe(published.intercept.toFixed(3));
    expect(energy?.toFixed(3)).toBe(published.activationEnergy.toFixed(3));
    expect(Math.exp(logSigma as number).toFixed(3)).toBe(published.sigma.toFixed(3));
    expect(together.logLikelihood.toFixed(4)).toBe(published.logLik.toFixed(4));
    Object.values(together.standardErrors).forEach((error, j) => {
      expect(apart(error, expected.se[j] as number)).toBeLessThan(1e-6);
      expect(error.toFixed(4)).toBe((published.se[j] as number).toFixed(4));
    });
  });

  it('likelihood ratio against a law of its own for each cell', () => {
    const apartLogLik = separate.reduce((total, { logLikelihood }) => total + logLikelihood, 0);
    const statistic = 2 * (apartLogLik - together.logLikelihood);
    expect(apartLogLik.toFixed(4)).toBe(published.sumCellLogLik.toFixed(4));
    expect(statistic.toFixed(6)).toBe(published.lrStatistic.toFixed(6));
    expect(apart(statistic, expected.lrStatistic)).toBeLessThan(1e-6);
    expect(gammaQ(1.5, statistic / 2).toFixed(7)).toBe(published.pValue.toFixed(7));
    expect(chiSquareQuantile(0.95, 3).toFixed(6)).toBe(published.chisqCrit.toFixed(6));
    // The test of groups has the same likelihood for cells apart.
    const { tests } = compareGroups(cells, { kind: 'lognormal' });
    expect(apart(tests.all.logLikelihoods.apart, expected.sumCellLogLik)).toBeLessThan(1e-9);
  });
});

describe('B4: motor insulation (Nelson & Hahn 1972; R survival imotor)', () => {
  const { data, inputs, expected, published } = cases.B4;
  const sample = sampleOf(data.time, data.status);

  it.each(['lognormal', 'weibull'] as const)('%s', (kind) => {
    const want = expected[kind];
    // Boltzmann's constant as in the case; the library's own has two digits more.
    const x = data.tempC.map((celsius) => 1 / (inputs.boltzmann_eV * (celsius + inputs.kelvinOffset)));
    const fit = fitRegression(sample, { x }, { kind });
    agree(fit, {
      coef: [...want.coef, want.logScale],
      covariance: want.variance.flat(),
      logLik: want.logLik,
    });
    agree(fit, second.B4[kind]);
    const own = fitRegression(
      sample,
      { temperature: data.tempC },
      { kind, transforms: { temperature: { arrhenius: 'eV' } } },
    );
    expect(apart(own.coefficients.temperature as number, want.activationEnergy_eV)).toBeLessThan(1e-6);
    const { quantiles } = predictLife(own, { temperature: 130 }, { quantiles: [0.5] });
    expect(apart(quantiles.age[0] as number, want.median130C)).toBeLessThan(1e-6);
  });

  it('in the form of Schmee & Hahn (1979): log10 hours against 1000 / (C + 273.2)', () => {
    const x = data.tempC.map((celsius) => 1000 / (celsius + inputs.schmeeHahnKelvinOffset));
    const {
      intercept,
      x: slope,
      logSigma,
    } = fitRegression(sample, { x }, { kind: 'lognormal' }).coefficients as {
      intercept: number;
      x: number;
      logSigma: number;
    };
    const log10 = [intercept / Math.LN10, slope / Math.LN10, Math.exp(logSigma) / Math.LN10];
    const form = expected.schmeeHahnForm_log10;
    [form.intercept, form.slope, form.sigma].forEach((value, j) => {
      expect(apart(log10[j] as number, value)).toBeLessThan(1e-6);
    });
    expect(log10[0]?.toFixed(3)).toBe(published.intercept.toFixed(3));
    expect(log10[1]?.toFixed(3)).toBe(published.slope.toFixed(3));
    expect(log10[2]?.toFixed(4)).toBe(published.sigma.toFixed(4));
  });
});

describe('B6: insulating fluid, inverse power of the voltage (Nelson 1972; R survival ifluid)', () => {
  const { data, expected } = cases.B6;
  const sample = sampleOf(
    data.minutes,
    data.minutes.map(() => 1),
  );

  it.each(['weibull', 'lognormal', 'exponential'] as const)('%s', (kind) => {
    const want = expected[kind];
    const options = { kind, transforms: { voltage: 'power' } } as const;
    const fit = fitRegression(sample, { voltage: data.voltagekV }, options);
    const coef = kind === 'exponential' ? want.coef : [...want.coef, want.logScale];
    agree(fit, { coef, covariance: want.variance.flat(), logLik: want.logLik });
    agree(fit, second.B6[kind]);
  });
});
