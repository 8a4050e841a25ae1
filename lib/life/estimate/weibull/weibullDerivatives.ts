/**
 * First and second derivatives of the Weibull log likelihood by b = log shape and e = log scale. With
 * w = shape log(t / scale) and H = exp(w):  H_b = w H, H_e = -shape H, H_bb = w (1 + w) H, H_be = -shape (1 + w) H,
 * H_ee = shape² H. Differences of H over an interval are taken relative to the difference itself, which keeps
 * their digits in intervals as narrow as a day and at shapes in the thousands.
 */
import { floatAt } from '../../../numeric/columns.js';
import type { PreparedRows } from './weibullLikelihood.js';

export interface Derivatives {
  /** By log shape, log scale. */
  gradient: [number, number];
  /** By shape-shape, shape-scale, scale-scale (logs). */
  hessian: [number, number, number];
}

/** Inverse of a symmetric 2 x 2 matrix [aa, ab, bb], row by row. */
export function inverse([aa, ab, bb]: readonly [number, number, number]): number[] {
  const determinant = aa * bb - ab * ab;
  return [bb / determinant, -ab / determinant, -ab / determinant, aa / determinant];
}

export function weibullDerivatives(rows: PreparedRows, shape: number, scale: number): Derivatives {
  const out: Derivatives = { gradient: [0, 0], hessian: [0, 0, 0] };
  const shift = shape * (Math.log(rows.unit) - Math.log(scale));
  addHazards(rows, shape, shift, out);
  addExact(rows.exact, shape, shift, out);
  addIntervals(rows.interval, shape, shift, out);
  return out;
}

/** Minus the weighted sum of H. */
function addHazards({ logAge, weight }: PreparedRows, shape: number, shift: number, out: Derivatives): void {
  const { gradient, hessian } = out;
  for (let i = 0; i < logAge.length; i++) {
    const w = shape * floatAt(logAge, i) + shift;
    const h = floatAt(weight, i) * Math.exp(w);
    if (h === 0) continue;
    gradient[0] -= w * h;
    gradient[1] += shape * h;
    hessian[0] -= w * (1 + w) * h;
    hessian[1] += shape * (1 + w) * h;
    hessian[2] -= shape * shape * h;
  }
}

/** log[early + q g] with g = shape H: log g has the derivatives (1 + w, -shape). */
function addExact(rows: PreparedRows['exact'], shape: number, shift: number, out: Derivatives): void {
  for (let i = 0; i < rows.count.length; i++) {
    const w = shape * floatAt(rows.logAge, i) + shift;
    const wear = floatAt(rows.q, i) * shape * Math.exp(w);
    const early = floatAt(rows.early, i);
    // Chance that a failure at this age is of the wear-out kind.
    const part = early === 0 ? 1 : wear / (early + wear);
    addLogTerm(out, floatAt(rows.count, i), part, part - part * part, 1 + w, -shape, w, -shape, 0);
  }
}

/** log[early + q (1 - exp(-d))] with d = H(u) - H(a). */
function addIntervals(rows: PreparedRows['interval'], shape: number, shift: number, out: Derivatives): void {
  for (let i = 0; i < rows.count.length; i++) {
    const wu = shape * floatAt(rows.logUpper, i) + shift;
    const wa = shape * floatAt(rows.logLower, i) + shift;
    const fromZero = wa === Number.NEGATIVE_INFINITY;
    const narrow = fromZero ? 0 : 1 / Math.expm1(wu - wa);
    // Derivatives of d over d.
    const byShape = fromZero || narrow === 0 ? wu : wu + (wu - wa) * narrow;
    const byShapeTwice =
      fromZero || narrow === 0 ? wu * (1 + wu) : wu * (1 + wu) + (wu - wa) * (1 + wu + wa) * narrow;
    // Held finite: where it has no room in a number all that hangs on it has vanished.
    const d = Math.min(Math.exp(wu) * (fromZero ? 1 : -Math.expm1(wa - wu)), Number.MAX_VALUE);
    const early = floatAt(rows.early, i);
    const q = floatAt(rows.q, i);
    const plain = d < 1e-300 ? 1 : d > 700 ? 0 : d / Math.expm1(d);
    const m = early === 0 ? plain : (q * Math.exp(-d) * d) / (early - q * Math.expm1(-d));
    // (log G)'' = m d''/d - (m d + m²) d'd'/d²; written as m (d''/d - d'd'/d²) + (m - m d - m²) d'd'/d².
    const [b, e] = [byShape, -shape];
    addLogTerm(
      out,
      floatAt(rows.count, i),
      m,
      m - m * d - m * m,
      b,
      e,
      byShapeTwice - b * b,
      -shape * (1 + b) - b * e,
      shape * shape - e * e,
    );
  }
}

/** Adds c log G where (log G)' = part (b, e) and (log G)'' = part (bb, be, ee) + square (b, e)(b, e)'. */
function addLogTerm(
  out: Derivatives,
  count: number,
  part: number,
  square: number,
  b: number,
  e: number,
  bb: number,
  be: number,
  ee: number,
): void {
  const { gradient, hessian } = out;
  gradient[0] += count * part * b;
  gradient[1] += count * part * e;
  hessian[0] += count * (part * bb + square * b * b);
  hessian[1] += count * (part * be + square * b * e);
  hessian[2] += count * (part * ee + square * e * e);
}
