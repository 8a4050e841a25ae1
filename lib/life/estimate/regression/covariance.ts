/** Covariance of coefficients: inverse information, or the sandwich with scores summed by position (Lin & Wei 1989). */
import { at, floatAt, itemAt } from '../../../numeric/columns.js';
import { multiply } from '../../../numeric/matrix.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { Problem } from './maximise.js';
import { xAt } from './rows.js';
import { rowTerms } from './rowTerms.js';

/** Slopes of the log-likelihood of one life of row i, written into `out`. */
export type RowScore = (i: number, out: Float64Array) => void;

/** Sandwich on the scale of theta. `cluster` says which position each row belongs to, `count` how many lives it has. */
export function sandwich(
  rowScore: RowScore,
  plain: readonly number[],
  size: number,
  { cluster, count }: Pick<LifeSample, 'cluster' | 'count'>,
): number[] {
  return multiply(multiply(plain, scoreProduct(rowScore, size, cluster, count), size), plain, size);
}

function scoreProduct(rowScore: RowScore, size: number, cluster: Int32Array, counts: Float64Array): number[] {
  const out = new Array<number>(size * size).fill(0);
  const byCluster = new Map<number, Float64Array>();
  const score = new Float64Array(size);
  for (let i = 0; i < cluster.length; i++) {
    rowScore(i, score);
    const count = floatAt(counts, i);
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

/** Scores of rows as given, none merged. */
export function scoresOf({ law, rows, spreads }: Problem, theta: readonly number[]): RowScore {
  const slopes = rows.x.length;
  const terms = new Float64Array(6);
  const { levels } = rows;
  return (i, out) => {
    const place = slopes + levels + at(rows.group, i);
    const level = at(rows.level, i);
    let eta = at(theta, level);
    for (let j = 0; j < slopes; j++) eta += at(theta, levels + j) * xAt(rows, j, i);
    rowTerms(law, rows, i, eta, spreads === 0 ? 1 : Math.exp(at(theta, place)), terms);
    out.fill(0);
    out[level] = floatAt(terms, 1);
    for (let j = 0; j < slopes; j++) out[levels + j] = floatAt(terms, 1) * xAt(rows, j, i);
    if (spreads > 0) out[place] = floatAt(terms, 2);
  };
}

/** Over the places that are not 0: of a row those are its level, the columns and its spread, however many levels there are. */
function addOuter(out: number[], score: Float64Array, weight: number): void {
  const size = score.length;
  const places: number[] = [];
  for (let i = 0; i < size; i++) if (floatAt(score, i) !== 0) places.push(i);
  for (const i of places) {
    for (const j of places) {
      out[i * size + j] = itemAt(out, i * size + j) + weight * floatAt(score, i) * floatAt(score, j);
    }
  }
}
