import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { compareGroups } from '../../../lib/life/check/compareGroups.js';
import { lifeBounds } from '../../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import type { LifeFit } from '../../../lib/life/estimate/fitTypes.js';
import { logLikelihood } from '../../../lib/life/estimate/weibull/weibullLikelihood.js';
import { joinSamples } from '../../../lib/life/joinSamples.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';

const apart = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);
/** Every kind of row. */
const one = lifeSample({
  lower: [120, 300, 300, 410, 0, 640, 640, 700],
  upper: [120, 300, Infinity, 520, 200, 640, Infinity, 700],
  entry: [0, 0, 100, 200, 0, 50, 350, 100],
  count: [1, 2, 3, 1, 1, 1, 4, 1],
});
const two = lifeSample({
  lower: [500, 620, 700, 900, 450],
  upper: [500, 620, 760, Infinity, 450],
  entry: [0, 300, 0, 0, 0],
});
const three = lifeSample({ lower: [90, 95, 200, 400], upper: [90, 96, 200, Infinity] });

describe('compareGroups', () => {
  it('finds the common shape that a slow search over shapes finds, delayed entry included', () => {
    const samples = [one, two, three];
    const got = compareGroups(samples, { kind: 'weibull' });
    const total = (shape: number): number =>
      samples.reduce((sum, s) => sum + fitLife(s, { kind: 'weibull', shape }).logLikelihood, 0);
    let [low, high] = [0.3, 10];
    for (let turn = 0; turn < 80; turn++) {
      const [x, y] = [low + (high - low) / 3, high - (high - low) / 3];
      if (total(x) < total(y)) low = x;
      else high = y;
    }
    expect(Math.abs(got.commonShape.logLikelihood - total(low))).toBeLessThan(1e-9);
    expect(apart(got.commonShape.shape.estimate, low)).toBeLessThan(1e-6);
    const drop = 2.705543454095404 / 2;
    for (const end of ['low', 'high'] as const) {
      expect(Math.abs(total(got.commonShape.shape[end]) - got.commonShape.logLikelihood + drop)).toBeLessThan(
        1e-7,
      );
    }
    const pooled = fitLife(joinSamples(samples), { kind: 'weibull' });
    expect(got.common.shape.low).toBe(lifeBounds(pooled, { of: 'shape', method: 'likelihood' }).low);
    expect(got.tests.all.statistic).toBeCloseTo(
      got.tests.shape.statistic + got.tests.scaleGivenShape.statistic,
      8,
    );
  });

  it.each(['weibull', 'lognormal'] as const)(
    'has bounds of scales where a slow profile has them: %s',
    (kind) => {
      const { commonShape } = compareGroups([one, two], { kind });
      const valueAt = (sample: LifeSample, b: number, e: number): number =>
        logLikelihood(
          sample,
          kind === 'weibull'
            ? { kind, shape: Math.exp(b), scale: Math.exp(e) }
            : { kind, mu: e, sigma: Math.exp(-b) },
        );
      const top = (f: (x: number) => number, low: number, high: number): number => {
        let [from, to] = [low, high];
        for (let turn = 0; turn < 60; turn++) {
          const [x, y] = [from + 0.382 * (to - from), to - 0.382 * (to - from)];
          if (f(x) > f(y)) to = y;
          else from = x;
        }
        return f(from);
      };
      const [first] = commonShape.scales;
      for (const end of [first?.low, first?.high]) {
        const e = Math.log(end as number);
        const best = top((b) => valueAt(one, b, e) + top((x) => valueAt(two, b, x), 5, 8), -1, 3);
        expect(Math.abs(best - commonShape.logLikelihood + 2.705543454095404 / 2)).toBeLessThan(1e-7);
      }
    },
  );

  it('of exponentials has closed forms', () => {
    const exact = (ages: number[]): LifeSample =>
      lifeSample({ lower: ages, upper: ages.map((t, i) => (i % 3 === 2 ? Infinity : t)) });
    const groups = [
      [10, 20, 30, 45],
      [100, 80, 75],
      [60, 15, 25, 90, 70],
    ];
    const [failures, time] = [[3, 2, 4], groups.map((ages) => ages.reduce((a, b) => a + b, 0))];
    const value = (r: number, t: number): number => r * Math.log(r / t) - r;
    const alone = groups.reduce((sum, _, g) => sum + value(failures[g] as number, time[g] as number), 0);
    const whole = value(
      9,
      time.reduce((a, b) => a + b, 0),
    );
    const { tests, common, commonShape } = compareGroups(groups.map(exact), { kind: 'exponential' });
    expect(apart(tests.all.statistic, 2 * (alone - whole))).toBeLessThan(1e-9);
    expect(tests.shape).toMatchObject({ degreesOfFreedom: 0, p: 1 });
    expect(tests.all.degreesOfFreedom).toBe(2);
    expect(common.shape).toEqual({ estimate: 1, low: 1, high: 1 });
    commonShape.scales.forEach(({ estimate, low, high }, g) => {
      expect(apart(estimate, (time[g] as number) / (failures[g] as number))).toBeLessThan(1e-7);
      const own = lifeBounds(fitLife(exact(groups[g] as number[]), { kind: 'exponential' }), {
        of: 'scale',
        method: 'likelihood',
      });
      expect(apart(low, own.low)).toBeLessThan(1e-7);
      expect(apart(high, own.high)).toBeLessThan(1e-7);
    });
  });

  it.each(['weibull', 'lognormal', 'loglogistic'] as const)(
    'of a sample and itself finds nothing, in any unit: %s',
    (kind) => {
      for (const unit of [1e-9, 1, 1e12]) {
        const scale = (column: Float64Array): Float64Array => column.map((t) => t * unit);
        const same = { ...two, lower: scale(two.lower), upper: scale(two.upper), entry: scale(two.entry) };
        const { tests, commonShape, common } = compareGroups([same, same], { kind });
        expect(tests.all.statistic).toBeLessThan(1e-7);
        expect(tests.all.p).toBeGreaterThan(0.999);
        expect(apart(commonShape.shape.estimate, common.shape.estimate)).toBeLessThan(1e-6);
        expect(apart(commonShape.scales[1]?.estimate as number, common.scale.estimate)).toBeLessThan(1e-6);
      }
    },
  );

  it('keeps positions of different groups apart, and warns', () => {
    const of = (cluster: number[]): LifeSample => lifeSample({ lower: two.lower, upper: two.upper, cluster });
    const joined = joinSamples([of([0, 0, 1, 2, 3]), of([0, 1, 1, 2, 3]), one]);
    expect(Array.from(joined.cluster.slice(0, 10))).toEqual([0, 0, 1, 2, 3, 4, 5, 5, 6, 7]);
    expect(new Set(joined.cluster).size).toBe(8 + one.lower.length);
    const codes = compareGroups([of([0, 0, 1, 2, 3]), three], { kind: 'weibull' }).warnings.map(
      ({ code }) => code,
    );
    expect(codes).toEqual(['few-failures', 'positions-repeat']);
  });

  it('refuses what has no answer, naming the group', () => {
    const sound = lifeSample({ lower: [100, 200], upper: [Infinity, Infinity] });
    const sole = lifeSample({ lower: [100, 200], upper: [Infinity, 200] });
    expect(() => compareGroups([one], { kind: 'weibull' })).toThrow(UsageError);
    expect(() => compareGroups([one, sound], { kind: 'exponential' })).toThrow('group 2');
    expect(() => compareGroups([sole, one], { kind: 'weibull' })).toThrow('group 1');
    expect(() => compareGroups([one, two], { kind: 'gamma' as 'weibull' })).toThrow(UsageError);
    expect(() => compareGroups([one, two], { kind: 'weibull', level: 0 })).toThrow(UsageError);
    const before = structuredClone([one, two]);
    const { separate } = compareGroups([one, two], { kind: 'weibull' });
    expect([one, two]).toEqual(before);
    const [first] = separate as [LifeFit, LifeFit];
    expect(first.logLikelihood).toBeCloseTo(logLikelihood(one, first.model), 9);
  });
});
