/**
 * Log-likelihood of one row of a regression with its derivatives by location (eta) and log spread (tau): METHODS 1.2 with
 * z = (log age - eta) / sigma, derived by the chain rule.
 */
import { floatAt } from '../../../numeric/columns.js';
import { BETWEEN, EXACT, type RegressionRows, SOUND } from './rows.js';
import type { StandardLaw } from './standardLaw.js';

/** Six numbers: log-likelihood, d/d eta, d/d tau, d²/d eta², d²/d eta d tau, d²/d tau². */
export type RowTerms = Float64Array;

/** Fills `out` for row i. An exact row counts the density of log age: the log-likelihood of age is less by log age. */
export function rowTerms(
  law: StandardLaw,
  rows: RegressionRows,
  i: number,
  eta: number,
  sigma: number,
  out: RowTerms,
): void {
  out.fill(0);
  const kind = rows.kind[i] as number;
  const upper = (floatAt(rows.upper, i) - eta) / sigma;
  const lower = (floatAt(rows.lower, i) - eta) / sigma;
  if (kind === EXACT) {
    law.point(upper, out);
    toLocation(out, upper, sigma);
    out[0] = floatAt(out, 0) - Math.log(sigma);
    out[2] = floatAt(out, 2) - 1;
  } else if (kind === SOUND) {
    if (lower !== -Infinity) {
      law.tail(lower, out);
      toLocation(out, lower, sigma);
    }
  } else if (kind === BETWEEN) addBetween(out, law, lower, upper, sigma);
  if (floatAt(rows.entry, i) !== -Infinity) {
    const entry = (floatAt(rows.entry, i) - eta) / sigma;
    addPoint(out, entry, -law.logSurvival(entry), law.hazard(entry), law.hazardSlope(entry), sigma);
  }
}

/** Value and two derivatives by one z into those by location and log spread. */
function toLocation(out: RowTerms, z: number, sigma: number): void {
  const first = floatAt(out, 1);
  const second = floatAt(out, 2);
  out[1] = -first / sigma;
  out[2] = -first * z;
  out[3] = second / (sigma * sigma);
  out[4] = (second * z + first) / sigma;
  out[5] = (second * z + first) * z;
}

/** A term that depends on one z, by its value and two derivatives. */
function addPoint(
  out: RowTerms,
  z: number,
  value: number,
  first: number,
  second: number,
  sigma: number,
): void {
  if (z === -Infinity) return;
  out[0] = floatAt(out, 0) + value;
  out[1] = floatAt(out, 1) - first / sigma;
  out[2] = floatAt(out, 2) - first * z;
  out[3] = floatAt(out, 3) + second / (sigma * sigma);
  out[4] = floatAt(out, 4) + (second * z + first) / sigma;
  out[5] = floatAt(out, 5) + (second * z + first) * z;
}

/** log [S(u) - S(v)]: with a and b the densities at u and v over that chance, grouped so that narrow intervals keep their digits. */
function addBetween(out: RowTerms, law: StandardLaw, u: number, v: number, sigma: number): void {
  const log = law.logBetween(u, v);
  const b = Math.exp(law.logDensity(v) - log);
  const isLeft = u === -Infinity;
  const a = isLeft ? 0 : Math.exp(law.logDensity(u) - log);
  const au = isLeft ? 0 : a * u;
  const bent = isLeft ? 0 : a * law.slope(u);
  const bentV = b * law.slope(v);
  const bentU = isLeft ? 0 : bent * u;
  const [rise, moment] = [a - b, au - b * v];
  out[0] = floatAt(out, 0) + log;
  out[1] = floatAt(out, 1) + rise / sigma;
  out[2] = floatAt(out, 2) + moment;
  out[3] = floatAt(out, 3) + (bentV - bent - rise * rise) / (sigma * sigma);
  out[4] = floatAt(out, 4) + (bentV * v - bentU - rise * moment - rise) / sigma;
  out[5] = floatAt(out, 5) + bentV * v * v - (isLeft ? 0 : bentU * u) - moment * moment - moment;
}
