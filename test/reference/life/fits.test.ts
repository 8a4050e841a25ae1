/**
 * Maximum likelihood fits against published.json (sources there; R 4.2 survreg) and, a second time, against recomputed.json
 * (recompute.py beside this file: other code, another optimiser).
 */
import { describe, expect, it } from 'vitest';
import { meanLife, quantile } from '../../../lib/life/distribution/index.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import type { LifeModel } from '../../../lib/life/model.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { chiSquareCdf } from '../../../lib/numeric/special.js';
import cases from './published.json' with { type: 'json' };
import recomputed from './recomputed.json' with { type: 'json' };
import { apart, sampleOf, sampleOfCase } from './samples.js';

type Weibull = Extract<LifeModel, { kind: 'weibull' }>;
const weibull = (sample: ReturnType<typeof sampleOf>) => {
  const fit = fitLife(sample, { kind: 'weibull' });
  return { ...fit, model: fit.model as Weibull };
};

describe.each(['A1', 'A2'] as const)('%s, NIST/SEMATECH e-Handbook 8.4.1.2', (name) => {
  const { data, expected } = cases[name];
  const fit = weibull(sampleOfCase(data));
  const second = recomputed.fits[name];

  it('gives shape, scale, log likelihood and mean', () => {
    expect(apart(fit.model.shape, expected.shape)).toBeLessThan(1e-10);
    expect(apart(fit.model.scale, expected.scale)).toBeLessThan(1e-10);
    expect(apart(fit.logLikelihood, expected.logLik)).toBeLessThan(1e-12);
    expect(apart(meanLife(fit.model), expected.mean)).toBeLessThan(1e-10);
    // The second road stops its own search at about 1e-11.
    expect(apart(fit.model.shape, second.shape)).toBeLessThan(1e-10);
    expect(apart(fit.model.scale, second.scale)).toBeLessThan(1e-10);
  });

  it('gives the covariance of log shape and log scale', () => {
    const [bb, be, eb, ee] = fit.covariance as [number, number, number, number];
    expect(apart(Math.sqrt(ee), expected.se_intercept)).toBeLessThan(1e-7);
    expect(apart(Math.sqrt(bb), expected.se_logSigma)).toBeLessThan(1e-7);
    // log sigma is minus log shape.
    expect(apart(-be, expected.cov_intercept_logSigma)).toBeLessThan(1e-7);
    expect(eb).toBe(be);
  });

  it('gives the lognormal too', () => {
    const lognormal = fitLife(sampleOfCase(data), { kind: 'lognormal' });
    const model = lognormal.model as Extract<LifeModel, { kind: 'lognormal' }>;
    expect(apart(model.mu, expected.lognormal_mu)).toBeLessThan(1e-9);
    expect(apart(model.sigma, expected.lognormal_sigma)).toBeLessThan(1e-9);
    expect(apart(lognormal.logLikelihood, expected.lognormal_logLik)).toBeLessThan(1e-12);
  });
});

it('A2 reads as the handbook prints it', () => {
  const fit = weibull(sampleOfCase(cases.A2.data));
  expect(fit.model.shape.toPrecision(6)).toBe('1.72563');
  expect(fit.model.scale.toPrecision(6)).toBe('606.005');
  expect(meanLife(fit.model).toFixed(3)).toBe('540.175');
});

describe.each(['C1', 'C2', 'C8'] as const)('%s, classic data', (name) => {
  const { data, expected } = cases[name];
  const sample = sampleOfCase(data);
  const second = recomputed.fits[name];

  it('Weibull', () => {
    const fit = weibull(sample);
    const want = expected.weibull;
    for (const road of [want, second]) {
      expect(apart(fit.model.shape, road.shape)).toBeLessThan(1e-7);
      expect(apart(fit.model.scale, road.scale)).toBeLessThan(1e-7);
      expect(apart(fit.logLikelihood, road.logLik)).toBeLessThan(1e-10);
    }
    expect(apart(quantile(fit.model, 0.1), want.B10)).toBeLessThan(1e-7);
    expect(apart(quantile(fit.model, 0.5), want.B50)).toBeLessThan(1e-7);
    expect(apart(meanLife(fit.model), want.mean)).toBeLessThan(1e-7);
    const [[ee, be], [, bb]] = want.var_logScale_logShape as [[number, number], [number, number]];
    expect(apart(fit.covariance[0] as number, bb)).toBeLessThan(1e-6);
    expect(apart(fit.covariance[1] as number, be)).toBeLessThan(1e-6);
    expect(apart(fit.covariance[3] as number, ee)).toBeLessThan(1e-6);
  });

  it('lognormal and exponential', () => {
    const lognormal = fitLife(sample, { kind: 'lognormal' });
    const model = lognormal.model as Extract<LifeModel, { kind: 'lognormal' }>;
    expect(apart(model.mu, expected.lognormal.mu)).toBeLessThan(1e-7);
    expect(apart(model.sigma, expected.lognormal.sigma)).toBeLessThan(1e-7);
    expect(apart(lognormal.logLikelihood, second.lognormalLogLik)).toBeLessThan(1e-11);
    const exponential = fitLife(sample, { kind: 'exponential' });
    expect(apart(meanLife(exponential.model), expected.exponential.mean)).toBeLessThan(1e-12);
    expect(apart(exponential.logLikelihood, expected.exponential.logLik)).toBeLessThan(1e-12);
  });
});

it('B1: four distributions on the diesel generator fans', () => {
  const { data, expected } = cases.B1;
  const sample = sampleOfCase(data);
  for (const kind of ['weibull', 'lognormal', 'loglogistic', 'exponential'] as const) {
    const fit = fitLife(sample, { kind });
    expect(apart(fit.logLikelihood, expected[kind].logLik)).toBeLessThan(1e-9);
    const centre = 'mu' in fit.model ? fit.model.mu : Math.log(fit.model.scale);
    expect(apart(centre, expected[kind].coef[0] as number)).toBeLessThan(1e-7);
  }
  const loglogistic = fitLife(sample, { kind: 'loglogistic' }).model as Extract<
    LifeModel,
    { kind: 'loglogistic' }
  >;
  expect(apart(1 / loglogistic.shape, expected.loglogistic.scale)).toBeLessThan(1e-7);
});

it('B2: turbine wheels, every row left- or right-censored', () => {
  const { data, expected } = cases.B2;
  const lower: number[] = [];
  const upper: number[] = [];
  const count: number[] = [];
  data.hoursHundreds.forEach((t, i) => {
    const failed = data.failed[i] as number;
    if (failed > 0) {
      lower.push(0);
      upper.push(t);
      count.push(failed);
    }
    lower.push(t);
    upper.push(Infinity);
    count.push((data.inspected[i] as number) - failed);
  });
  const sample = lifeSample({ lower, upper, count });
  const fit = weibull(sample);
  expect(apart(fit.model.shape, expected.weibull.shape)).toBeLessThan(1e-6);
  expect(apart(fit.model.scale, expected.weibull.characteristicLife)).toBeLessThan(1e-6);
  expect(apart(fit.model.shape, recomputed.fits.B2.shape)).toBeLessThan(1e-9);
  expect(apart(fit.logLikelihood, recomputed.fits.B2.logLik)).toBeLessThan(1e-12);
  const lognormal = fitLife(sample, { kind: 'lognormal' });
  expect(apart(lognormal.logLikelihood, expected.lognormal.logLik)).toBeLessThan(1e-9);
});

it('B9: records that begin late', () => {
  const { data, expected } = cases.B9;
  const fit = weibull(sampleOf(data.exitAge, data.status, data.entryAge));
  for (const road of [expected, recomputed.fits.B9]) {
    expect(apart(fit.model.shape, road.shape)).toBeLessThan(1e-8);
    expect(apart(fit.model.scale, road.scale)).toBeLessThan(1e-8);
    expect(apart(fit.logLikelihood, road.logLik)).toBeLessThan(1e-11);
  }
  const [[ee], [be, bb]] = expected.var_logScale_logShape as [[number], [number, number]];
  expect(apart(fit.covariance[0] as number, bb)).toBeLessThan(1e-7);
  expect(apart(fit.covariance[1] as number, be)).toBeLessThan(1e-7);
  expect(apart(fit.covariance[3] as number, ee)).toBeLessThan(1e-7);
  const ignoring = weibull(sampleOf(data.exitAge, data.status));
  expect(apart(ignoring.model.shape, expected.ignoringTruncation.shape)).toBeLessThan(1e-8);
});

it('H4: exponential against Weibull by likelihood ratio', () => {
  const { data, expected } = cases.H4;
  const ratio = (sample: ReturnType<typeof sampleOf>): number =>
    2 * (weibull(sample).logLikelihood - fitLife(sample, { kind: 'exponential' }).logLikelihood);
  const bearings = ratio(
    sampleOf(
      data.millionRevs,
      data.millionRevs.map(() => 1),
    ),
  );
  const fans = ratio(sampleOf(data.fanHours, data.fanStatus));
  expect(apart(bearings, expected.bearings.lr)).toBeLessThan(1e-9);
  expect(apart(fans, expected.fans.lr)).toBeLessThan(1e-9);
  expect(apart(1 - chiSquareCdf(fans, 1), expected.fans.p)).toBeLessThan(1e-9);
});
