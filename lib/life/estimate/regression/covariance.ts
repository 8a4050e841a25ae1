/** Covariance of coefficients: inverse information, or the sandwich with scores summed by position (Lin & Wei 1989). */
import { at, floatAt } from '../../../numeric/columns.js';
import { multiply } from '../../../numeric/matrix.js';
import type { Problem } from './maximise.js';
import { xAt } from './rows.js';
import { rowTerms } from './rowTerms.js';

/** Sandwich on the scale of theta. Rows of the problem are those of the sample; `cluster` says which position each belongs to. */
export function sandwich(
  problem: Problem,
  theta: readonly number[],
  plain: readonly number[],
  cluster: Int32Array,
): number[] {
  const size = theta.length;
  return multiply(multiply(plain, scoreProduct(problem, theta, cluster), size), plain, size);
}

function scoreProduct(problem: Problem, theta: readonly number[], cluster: Int32Array): number[] {
  const size = theta.length;
  const out = new Array<number>(size * size).fill(0);
  const byCluster = new Map<number, Float64Array>();
  const score = new Float64Array(size);
  for (let i = 0; i < cluster.length; i++) {
    rowScore(problem, theta, i, score);
    const count = floatAt(problem.rows.count, i);
    // A negative cluster says that the lives of this row are apart from each other.
    if (at(cluster, i) < 0) addOuter(out, score, count);
    else {
      const total = byCluster.get(at(cluster, i)) ?? new Float64Array(size);
      for (let j = 0; j < size; j++) total[j] = floatAt(total, j) + count * floatAt(score, j);
      byCluster.set(at(cluster, i), total);
    }
  }
  for (const total of byCluster.values()) addOuter(out, total, 1);
  return out;
}

function rowScore(
  { law, rows, spreads }: Problem,
  theta: readonly number[],
  i: number,
  out: Float64Array,
): void {
  const slopes = rows.x.length;
  const terms = new Float64Array(6);
  const place = slopes + 1 + at(rows.group, i);
  let eta = at(theta, 0);
  for (let j = 0; j < slopes; j++) eta += at(theta, j + 1) * xAt(rows, j, i);
  rowTerms(law, rows, i, eta, spreads === 0 ? 1 : Math.exp(at(theta, place)), terms);
  out.fill(0);
  out[0] = floatAt(terms, 1);
  for (let j = 0; j < slopes; j++) out[j + 1] = floatAt(terms, 1) * xAt(rows, j, i);
  if (spreads > 0) out[place] = floatAt(terms, 2);
}

function addOuter(out: number[], score: Float64Array, weight: number): void {
  const size = score.length;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      out[i * size + j] = at(out, i * size + j) + weight * floatAt(score, i) * floatAt(score, j);
    }
  }
}
