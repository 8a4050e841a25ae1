/** The tabulated likelihood against the plain formula of METHODS 1.2 and 3.1, written out here row by row. */
import { describe, expect, it } from 'vitest';
import { bestLogScale, wearColumns } from '../../../lib/life/estimate/weibull/wearColumn.js';
import { wearSurface } from '../../../lib/life/estimate/weibull/wearSurface.js';
import { prepareRows } from '../../../lib/life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault } from '../../../lib/life/model.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';

type Row = [lower: number, upper: number, entry: number, count: number];

function sampleOf(rows: Row[]): LifeSample {
  return {
    lower: Float64Array.from(rows, (row) => row[0]),
    upper: Float64Array.from(rows, (row) => row[1]),
    entry: Float64Array.from(rows, (row) => row[2]),
    count: Float64Array.from(rows, (row) => row[3]),
    cluster: Int32Array.from(rows, (_, i) => i),
  };
}

function plainLogLikelihood(rows: Row[], shape: number, scale: number, fault?: FittingFault): number {
  const early = (t: number): number =>
    fault === undefined ? 0 : 1 - Math.exp(-((t / fault.scale) ** fault.shape));
  const sound = (t: number): number => 1 - (fault?.share ?? 0) * early(t);
  const hazard = (t: number): number => (t / scale) ** shape;
  return rows.reduce((total, [lower, upper, entry, count]) => {
    const start = Math.max(lower, entry);
    // [S(start) - S(upper)] / S(entry), in the form that loses no digits where the two are close.
    const before = Math.log(sound(start) / sound(entry)) - hazard(start) + hazard(entry);
    if (upper === Infinity) return total + count * before;
    const ratio = Math.log1p((sound(upper) - sound(start)) / sound(start)) - hazard(upper) + hazard(start);
    return total + count * (before + Math.log(-Math.expm1(ratio)));
  }, 0);
}

const FAULT: FittingFault = { share: 0.02, shape: 0.7, scale: 20 };
const MIXED: Row[] = [
  [299.5, 300.5, 0, 2],
  [4.5, 5.5, 0, 1],
  [364.5, 365.5, 100, 1],
  [100, 420, 60, 1],
  [0, 250, 0, 1],
  [400, Infinity, 0, 40],
  [365, Infinity, 0, 0.7],
  [364.5, 365.5, 0, 0.3],
  [600, Infinity, 200, 3],
];

describe('one shape', () => {
  for (const fault of [undefined, FAULT]) {
    const name = fault === undefined ? 'without' : 'with';
    it(`equals the plain formula ${name} fitting faults`, () => {
      const columnAt = wearColumns(prepareRows(sampleOf(MIXED), fault));
      for (const shape of [0.5, 1, 2.3, 6]) {
        const column = columnAt(Math.log(shape));
        for (const scale of [250, 500, 1100, 3000]) {
          const expected = plainLogLikelihood(MIXED, shape, scale, fault);
          expect(column.logLikelihood(Math.log(scale))).toBeCloseTo(expected, 7);
        }
      }
    });

    it(`finds the best scale ${name} fitting faults`, () => {
      for (const shape of [0.5, 1, 2.3, 6]) {
        const best = bestLogScale(prepareRows(sampleOf(MIXED), fault), Math.log(shape));
        const at = (step: number): number =>
          plainLogLikelihood(MIXED, shape, Math.exp(best + step / shape), fault);
        expect(at(0)).toBeGreaterThan(at(0.01));
        expect(at(0)).toBeGreaterThan(at(-0.01));
        expect((at(1e-3) - at(-1e-3)) / 2e-3).toBeCloseTo(0, 3);
      }
    });
  }
});

function simulated(lives: number, shape: number, scale: number, planned: number): Row[] {
  const random = randomStream(7, `surface/${lives}`);
  return Array.from({ length: lives }, (): Row => {
    const age = Math.round(scale * (-Math.log(random.uniform())) ** (1 / shape));
    return age < planned ? [Math.max(age - 0.5, 0), age + 0.5, 0, 1] : [planned, Infinity, 0, 1];
  });
}

describe('table', () => {
  it.each([
    ['nothing failed', [[400, Infinity, 0, 12]] as Row[]],
    [
      'one leak',
      [
        [299.5, 300.5, 0, 1],
        [365, Infinity, 0, 9],
      ] as Row[],
    ],
    ['mixed rows', MIXED],
    ['all leaks at one age', [[299.5, 300.5, 0, 8]] as Row[]],
    ['200 lives', simulated(200, 2.5, 700, 400)],
    ['20000 lives', simulated(20_000, 2.5, 700, 400)],
  ])('%s: equals the formula to 0.002 where it matters', (_, rows) => {
    const prepared = prepareRows(sampleOf(rows), FAULT);
    const surface = wearSurface(prepared);
    const random = randomStream(3, 'points');
    const columnAt = wearColumns(prepared);
    // Shapes that the prior lets come near: e to the 3 standard deviations of log shape round 2.
    const low = Math.max(surface.logShapeRange[0], Math.log(2) - 1.75);
    const high = Math.min(surface.logShapeRange[1], Math.log(2) + 1.75);
    let compared = 0;
    let worst = 0;
    for (let i = 0; i < 400; i++) {
      const logShape = low + (high - low) * random.uniform();
      const column = columnAt(logShape);
      const z = (random.uniform() - 0.5) * Math.min(6, 12 / Math.sqrt(column.expected));
      const logScale = -(surface.bestLogRate(logShape) + z) / Math.exp(logShape);
      const top = column.logLikelihood(column.nudgedLogScale);
      const exact = column.logLikelihood(logScale);
      if (top - exact > 15) continue;
      compared++;
      worst = Math.max(worst, Math.abs(surface.logLikelihood(logShape, logScale) - exact));
    }
    expect(worst).toBeLessThan(0.002);
    expect(compared).toBeGreaterThan(30);
  });

  it('is flattened by the inflation', () => {
    const rows = prepareRows(sampleOf(MIXED), FAULT);
    const full = wearSurface(rows);
    const flat = wearSurface(rows, 2);
    expect(flat.logLikelihood(0.8, 6.3)).toBeCloseTo(full.logLikelihood(0.8, 6.3) / 2, 2);
  });

  it('stays a number in the far corners', () => {
    const surface = wearSurface(prepareRows(sampleOf(MIXED), FAULT));
    for (const logShape of [-1.6, 0, 3.4]) {
      for (const logScale of [-0.6, 3, 16]) {
        expect(Number.isFinite(surface.logLikelihood(logShape, logScale))).toBe(true);
      }
    }
  });
});
