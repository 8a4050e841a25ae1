/** Rows whose cause of ending is not known, against scipy (maskedCause.py) and against differences of the likelihood. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { kaplanMeier, turnbull } from '../../../lib/index.js';
import { maximiseWeibull } from '../../../lib/life/estimate/weibull/maximiseWeibull.js';
import { bestLogScale } from '../../../lib/life/estimate/weibull/wearColumn.js';
import { wearSurface } from '../../../lib/life/estimate/weibull/wearSurface.js';
import { weibullDerivatives } from '../../../lib/life/estimate/weibull/weibullDerivatives.js';
import {
  evaluator,
  logLikelihood,
  prepareRows,
  weibullLogLikelihood,
} from '../../../lib/life/estimate/weibull/weibullLikelihood.js';
import { mergeSample } from '../../../lib/life/mergeSample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { differentiate, differentiateTwice } from '../../../lib/numeric/differentiate.js';

interface Reference {
  fault: { share: number; shape: number; scale: number };
  /** Days and entry; the other hazard per day as third. */
  leaks: [number, number][];
  sound: [number, number][];
  unknown: [number, number, number][];
  shape: number;
  scale: number;
  logLikelihood: number;
  atTwo: { shape: number; scale: number; logLikelihood: number };
}

const reference = JSON.parse(
  readFileSync(new URL('./maskedCause.json', import.meta.url), 'utf8'),
) as Reference;
const { fault } = reference;

function sampleOf(): LifeSample {
  const day = (d: number): [number, number] => [Math.max(d - 0.5, 0), d === 0 ? 1 : d + 0.5];
  const rows = [
    ...reference.leaks.map(([d, entry]) => [...day(d), entry, 0]),
    ...reference.sound.map(([d, entry]) => [d, Infinity, entry, 0]),
    ...reference.unknown.map(([d, entry, other]) => [...day(d), entry, other]),
  ];
  const column = (j: number): Float64Array => Float64Array.from(rows, (row) => row[j] as number);
  return {
    lower: column(0),
    upper: column(1),
    entry: column(2),
    count: new Float64Array(rows.length).fill(1),
    cluster: Int32Array.from(rows, (_, i) => i),
    otherHazard: column(3),
  };
}

const sample = sampleOf();

describe('ends of unknown cause', () => {
  it('have the likelihood and the best place that scipy finds', () => {
    const { atTwo } = reference;
    expect(weibullLogLikelihood(sample, { ...atTwo, fault })).toBeCloseTo(atTwo.logLikelihood, 8);
    const top = maximiseWeibull(prepareRows(sample, fault));
    expect(top.converged).toBe(true);
    expect(Math.abs(top.shape / reference.shape - 1)).toBeLessThan(1e-6);
    expect(Math.abs(top.scale / reference.scale - 1)).toBeLessThan(1e-6);
    expect(top.logLikelihood).toBeCloseTo(reference.logLikelihood, 8);
  });

  it('have the readable and the fast likelihood alike, exact ages and no faults among them', () => {
    const exact: LifeSample = {
      ...sample,
      lower: sample.lower.map((low, i) => (sample.upper[i] === Infinity ? low : (sample.upper[i] as number))),
    };
    for (const rows of [sample, exact]) {
      for (const law of [fault, undefined]) {
        const model = { kind: 'weibull' as const, shape: 1.7, scale: 900, ...(law ? { fault: law } : {}) };
        expect(weibullLogLikelihood(rows, model)).toBeCloseTo(logLikelihood(rows, model), 9);
      }
    }
  });

  it('have the derivatives of their likelihood', () => {
    for (const law of [fault, undefined]) {
      const rows = prepareRows(sample, law);
      const evaluate = evaluator(rows);
      const value = ([b, e]: readonly number[]): number =>
        evaluate(Math.exp(b as number), Math.exp(e as number));
      const here = [Math.log(2.3), Math.log(640)];
      const { gradient, hessian } = weibullDerivatives(rows, 2.3, 640);
      const slopes = differentiate(value, here, [1e-3, 1e-3]);
      const bends = differentiateTwice(value, here, [0, 1]);
      expect(gradient[0]).toBeCloseTo(slopes[0] as number, 6);
      expect(gradient[1]).toBeCloseTo(slopes[1] as number, 6);
      expect(hessian[0]).toBeCloseTo(bends[0] as number, 4);
      expect(hessian[1]).toBeCloseTo(bends[1] as number, 4);
      expect(hessian[2]).toBeCloseTo(bends[3] as number, 4);
    }
  });

  it('have a best scale where the slope vanishes, and a table that follows the likelihood', () => {
    const rows = prepareRows(sample, fault);
    const logScale = bestLogScale(rows, Math.log(2.5));
    expect(weibullDerivatives(rows, 2.5, Math.exp(logScale)).gradient[1]).toBeCloseTo(0, 6);
    const surface = wearSurface(rows);
    const evaluate = evaluator(rows);
    const difference = (shape: number, scale: number): number =>
      surface.logLikelihood(Math.log(shape), Math.log(scale)) - evaluate(shape, scale);
    for (const shape of [0.8, 1.5, 2.5, 4]) {
      for (const scale of [450, 700, 1500]) {
        if (reference.logLikelihood - evaluate(shape, scale) < 20)
          expect(Math.abs(difference(shape, scale))).toBeLessThan(0.01);
      }
    }
  });

  it('merge only where the other hazard is the same', () => {
    const twice = (column: Float64Array): Float64Array => Float64Array.of(...column, ...column);
    const other = sample.otherHazard as Float64Array;
    const double = (hazards: Float64Array): LifeSample => ({
      lower: twice(sample.lower),
      upper: twice(sample.upper),
      entry: twice(sample.entry),
      count: twice(sample.count),
      cluster: Int32Array.from({ length: 2 * sample.lower.length }, (_, i) => i),
      otherHazard: hazards,
    });
    const once = mergeSample(sample).lower.length;
    expect(mergeSample(double(twice(other))).lower).toHaveLength(once);
    const apart = double(Float64Array.of(...other, ...other.map((x) => 2 * x)));
    expect(mergeSample(apart).lower).toHaveLength(once + reference.unknown.length);
    const model = { shape: 2, scale: 600, fault };
    expect(weibullLogLikelihood(double(twice(other)), model)).toBeCloseTo(
      2 * weibullLogLikelihood(sample, model),
      9,
    );
  });

  it('are refused by estimates without a model', () => {
    expect(() => turnbull(sample, { draws: 0 })).toThrow(/unknown cause/);
    expect(() => kaplanMeier(sample)).toThrow(/unknown cause/);
  });
});
