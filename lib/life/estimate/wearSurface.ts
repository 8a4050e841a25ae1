/**
 * A group's wear-out log-likelihood as a table over (log shape, log scale), so that a sampler may ask for it a
 * million times. Rows of the table follow the shape. Along each of them the second coordinate is
 * z = log u - log u_best(shape), u = scale^-shape, in which the likelihood of r leaks looks nearly the same at every
 * shape: r (z - exp z). Between the nodes: cubic through four of them, both ways.
 */
import { at } from '../../numeric/columns.js';
import { LOG_SHAPE_LIMITS, type WearColumn, type WearRows, wearColumn } from './wearColumn.js';

/** Log-likelihood of one group over log shape and log scale, flattened by the inflation it was made with. */
export interface WearSurface {
  logLikelihood(logShape: number, logScale: number): number;
  /** log u = -shape * log scale where the likelihood (with half a leak added) is best at that shape. */
  bestLogRate(logShape: number): number;
  /** Range of log shape that the table covers: all, or where the likelihood is within exp(-60) of its best. */
  logShapeRange: readonly [number, number];
}

const SHAPE_NODES = 40;
const RATE_NODES = 44;
/** Beyond this fall the likelihood is only continued by a straight line. */
const DEEPEST_FALL = 60;
const LOWEST_Z = -14;
const COARSE = 17;

/** Tabulates rows; `inflation` (1 or more) divides the log-likelihood where positions repeat themselves. */
export function wearSurface(rows: WearRows, inflation = 1): WearSurface {
  const range = shapeRange(rows, inflation);
  const shapeStep = (range[1] - range[0]) / (SHAPE_NODES - 1);
  const columns = Array.from({ length: SHAPE_NODES }, (_, i) => node(rows, range[0] + i * shapeStep));
  const [zLow, zHigh] = rateRange(columns, inflation);
  const zStep = (zHigh - zLow) / (RATE_NODES - 1);
  const table = new Float64Array(SHAPE_NODES * RATE_NODES);
  const best = Float64Array.from(columns, (column) => column.bestLogRate);
  columns.forEach((column, i) => {
    for (let j = 0; j < RATE_NODES; j++) {
      table[i * RATE_NODES + j] = floor(column.atZ(zLow + j * zStep) / inflation);
    }
  });

  const bestLogRate = (logShape: number): number => {
    const x = (clamp(logShape, range) - range[0]) / shapeStep;
    const first = firstNode(x, SHAPE_NODES);
    return cubic(x - first, at(best, first), at(best, first + 1), at(best, first + 2), at(best, first + 3));
  };
  const atNode = (i: number, z: number): number => {
    const y = (z - zLow) / zStep;
    const inside = Math.min(Math.max(y, 0), RATE_NODES - 1);
    const first = firstNode(inside, RATE_NODES);
    const k = i * RATE_NODES + first;
    const value = cubic(inside - first, at(table, k), at(table, k + 1), at(table, k + 2), at(table, k + 3));
    return y === inside ? value : value + outsideSlope(table, i, y) * Math.abs(y - inside);
  };
  return {
    logShapeRange: range,
    bestLogRate,
    logLikelihood(logShape, logScale) {
      const inside = clamp(logShape, range);
      const x = (inside - range[0]) / shapeStep;
      const first = firstNode(x, SHAPE_NODES);
      const z = -Math.exp(inside) * logScale - bestLogRate(inside);
      const value = cubic(
        x - first,
        atNode(first, z),
        atNode(first + 1, z),
        atNode(first + 2, z),
        atNode(first + 3, z),
      );
      return value - (Math.abs(logShape - inside) / shapeStep) * DEEPEST_FALL;
    },
  };
}

interface ShapeNode {
  bestLogRate: number;
  atZ(z: number): number;
}

function node(rows: WearRows, logShape: number): ShapeNode {
  const column: WearColumn = wearColumn(rows, logShape);
  const shape = Math.exp(logShape);
  const bestLogRate = -shape * column.bestLogScale(true);
  return { bestLogRate, atZ: (z) => column.logLikelihood(-(bestLogRate + z) / shape) };
}

/** Where along the best scales the likelihood stays within the deepest fall, found coarse and then finer. */
function shapeRange(rows: WearRows, inflation: number): [number, number] {
  let [low, high] = LOG_SHAPE_LIMITS;
  for (let round = 0; round < 4; round++) {
    const step = (high - low) / (COARSE - 1);
    const values = Array.from({ length: COARSE }, (_, i) => node(rows, low + i * step).atZ(0) / inflation);
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
  return [-reach(-1, -LOWEST_Z), reach(1, 8)];
}

/** Slope per node with which column i goes on outside: steeply down where it was falling, flat where it was flat. */
function outsideSlope(table: Float64Array, i: number, y: number): number {
  const edge = i * RATE_NODES + (y < 0 ? 0 : RATE_NODES - 1);
  const inner = y < 0 ? edge + 1 : edge - 1;
  return at(table, edge) - at(table, inner);
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

/** Keeps impossible corners of the table finite, so that the cubic stays a number. */
function floor(value: number): number {
  return value > -1e12 ? value : -1e12;
}
