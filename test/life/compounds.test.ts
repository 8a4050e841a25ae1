/** Laws made of laws: mixtures and competing modes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseAge } from '../../lib/interval/chooseAge.js';
import {
  conditionalSurvival,
  cumulativeHazard,
  density,
  drawLives,
  hazard,
  lifeVariance,
  logDensity,
  logSurvival,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from '../../lib/life/distribution/functions.js';
import type { CompetingModel, LifeModel, MixtureModel } from '../../lib/life/model.js';
import { renewalCount } from '../../lib/life/renewal.js';
import { randomStream } from '../../lib/numeric/random.js';
import { apart } from '../reference/life/samples.js';

const exponential = (scale: number): LifeModel => ({ kind: 'exponential', scale });
const mixed = (share: number, one: LifeModel, other: LifeModel): MixtureModel => ({
  kind: 'mixture',
  parts: [
    { share, model: one },
    { share: 1 - share, model: other },
  ],
});
const twoExponentials = mixed(0.25, exponential(2), exponential(10));
const weibull = (shape: number, scale: number): LifeModel => ({ kind: 'weibull', shape, scale });
const competing = (...modes: LifeModel[]): CompetingModel => ({ kind: 'competing', modes });

describe('mixtures', () => {
  it('two exponentials, by hand', () => {
    for (const t of [1e-300, 1e-15, 0.1, 1, 7, 60]) {
      const left = 0.25 * Math.exp(-t / 2) + 0.75 * Math.exp(-t / 10);
      const dense = 0.125 * Math.exp(-t / 2) + 0.075 * Math.exp(-t / 10);
      expect(apart(survival(twoExponentials, t), left)).toBeLessThan(1e-14);
      expect(apart(density(twoExponentials, t), dense)).toBeLessThan(1e-14);
      expect(apart(hazard(twoExponentials, t), dense / left)).toBeLessThan(1e-14);
    }
    expect(apart(meanLife(twoExponentials), 8)).toBeLessThan(1e-15);
    // Mean square 2 (0.25 2² + 0.75 10²) = 152, less 8².
    expect(apart(lifeVariance(twoExponentials), 88)).toBeLessThan(1e-14);
    // By the difference of hazards of 700, which are rounded to 1e-13.
    expect(apart(remainingLife(twoExponentials, 7000), 10)).toBeLessThan(1e-12);
    const part = 0.5 * -Math.expm1(-1.5) + 7.5 * -Math.expm1(-0.3);
    expect(apart(meanUpTo(twoExponentials, 3), part)).toBeLessThan(1e-14);
  });

  it('two exponentials laid end to end, by the closed form', () => {
    // t / mean + (variance / mean² - 1) / 2 (1 - exp(-g t)), g = 0.25 / 10 + 0.75 / 2.
    for (const t of [0.5, 4, 30]) {
      const want = t / 8 - 0.1875 * Math.expm1(-0.4 * t);
      expect(apart(renewalCount(twoExponentials, t), want)).toBeLessThan(1e-7);
    }
  });

  it('both tails keep their digits', () => {
    // Of age 1e-300 a share 0.125 + 0.075 per unit of age has failed; late only the longer part is left.
    expect(apart(cumulativeHazard(twoExponentials, 1e-300), 0.2e-300)).toBeLessThan(1e-14);
    expect(apart(quantile(twoExponentials, 1e-300), 5e-300)).toBeLessThan(1e-13);
    expect(apart(quantile(twoExponentials, 1e-15), 5e-15)).toBeLessThan(1e-13);
    expect(apart(logSurvival(twoExponentials, 7e4), Math.log(0.75) - 7e3)).toBeLessThan(1e-15);
    expect(apart(logDensity(twoExponentials, 7e4), Math.log(0.075) - 7e3)).toBeLessThan(1e-15);
    const last = 1 - 2 ** -50;
    expect(apart(survival(twoExponentials, quantile(twoExponentials, last)), 1 - last)).toBeLessThan(1e-13);
    expect(apart(conditionalSurvival(twoExponentials, 70_010, 70_000), Math.exp(-1))).toBeLessThan(1e-11);
    // A share of 1e-300 that lasts longer is all that is left in the end.
    const rare = mixed(1e-300, exponential(1e4), exponential(1));
    expect(apart(logSurvival(rare, 9e4), Math.log(1e-300) - 9)).toBeLessThan(1e-14);
  });

  it('of one law with itself, or with a share of 0, is that law', () => {
    const one = weibull(2.5, 700);
    for (const model of [
      mixed(0.3, one, one),
      mixed(0, exponential(3), one),
      mixed(1, one, exponential(3)),
    ]) {
      for (const p of [1e-15, 0.3, 1 - 1e-12])
        expect(apart(quantile(model, p), quantile(one, p))).toBeLessThan(1e-12);
      expect(apart(lifeVariance(model), lifeVariance(one))).toBeLessThan(1e-12);
      expect(apart(remainingLife(model, 500), remainingLife(one, 500))).toBeLessThan(1e-12);
    }
  });

  it('has fitting faults as one: of a share p the early leak competes with wear', () => {
    const wear = weibull(3, 900);
    const fault = mixed(0.03, competing(weibull(0.8, 10), wear), wear);
    const same: LifeModel = {
      kind: 'weibull',
      shape: 3,
      scale: 900,
      fault: { share: 0.03, shape: 0.8, scale: 10 },
    };
    for (const t of [0.01, 3, 40, 800, 3000]) {
      expect(apart(cumulativeHazard(fault, t), cumulativeHazard(same, t))).toBeLessThan(1e-12);
      expect(apart(hazard(fault, t), hazard(same, t))).toBeLessThan(1e-12);
    }
    expect(apart(meanLife(fault), meanLife(same))).toBeLessThan(1e-10);
    expect(apart(remainingLife(fault, 300), remainingLife(same, 300))).toBeLessThan(1e-10);
    expect(apart(lifeVariance(fault), lifeVariance(same))).toBeLessThan(1e-9);
    const costs = { replacement: 1, leak: 5 };
    expect(apart(chooseAge(fault, costs).age ?? 0, chooseAge(same, costs).age ?? 1)).toBeLessThan(1e-5);
  });
});

describe('competing modes', () => {
  it('Weibulls of one shape are a Weibull', () => {
    const both = competing(weibull(2, 300), weibull(2, 400));
    const same = weibull(2, (300 ** -2 + 400 ** -2) ** -0.5);
    for (const p of [1e-300, 1e-15, 0.2, 0.9, 1 - 1e-15]) {
      expect(apart(quantile(both, p), quantile(same, p))).toBeLessThan(1e-13);
    }
    expect(apart(logSurvival(both, 1e5), logSurvival(same, 1e5))).toBeLessThan(1e-14);
    expect(apart(meanLife(both), meanLife(same))).toBeLessThan(1e-12);
    expect(apart(lifeVariance(both), lifeVariance(same))).toBeLessThan(1e-10);
    expect(apart(remainingLife(both, 900), remainingLife(same, 900))).toBeLessThan(1e-10);
  });

  it('heavy tails multiply: the powers of their ages add up', () => {
    const slow: LifeModel = { kind: 'loglogistic', shape: 0.8, scale: 100 };
    expect(meanLife(slow)).toBe(Infinity);
    const both = competing(slow, slow);
    // By substitution the mean of 1 / (1 + x^0.8)² is B(1.25, 0.75) / 0.8 times the scale.
    expect(apart(meanLife(both), (100 * 0.906402477055477 * 1.225416702465178) / 0.8)).toBeLessThan(1e-6);
    expect(lifeVariance(both)).toBe(Infinity);
    expect(meanLife(mixed(0.5, slow, weibull(2, 1)))).toBe(Infinity);
    expect(lifeVariance(mixed(0.5, both, weibull(2, 1)))).toBe(Infinity);
  });
});

const from = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1000 }).map((k) => min + ((max - min) * k) / 1000);
const simple: fc.Arbitrary<LifeModel> = fc.oneof(
  fc.record({ kind: fc.constant('weibull' as const), shape: from(0.6, 6), scale: from(100, 3000) }),
  fc.record({ kind: fc.constant('lognormal' as const), mu: from(4, 8), sigma: from(0.2, 0.8) }),
  fc.record({ kind: fc.constant('gamma' as const), shape: from(0.5, 9), scale: from(50, 300) }),
  fc.record({ kind: fc.constant('smallestValue' as const), location: from(900, 3000), scale: from(50, 150) }),
);
const pair = fc.tuple(from(0, 1), simple, simple);
const compound: fc.Arbitrary<LifeModel> = fc.oneof(
  pair.map(([share, one, other]) => mixed(share, one, other)),
  pair.map(([, one, other]) => competing(one, other)),
  pair.map(([share, one, other]) => mixed(share, competing(one, other), other)),
);
const holds = (law: (model: LifeModel, p: number) => void): void =>
  fc.assert(fc.property(compound, from(0.01, 0.99), law), { numRuns: 60, seed: 20_265, endOnFailure: true });

describe('every law made of laws', () => {
  it('has a quantile that undoes survival', () => {
    holds((model, p) => {
      fc.pre(1 - p < survival(model, 0));
      expect(apart(survival(model, quantile(model, p)), 1 - p)).toBeLessThan(1e-11);
    });
  });

  it('has a density that is the slope of its cumulative hazard, times survival', () => {
    holds((model, p) => {
      const t = Math.max(quantile(model, p), 1);
      const h = 1e-5 * t;
      const slope = (cumulativeHazard(model, t + h) - cumulativeHazard(model, t - h)) / (2 * h);
      expect(apart(slope, hazard(model, t))).toBeLessThan(1e-5);
      expect(apart(density(model, t), hazard(model, t) * survival(model, t))).toBeLessThan(1e-12);
    });
  });

  it('has a mean life that is the mean so far plus what is left', () => {
    holds((model, p) => {
      const t = quantile(model, p);
      const parts = meanUpTo(model, t) + survival(model, t) * remainingLife(model, t);
      expect(apart(parts, meanLife(model))).toBeLessThan(1e-9);
    });
  });

  it('has lives at random with its mean, variance and share alive', () => {
    for (const model of [
      mixed(0.2, weibull(1.2, 60), weibull(4, 900)),
      competing(weibull(1, 900), weibull(4, 700)),
    ]) {
      const lives = drawLives(model, 40_000, randomStream(77, 'compounds'));
      const [mean, spread] = [meanLife(model), Math.sqrt(lifeVariance(model))];
      const got = lives.reduce((total, t) => total + t, 0) / lives.length;
      // The error is a hundredth of a standard deviation: an eighth of it is 2 % of one.
      expect(Math.abs(got - mean)).toBeLessThan((4 * spread) / 200);
      const alive = lives.filter((t) => t > 500).length / lives.length;
      const share = survival(model, 500);
      expect(Math.abs(alive - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / lives.length));
      const later = drawLives(model, 2000, randomStream(78, 'compounds'), { survivedTo: 500 });
      expect(Math.min(...later)).toBeGreaterThan(500);
      const left = later.reduce((total, t) => total + t - 500, 0) / later.length;
      expect(apart(left, remainingLife(model, 500))).toBeLessThan(0.08);
    }
  });
});

it('nonsense is refused', () => {
  const one = exponential(1);
  expect(() => survival({ kind: 'mixture', parts: [{ share: 1, model: one }] }, 1)).toThrow(/two or more/);
  expect(() => survival(mixed(1.2, one, one), 1)).toThrow(/from 0 to 1/);
  const short = {
    kind: 'mixture',
    parts: [
      { share: 0.5, model: one },
      { share: 0.4, model: one },
    ],
  } as const;
  expect(() => survival({ ...short, parts: [...short.parts] }, 1)).toThrow(/add up to 1/);
  expect(() => survival(competing(one), 1)).toThrow(/two or more/);
  expect(() => survival(competing(one, weibull(-1, 5)), 1)).toThrow(/shape must be above 0/);
  expect(() => survival(mixed(0.5, one, exponential(0)), 1)).toThrow(/scale must be above 0/);
});
