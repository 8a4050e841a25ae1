/**
 * Sums over many ages turned into sums over few. The log hazard and cumulative hazard of a gamma law are smooth functions of log age, so
 * in a short cell of log age the polynomial through the Chebyshev points has their values to the last digits, and
 *
 *     sum over ages of weight times f(age)   =   sum over nodes of (sum over ages of weight times the node's Lagrange polynomial) times f(node)
 *
 * whatever the parameters (Berrut & Trefethen 2004 for the barycentric form, from memory). With cells as wide as the standard deviation of log life
 * the error is about 1e-15 of the largest value in a cell.
 */
import { at, floatAt } from '../../numeric/columns.js';

const NODES = 18;
/** Chebyshev points of the second kind on [-1, 1], and their barycentric weights. */
const POINTS = Float64Array.from({ length: NODES }, (_, j) => -Math.cos((Math.PI * j) / (NODES - 1)));
const SIGNS = POINTS.map((_, j) => (j % 2 === 0 ? 1 : -1) * (j === 0 || j === NODES - 1 ? 0.5 : 1));

/** Ages with weights of two kinds. */
export interface WeightedAges {
  /** Ascending, above 0. */
  age: Float64Array;
  first: Float64Array;
  second: Float64Array;
}

/** Precondition: columns of one length. Cells with no more ages than nodes are left as they are. @param cell width in log age */
export function chebyshevNodes(ages: WeightedAges, cell: number): WeightedAges {
  const { age } = ages;
  const out: Growing = { age: [], first: [], second: [] };
  let from = 0;
  while (from < age.length) {
    const end = floatAt(age, from) * Math.exp(cell);
    let to = from + 1;
    while (to < age.length && floatAt(age, to) <= end) to++;
    const narrow = floatAt(age, to - 1) < floatAt(age, from) * (1 + 1e-6 * Math.min(cell, 1));
    if (to - from <= NODES || narrow) copyCell(ages, from, to, out);
    else nodesOfCell(ages, from, to, out);
    from = to;
  }
  return {
    age: Float64Array.from(out.age),
    first: Float64Array.from(out.first),
    second: Float64Array.from(out.second),
  };
}

type Growing = Record<keyof WeightedAges, number[]>;

function copyCell({ age, first, second }: WeightedAges, from: number, to: number, out: Growing): void {
  for (let k = from; k < to; k++) {
    out.age.push(floatAt(age, k));
    out.first.push(floatAt(first, k));
    out.second.push(floatAt(second, k));
  }
}

function nodesOfCell({ age, first, second }: WeightedAges, from: number, to: number, out: Growing): void {
  const [low, high] = [Math.log(floatAt(age, from)), Math.log(floatAt(age, to - 1))];
  const [middle, half] = [0.5 * (low + high), 0.5 * (high - low)];
  const [one, other] = [new Float64Array(NODES), new Float64Array(NODES)];
  const share = new Float64Array(NODES);
  for (let k = from; k < to; k++) {
    lagrange((Math.log(floatAt(age, k)) - middle) / half, share);
    for (let j = 0; j < NODES; j++) {
      one[j] = floatAt(one, j) + floatAt(first, k) * floatAt(share, j);
      other[j] = floatAt(other, j) + floatAt(second, k) * floatAt(share, j);
    }
  }
  for (let j = 0; j < NODES; j++) {
    out.age.push(Math.exp(middle + half * at(POINTS, j)));
    out.first.push(floatAt(one, j));
    out.second.push(floatAt(other, j));
  }
}

/** The Lagrange polynomials of all nodes at z, from -1 to 1. */
function lagrange(z: number, out: Float64Array): void {
  let total = 0;
  for (let j = 0; j < NODES; j++) {
    const off = z - at(POINTS, j);
    if (off === 0) {
      out.fill(0);
      out[j] = 1;
      return;
    }
    const share = at(SIGNS, j) / off;
    out[j] = share;
    total += share;
  }
  for (let j = 0; j < NODES; j++) out[j] = floatAt(out, j) / total;
}
