/** Tests of groups against R survreg, common and apart, and its profile bounds (groups.R); the two classic data sets are H1 and H2. */
import { describe, expect, it } from 'vitest';
import { compareGroups } from '../../../../lib/life/check/compareGroups.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import type { LifeSample } from '../../../../lib/life/sampleTypes.js';
import { apart } from '../samples.js';
import cases from './groups.json' with { type: 'json' };

type Name = keyof typeof cases;
const names = Object.keys(cases) as Name[];

function groupsOf(name: Name): LifeSample[] {
  const { lower, upper, group } = cases[name];
  return [...new Set(group)].map((code) => {
    const rows = Array.from(group.keys()).filter((i) => group[i] === code);
    return lifeSample({
      lower: rows.map((i) => lower[i] as number),
      upper: rows.map((i) => upper[i] ?? Infinity),
    });
  });
}

const sum = (list: readonly number[]): number => list.reduce((total, x) => total + x, 0);

describe.each(names)('%s', (name) => {
  const samples = groupsOf(name);

  it.each(['weibull', 'lognormal', 'loglogistic'] as const)('%s', (kind) => {
    const want = cases[name][kind];
    const got = compareGroups(samples, { kind });
    const separate = sum(want.separate);
    // survreg with strata is the same fit in one; log likelihoods are good to 1e-9 on either side.
    expect(apart(separate, want.strata)).toBeLessThan(1e-9);
    const { shape, scaleGivenShape, all } = got.tests;
    const more = samples.length - 1;
    for (const [test, alike, free, degrees] of [
      [shape, want.commonShape, separate, more],
      [scaleGivenShape, want.pooled, want.commonShape, more],
      [all, want.pooled, separate, 2 * more],
    ] as const) {
      expect(Math.abs(test.logLikelihoods.alike - alike)).toBeLessThan(1e-8);
      expect(Math.abs(test.logLikelihoods.apart - free)).toBeLessThan(1e-8);
      expect(Math.abs(test.statistic - 2 * (free - alike))).toBeLessThan(2e-8);
      expect(test.degreesOfFreedom).toBe(degrees);
    }
    // Estimates: R stops where the log likelihood changes by 1e-14, which leaves them good to about 1e-7.
    expect(apart(got.commonShape.shape.estimate, want.shape)).toBeLessThan(1e-7);
    got.commonShape.scales.forEach(({ estimate }, g) => {
      expect(apart(estimate, want.scales[g] as number)).toBeLessThan(1e-7);
    });
    expect(apart(got.common.shape.estimate, want.pooledShape)).toBeLessThan(1e-7);
    expect(apart(got.common.scale.estimate, want.pooledScale)).toBeLessThan(1e-7);
    const first = got.commonShape.scales[0];
    for (const [bound, value] of [
      [got.commonShape.shape.low, want.shapeBounds[0]],
      [got.commonShape.shape.high, want.shapeBounds[1]],
      [first?.low, want.firstScaleBounds[0]],
      [first?.high, want.firstScaleBounds[1]],
    ] as const) {
      expect(apart(bound as number, value as number)).toBeLessThan(1e-7);
    }
  });
});

it('H1 and H2: chances of the classic sets, by the chi-square law', () => {
  const { shape, scaleGivenShape, all } = compareGroups(groupsOf('motors'), { kind: 'weibull' }).tests;
  expect(apart(shape.p, 0.007547057961318928)).toBeLessThan(1e-7);
  expect(apart(scaleGivenShape.p, 0.0029528950739189587)).toBeLessThan(1e-7);
  expect(apart(all.p, 0.00033980636340924893)).toBeLessThan(1e-7);
  const fluid = compareGroups(groupsOf('fluid'), { kind: 'weibull' }).tests;
  expect(apart(fluid.shape.p, 0.29550572370705797)).toBeLessThan(1e-7);
  expect(apart(fluid.scaleGivenShape.p, 0.00038133654611621916)).toBeLessThan(1e-7);
  expect(apart(fluid.all.p, 0.00105108739018457)).toBeLessThan(1e-7);
});
