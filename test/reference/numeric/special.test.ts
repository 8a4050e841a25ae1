/** Wrappers against R 4.2 (special.R beside this file, values in special.json). */
import { describe, expect, it } from 'vitest';
import {
  betaCdf,
  binomialPmf,
  chiSquareCdf,
  chiSquareQuantile,
  gammaP,
  gammaQ,
  gammaQuantile,
  logGamma,
  logNormalTail,
  negativeBinomialCdf,
  negativeBinomialPmf,
  negativeBinomialQuantile,
  normalCdf,
  normalQuantile,
  poissonCdf,
  poissonPmf,
  poissonQuantile,
} from '../../../lib/numeric/special.js';
import rows from './special.json' with { type: 'json' };

const wrappers: Record<string, (...args: number[]) => number> = {
  logGamma,
  gammaP,
  gammaQ,
  gammaQuantile,
  chiSquareQuantile,
  chiSquareCdf,
  betaCdf,
  normalCdf,
  normalQuantile,
  logNormalTail,
  poissonCdf,
  poissonPmf,
  poissonQuantile,
  negativeBinomialPmf,
  negativeBinomialCdf,
  negativeBinomialQuantile,
  binomialPmf,
};

/** Relative; every wrapper keeps it at every point, far tails and means of 1e5 included. */
const TOLERANCE = 1e-12;

describe('special functions against R', () => {
  const names = [...new Set(rows.map((row) => row.f))];
  it.each(names)('%s', (name) => {
    const f = wrappers[name] as (...args: number[]) => number;
    const misses = rows
      .filter((row) => row.f === name)
      .map((row) => ({ ...row, got: f(...row.args) }))
      .map((row) => ({
        ...row,
        error: Math.abs(row.got - row.value) / Math.max(Math.abs(row.value), 1e-300),
      }))
      .filter((row) => !(row.error <= TOLERANCE));
    expect(misses).toEqual([]);
  });
});
