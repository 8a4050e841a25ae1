import { describe, expect, it } from 'vitest';
import { chebyshevNodes } from '../../lib/life/estimate/chebyshevNodes.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { lawLikelihood, lawLikelihoods, MANY_AGES } from '../../lib/life/estimate/lawLikelihood.js';
import type { LifeModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';

/** Distinct ages of wear-out: exact, censored, watched from a later age on, some found within 50 days. */
function lives(count: number, seed: number): LifeSample {
  const random = randomStream(seed, 'test/many ages');
  const [lower, upper, entry] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  for (let i = 0; i < count; i++) {
    const age = 900 * (-Math.log(random.uniform())) ** (1 / 2.5);
    const replaced = 200 + 1200 * random.uniform();
    if (i % 5 === 0) entry[i] = 0.5 * Math.min(age, replaced) * random.uniform();
    lower[i] = Math.min(age, replaced);
    upper[i] = age <= replaced ? age : Infinity;
    if (i % 50 === 0 && age <= replaced) upper[i] = age + 50;
  }
  return lifeSample({ lower, upper, entry });
}

describe('chebyshevNodes', () => {
  it('keeps sums of smooth functions of log age, and the ages of cells with few', () => {
    const random = randomStream(5, 'test/nodes');
    const age = Float64Array.from({ length: 3000 }, () => Math.exp(4 * random.uniform())).sort();
    const first = age.map(() => random.uniform() - 0.3);
    const second = age.map(() => random.uniform());
    const nodes = chebyshevNodes({ age, first, second }, 0.5);
    expect(nodes.age.length).toBeLessThanOrEqual(9 * 18);
    const sum = (f: (t: number) => number, ages: Float64Array, weight: Float64Array): number =>
      ages.reduce((total, t, k) => total + f(t) * (weight[k] as number), 0);
    // Both sums add up thousands of terms as large as the largest, so they agree to its rounding.
    for (const f of [Math.log, Math.sqrt, (t: number) => t * t, (t: number) => 1 / (1 + t)]) {
      const most = Math.max(...Array.from(age, f)) * 3000;
      expect(Math.abs(sum(f, age, first) - sum(f, nodes.age, nodes.first))).toBeLessThan(1e-14 * most);
      expect(Math.abs(sum(f, age, second) - sum(f, nodes.age, nodes.second))).toBeLessThan(1e-14 * most);
    }
    const few = { age: age.slice(0, 18), first: first.slice(0, 18), second: second.slice(0, 18) };
    expect(chebyshevNodes(few, 10)).toEqual(few);
  });

  it('gives the likelihood of many ages of every kind of row, around the laws that they have', () => {
    const sample = lives(MANY_AGES + 2000, 3);
    const [exact, nodes] = [lawLikelihood(sample), lawLikelihoods(sample)(0.4)];
    const models: LifeModel[] = [
      { kind: 'gamma', shape: 4, scale: 205 },
      { kind: 'gamma', shape: 5, scale: 150 },
      { kind: 'generalisedGamma', mu: 6.79, sigma: 0.4, q: 1 },
      { kind: 'generalisedGamma', mu: 6.7, sigma: 0.5, q: 0 },
      { kind: 'generalisedGamma', mu: 6.7, sigma: 0.5, q: -0.8 },
    ];
    for (const model of models) {
      // Ten thousand terms, each rounded at 1e-16 of itself.
      expect(Math.abs(nodes(model) / exact(model) - 1), JSON.stringify(model)).toBeLessThan(1e-12);
    }
  });

  it('carries the fits of gamma laws to many ages, with all their digits', () => {
    const sample = lives(MANY_AGES + 2000, 4);
    for (const kind of ['gamma', 'generalisedGamma'] as const) {
      const fit = fitLife(sample, { kind });
      const likelihood = lawLikelihood(sample);
      expect(Math.abs(fit.logLikelihood / likelihood(fit.model) - 1)).toBeLessThan(1e-12);
      // At the top of the likelihood over the ages themselves: were it off by d standard errors, the values 0.05 of one either side of
      // it would differ by 0.1 d at least.
      fit.parameters.forEach(({ standardError }, i) => {
        const [up, down] = [0.05, -0.05].map((by) => likelihood(moved(fit.model, i, by * standardError)));
        expect(up).toBeLessThan(fit.logLikelihood);
        expect(down).toBeLessThan(fit.logLikelihood);
        expect(Math.abs((up as number) - (down as number))).toBeLessThan(1e-4);
      });
    }
  }, 20_000);
});

/** A model with its i-th parameter (as fits report it) moved. */
function moved(model: LifeModel, i: number, by: number): LifeModel {
  if (model.kind === 'gamma') {
    return i === 0
      ? { ...model, shape: model.shape * Math.exp(by) }
      : { ...model, scale: model.scale * Math.exp(by) };
  }
  if (model.kind !== 'generalisedGamma') throw new Error(model.kind);
  if (i === 0) return { ...model, mu: model.mu + by };
  return i === 1 ? { ...model, sigma: model.sigma * Math.exp(by) } : { ...model, q: model.q + by };
}
