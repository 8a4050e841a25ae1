/**
 * A group's wear-out log-likelihood as a table over (log shape, log scale), so that a sampler may ask for it a
 * million times. Rows of the table follow the shape. Along each of them the second coordinate is
 * z = log u - log u_best(shape), u = scale^-shape, in which the likelihood of r leaks looks nearly the same at every
 * shape: r (z - exp z). The steep part, minus expected leaks, is known in closed form and added afterwards; the table
 * holds the rest, which is close to a straight line in z. Between nodes: a cubic through four of them, both ways.
 */
import { columnOf } from '../../../numeric/columns.js';
import { LOG_SHAPE_LIMITS, wearColumns } from './wearColumn.js';
import type { PreparedRows } from './weibullLikelihood.js';

/** Log-likelihood of one group over log shape and log scale, flattened by the inflation it was made with. */
export interface WearSurface {
  logLikelihood(logShape: number, logScale: number): number;
  /** log u = -shape * log scale where the likelihood (with half a leak added) is best at that shape. */
  bestLogRate(logShape: number): number;
  /** Range of log shape that the table covers: all, or where the likelihood is within exp(-60) of its best. */
  logShapeRange: readonly [number, number];
}

const SHAPE_NODES = 56;
const RATE_NODES = 36;
/** Beyond this fall the likelihood is only continued by a straight line. */
const DEEPEST_FALL = 60;
const LOWEST_Z = -14;
const HIGHEST_Z = 8;
const COARSE = 17;

/** Tabulates rows; `inflation` (1 or more) divides the log-likelihood where positions repeat themselves. */
export function wearSurface(rows: PreparedRows, inflation = 1): WearSurface {
  const nodeAt = shapeNodes(rows);
  const range = shapeRange(nodeAt, inflation);
  const shapeStep = (range[1] - range[0]) / (SHAPE_NODES - 1);
  const columns = Array.from({ length: SHAPE_NODES }, (_, i) => nodeAt(range[0] + i * shapeStep));
  const [zLow, zHigh] = rateRange(columns, inflation);
  const zStep = (zHigh - zLow) / (RATE_NODES - 1);
  const best = columnOf(columns, (column) => column.bestLogScale);
  const expected = columnOf(columns, (column) => column.expected / inflation);
  const table = leakTable(columns, zLow, zStep, inflation);

  // The best scale bends little along the shapes; the best rate, -shape times it, bends a lot.
  const bestLogRate = (logShape: number): number => {
    const inside = clamp(logShape, range);
    return -Math.exp(inside) * cubicAt(best, 0, (inside - range[0]) / shapeStep, SHAPE_NODES);
  };
  return {
    logShapeRange: range,
    bestLogRate,
    logLikelihood(logShape, logScale) {
      const inside = clamp(logShape, range);
      const x = (inside - range[0]) / shapeStep;
      const i = firstNode(x, SHAPE_NODES);
      // Four weights serve the best scale, the expected leaks and the table alike: written out, as this is the inner loop.
      const d = x - i;
      const w0 = (-(d - 1) * (d - 2) * (d - 3)) / 6;
      const w1 = (d * (d - 2) * (d - 3)) / 2;
      const w2 = (-d * (d - 1) * (d - 3)) / 2;
      const w3 = (d * (d - 1) * (d - 2)) / 6;
      const ridge = weigh(best, i, w0, w1, w2, w3);
      const sound = weigh(expected, i, w0, w1, w2, w3);
      const z = Math.exp(inside) * (ridge - logScale);
      const y = (z - zLow) / zStep;
      const row = i * RATE_NODES;
      let leaks: number;
      if (y >= 0 && y <= RATE_NODES - 1) {
        const j = firstNode(y, RATE_NODES);
        const e = y - j;
        const v0 = (-(e - 1) * (e - 2) * (e - 3)) / 6;
        const v1 = (e * (e - 2) * (e - 3)) / 2;
        const v2 = (-e * (e - 1) * (e - 3)) / 2;
        const v3 = (e * (e - 1) * (e - 2)) / 6;
        const k = row + j;
        leaks =
          w0 * weigh(table, k, v0, v1, v2, v3) +
          w1 * weigh(table, k + RATE_NODES, v0, v1, v2, v3) +
          w2 * weigh(table, k + 2 * RATE_NODES, v0, v1, v2, v3) +
          w3 * weigh(table, k + 3 * RATE_NODES, v0, v1, v2, v3);
      } else {
        leaks =
          w0 * cubicAt(table, row, y, RATE_NODES) +
          w1 * cubicAt(table, row + RATE_NODES, y, RATE_NODES) +
          w2 * cubicAt(table, row + 2 * RATE_NODES, y, RATE_NODES) +
          w3 * cubicAt(table, row + 3 * RATE_NODES, y, RATE_NODES);
      }
      const beyond = (Math.abs(logShape - inside) / shapeStep) * DEEPEST_FALL;
      return leaks - sound * Math.exp(Math.min(z, 300)) - beyond;
    },
  };
}

/** One shape: its best scale, leaks expected there, and the log-likelihood z away from it. */
interface ShapeNode {
  bestLogScale: number;
  expected: number;
  atZ(z: number): number;
}

/** Nodes of prepared rows: use one up before asking for the next, as they share powers of the shape. */
function shapeNodes(rows: PreparedRows): (logShape: number) => ShapeNode {
  const columnAt = wearColumns(rows);
  return (logShape) => {
    const column = columnAt(logShape);
    const shape = Math.exp(logShape);
    return {
      bestLogScale: column.nudgedLogScale,
      expected: column.expected,
      atZ: (z) => column.logLikelihood(column.nudgedLogScale - z / shape),
    };
  };
}

/** The log-likelihood without minus expected leaks, by shape and z. */
function leakTable(columns: ShapeNode[], zLow: number, zStep: number, inflation: number): Float64Array {
  const table = new Float64Array(SHAPE_NODES * RATE_NODES);
  columns.forEach((column, i) => {
    for (let j = 0; j < RATE_NODES; j++) {
      const z = zLow + j * zStep;
      table[i * RATE_NODES + j] = (column.atZ(z) + column.expected * Math.exp(z)) / inflation;
    }
  });
  return table;
}

/** Where along the best scales the likelihood stays within the deepest fall, found coarse and then finer. */
function shapeRange(nodeAt: (logShape: number) => ShapeNode, inflation: number): [number, number] {
  let [low, high] = LOG_SHAPE_LIMITS;
  for (let round = 0; round < 4; round++) {
    const step = (high - low) / (COARSE - 1);
    const values = Array.from({ length: COARSE }, (_, i) => nodeAt(low + i * step).atZ(0) / inflation);
    const top = Math.max(...values);
    const near = values.map((value) => top - value <= DEEPEST_FALL);
    const first = Math.max(near.indexOf(true) - 1, 0);
    const last = Math.min(near.lastIndexOf(true) + 1, COARSE - 1);
    [low, high] = [low + first * step, low + last * step];
    if (last - first > COARSE / 3) break;
  }
  return [low, high];
}

/** Range of z over which the likelihood falls by the deepest fall, the widest of three shapes. */
function rateRange(columns: readonly ShapeNode[], inflation: number): [number, number] {
  const chosen = [0, Math.floor(SHAPE_NODES / 2), SHAPE_NODES - 1].map((i) => columns[i] as ShapeNode);
  const reach = (sign: 1 | -1, most: number): number =>
    Math.max(
      ...chosen.map((column) => {
        const top = column.atZ(0) / inflation;
        let z = 0.01;
        while (z < most && top - column.atZ(sign * z) / inflation < DEEPEST_FALL) z *= 1.25;
        return Math.min(z, most);
      }),
    );
  return [-reach(-1, -LOWEST_Z), reach(1, HIGHEST_Z)];
}

/** Value at x (in node steps) of `nodes` values from `start`: cubic inside, a straight line through the ends outside. */
function cubicAt(values: Float64Array, start: number, x: number, nodes: number): number {
  if (x < 0)
    return (values[start] as number) + x * ((values[start + 1] as number) - (values[start] as number));
  const last = start + nodes - 1;
  if (x > nodes - 1)
    return (
      (values[last] as number) + (x - nodes + 1) * ((values[last] as number) - (values[last - 1] as number))
    );
  const first = firstNode(x, nodes);
  const i = start + first;
  return cubic(
    x - first,
    values[i] as number,
    values[i + 1] as number,
    values[i + 2] as number,
    values[i + 3] as number,
  );
}

function weigh(values: Float64Array, i: number, w0: number, w1: number, w2: number, w3: number): number {
  return (
    w0 * (values[i] as number) +
    w1 * (values[i + 1] as number) +
    w2 * (values[i + 2] as number) +
    w3 * (values[i + 3] as number)
  );
}

function firstNode(x: number, nodes: number): number {
  return Math.min(Math.max(Math.floor(x) - 1, 0), nodes - 4);
}

/** The cubic through four values at 0, 1, 2, 3 (Lagrange). */
function cubic(x: number, v0: number, v1: number, v2: number, v3: number): number {
  const a = x - 1;
  const b = x - 2;
  const c = x - 3;
  return (-a * b * c * v0) / 6 + (x * b * c * v1) / 2 - (x * a * c * v2) / 2 + (x * a * b * v3) / 6;
}

function clamp(value: number, [low, high]: readonly [number, number]): number {
  return value < low ? low : value > high ? high : value;
}
