/**
 * Regularised incomplete gamma functions. Below a = 200 they are @stdlib's; from there on @stdlib 0.3 is wrong (by 0.7 % at
 * a = 900, x = 1035, and 0.25 % at a = x = 1e5), so the series and the continued fraction are summed here, with Loader's
 * saddle-point form as the leading factor.
 */
import gammainc from '@stdlib/math-base-special-gammainc';
import gammaincinv from '@stdlib/math-base-special-gammaincinv';
import { findRoot } from './roots.js';
import { deviance, stirlingError } from './saddlePoint.js';

const LARGE = 200;

/** P(a, x) and Q(a, x) = 1 - P, each exact where it is the small one. Precondition: a > 0, x >= 0, both finite. */
export function incompleteGamma(a: number, x: number, upper: boolean): number {
  if (a < LARGE) return gammainc(x, a, true, upper);
  if (x === 0) return upper ? 1 : 0;
  if (x <= a) {
    const lower = leading(a, x) * series(a, x);
    return upper ? 1 - lower : lower;
  }
  const tail = (leading(a, x) * a) / fraction(a, x);
  return upper ? tail : 1 - tail;
}

/** The x with P(a, x) = p, 0 < p < 1. */
export function inverseGamma(p: number, a: number): number {
  if (a < LARGE || p === 0) return gammaincinv(p, a, false);
  const sd = Math.sqrt(a);
  const excess =
    p < 0.5
      ? (x: number): number => Math.log(incompleteGamma(a, x, false) / p)
      : (x: number): number => Math.log((1 - p) / incompleteGamma(a, x, true));
  let low = a;
  let high = a;
  for (let width = sd; excess(low) > 0; width *= 2) low = Math.max(low - width, 0.5 * low);
  for (let width = sd; excess(high) < 0; width *= 2) high += width;
  return findRoot(excess, low, high).root;
}

/** x^a exp(-x) / Gamma(a + 1). */
function leading(a: number, x: number): number {
  return Math.exp(-stirlingError(a) - deviance(a, x)) / Math.sqrt(2 * Math.PI * a);
}

/** P(a, x) Gamma(a + 1) exp(x) / x^a: sum of x^n / [(a + 1) ... (a + n)] from n = 0, about 8 sqrt(a) terms where x is near a. */
export function series(a: number, x: number): number {
  let term = 1;
  let total = 1;
  for (let n = 1; n < 1e6; n++) {
    term *= x / (a + n);
    total += term;
    if (term < 1e-17 * total) break;
  }
  return total;
}

/** Continued fraction of x^a exp(-x) / [Gamma(a) Q(a, x)] for x > a (Lentz's method, from memory). */
export function fraction(a: number, x: number): number {
  let value = x + 1 - a;
  let c = value;
  let d = 0;
  for (let n = 1; n < 1e6; n++) {
    const an = n * (a - n);
    const bn = x + 2 * n + 1 - a;
    d = 1 / (bn + an * d);
    c = bn + an / c;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return value;
}
