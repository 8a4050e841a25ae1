/** Likelihood regions: their ends are those of the profile-likelihood bounds, and they hold what they say. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { type FitOptions, fitLife, type LifeFit } from '../../lib/life/estimate/fit.js';
import { likelihoodRegion } from '../../lib/life/estimate/likelihoodRegion.js';
import { lifeSample } from '../../lib/life/sample.js';
import { at } from '../../lib/numeric/columns.js';
import { chiSquareQuantile } from '../../lib/numeric/special.js';

type Row = [lower: number, upper: number, count?: number, cluster?: number];

function sampleOf(rows: readonly Row[]) {
  const clusters = rows.some(([, , , cluster]) => cluster !== undefined)
    ? { cluster: Int32Array.from(rows, ([, , , cluster]) => cluster ?? 0) }
    : {};
  return lifeSample({
    lower: Float64Array.from(rows, ([lower]) => lower),
    upper: Float64Array.from(rows, ([, upper]) => upper),
    count: Float64Array.from(rows, ([, , count]) => count ?? 1),
    ...clusters,
  });
}

const sound = (age: number, count = 1): Row => [age, Infinity, count];
const failed = (age: number, count = 1): Row => [age, age, count];

const CASES: Record<string, [rows: Row[], options: FitOptions]> = {
  'six of nine failed': [
    [...[16, 34, 53, 75, 93, 120].map((age) => failed(age)), sound(100, 3)],
    { kind: 'weibull' },
  ],
  'two of a thousand failed': [[failed(200), failed(340), sound(365, 998)], { kind: 'weibull' }],
  'found at inspections': [[[0, 100, 2], [100, 200, 5], [200, 300, 9], sound(300, 4)], { kind: 'weibull' }],
  'very steep': [[failed(1000), failed(1010, 2), failed(1021), sound(1000, 6)], { kind: 'weibull' }],
  'units of 1e12': [[failed(3e12), failed(5e12), failed(9e12), sound(8e12, 5)], { kind: 'weibull' }],
  'a prior of the shape': [[failed(100), sound(365, 9)], { kind: 'weibull', method: 'posterior' }],
  'few early leaks, share by its prior': [
    [failed(3), failed(30), ...[300, 420, 500, 610, 700].map((age) => failed(age)), sound(500, 200)],
    { kind: 'weibull', fault: 'estimate' },
  ],
  'a log-logistic': [
    [...[10, 20, 35, 60, 110].map((age) => failed(age)), sound(90, 4)],
    { kind: 'loglogistic' },
  ],
  'a gamma': [[...[10, 20, 35, 60, 110].map((age) => failed(age)), sound(90, 4)], { kind: 'gamma' }],
};

/** Bounds of a profile are found to 1e-9 of the log, those beside a third parameter to about 1e-7. */
const ALIKE = 1e-6;

describe.each(Object.entries(CASES))('the region of %s', (_name, [rows, options]) => {
  const fit = fitLife(sampleOf(rows), options);
  const region = likelihoodRegion(fit, { levels: [0.1, 0.5, 0.9, 0.99] });

  it('ends where the profile-likelihood bounds of shape and of scale end, at the level with one degree of freedom', () => {
    for (const { level, oneParameterLevel, shapeRange, scaleRange } of region.contours) {
      // Half the quantile of chi-square is the drop of both.
      expect(chiSquareQuantile(oneParameterLevel, 1)).toBeCloseTo(chiSquareQuantile(level, 2), 9);
      for (const [of, range] of [
        ['shape', shapeRange],
        ['scale', scaleRange],
      ] as const) {
        const bounds = lifeBounds(fit, { of, level: oneParameterLevel, method: 'likelihood' });
        expect(Math.abs(Math.log(range[0] / bounds.low))).toBeLessThan(ALIKE);
        expect(Math.abs(Math.log(range[1] / bounds.high))).toBeLessThan(ALIKE);
      }
    }
  });

  it('is closed, goes round once with few steps, and lies within the next larger one', () => {
    region.contours.forEach(({ shape, scale, shapeRange, scaleRange, relativeLikelihood, level }, i) => {
      expect(shape.length).toBe(scale.length);
      expect(shape.length).toBeGreaterThan(30);
      expect(shape.length).toBeLessThan(400);
      expect([shape.at(-1), scale.at(-1)]).toEqual([shape[0], scale[0]]);
      expect(relativeLikelihood).toBeCloseTo(1 - level, 12);
      const larger = region.contours[i + 1];
      if (larger === undefined) return;
      for (const [range, outer] of [
        [shapeRange, larger.shapeRange],
        [scaleRange, larger.scaleRange],
      ] as const) {
        expect(outer[0]).toBeLessThan(range[0]);
        expect(outer[1]).toBeGreaterThan(range[1]);
      }
    });
  });
});

describe('likelihood regions', () => {
  const six = fitLife(sampleOf((CASES['six of nine failed'] as [Row[], FitOptions])[0]), { kind: 'weibull' });

  it('go with the unit of the ages', () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 25, noNaN: true }), (power) => {
        const unit = Math.exp(power);
        const ages = [16, 34, 53, 75, 93, 120].map((age) => failed(age * unit));
        const other = likelihoodRegion(
          fitLife(sampleOf([...ages, sound(100 * unit, 3)]), { kind: 'weibull' }),
        );
        likelihoodRegion(six).contours.forEach(({ shapeRange, scaleRange }, i) => {
          const contour = other.contours[i];
          expect(contour?.shapeRange[0]).toBeCloseTo(shapeRange[0], 6);
          expect((contour?.scaleRange[1] ?? 0) / unit / scaleRange[1]).toBeCloseTo(1, 6);
        });
      }),
      { seed: 11, numRuns: 15 },
    );
  });

  it('are no ellipse where lives are few: far from the mirror image round the best pair, even on log axes', () => {
    const two = fitLife(sampleOf((CASES['two of a thousand failed'] as [Row[], FitOptions])[0]), {
      kind: 'weibull',
    });
    const { scale, contours } = likelihoodRegion(two);
    const [low, high] = contours[1]?.scaleRange ?? [1, 1];
    expect(Math.log(high / scale) / Math.log(scale / low)).toBeGreaterThan(3);
  });

  it('are wider where lives of one position are alike, unless asked not to', () => {
    const rows: Row[] = [100, 105, 300, 310, 600, 590, 800, 790].map((age, i) => [age, age, 1, i >> 1]);
    const fit = fitLife(sampleOf(rows), { kind: 'weibull' });
    const [wide, plain] = [likelihoodRegion(fit), likelihoodRegion(fit, { robust: false })];
    expect(plain.inflation).toBe(1);
    expect(wide.inflation).toBeGreaterThan(1.2);
    expect(at(wide.contours[1]?.shapeRange ?? [], 1)).toBeGreaterThan(
      at(plain.contours[1]?.shapeRange ?? [], 1),
    );
  });

  it('warn under five failures', () => {
    const codes = (fit: LifeFit): string[] => likelihoodRegion(fit).warnings.map(({ code }) => code);
    expect(codes(six)).not.toContain('region-few-failures');
    expect(codes(fitLife(sampleOf([failed(5), failed(9), sound(7, 3)]), { kind: 'weibull' }))).toContain(
      'region-few-failures',
    );
  });

  it('are refused where there is none', () => {
    const rows = sampleOf([...[16, 34, 53, 75, 93, 120].map((age) => failed(age))]);
    const refused = (options: FitOptions, levels = [0.5]): unknown => {
      expect(() => likelihoodRegion(fitLife(rows, options), { levels })).toThrow(UsageError);
      return null;
    };
    refused({ kind: 'weibull', shape: 2 });
    refused({ kind: 'lognormal' });
    refused({ kind: 'exponential' });
    refused({ kind: 'weibull', failureFree: 'estimate' });
    for (const level of [0, 1, -0.1, Number.NaN]) refused({ kind: 'weibull' }, [level]);
  });
});
