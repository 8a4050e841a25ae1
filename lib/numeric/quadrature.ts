/** Integrals: adaptive for one-off work, fixed Gauss-Legendre nodes for inner loops. */
import { UsageError } from '../errors.js';
import { at, floatAt } from './columns.js';

export interface Integral {
  value: number;
  /** Estimate of the absolute error; the true error is usually far smaller. */
  error: number;
  converged: boolean;
  evaluations: number;
}

export interface IntegrateOptions {
  /** Relative error to reach; 1e-10 by default. */
  relative?: number;
  /** Absolute error that is good enough; 0 by default. */
  absolute?: number;
  /**
   * Places inside (a, b) where the integrand turns: the integral is split there. Give them wherever the mass sits in a
   * small part of the range, or every rule that samples will see zeros only.
   */
  points?: readonly number[];
  maxPieces?: number;
}

interface Piece {
  low: number;
  high: number;
  value: number;
  error: number;
}

// Nodes and weights of the 15-point Kronrod rule and its embedded 7-point Gauss rule (QUADPACK 1983, from memory).
const KRONROD_NODES = [
  0.9914553711208126, 0.9491079123427585, 0.8648644233597691, 0.7415311855993945, 0.5860872354676911,
  0.4058451513773972, 0.20778495500789848,
];
const KRONROD_WEIGHTS = [
  0.022935322010529224, 0.06309209262997856, 0.10479001032225019, 0.14065325971552592, 0.1690047266392679,
  0.19035057806478542, 0.20443294007529889,
];
const KRONROD_CENTRE = 0.20948214108472782;
const GAUSS_WEIGHTS = [0.1294849661688697, 0.27970539148927664, 0.3818300505051189];
const GAUSS_CENTRE = 0.4179591836734694;

/**
 * Integral of f from a to b (b may be Infinity): globally adaptive Gauss-Kronrod (7, 15), as in QUADPACK. The ends are
 * never evaluated, so integrable singularities there are no trouble.
 */
export function integrate(
  f: (x: number) => number,
  a: number,
  b: number,
  options: IntegrateOptions = {},
): Integral {
  if (!Number.isFinite(a) || Number.isNaN(b)) {
    throw new UsageError('integrate', 'a must be finite and b a number or Infinity.', `${a}, ${b}`);
  }
  if (b === Infinity) return integrateToInfinity(f, a, options);
  if (b < a) {
    const mirrored = integrate(f, b, a, options);
    return { ...mirrored, value: -mirrored.value };
  }
  const inside = (options.points ?? []).filter((x) => x > a && x < b).sort((x, y) => x - y);
  const ends = [a, ...inside, b];
  const pieces = ends.slice(1).map((high, i) => measure(f, at(ends, i), high));
  return refine(f, pieces, options);
}

/** Substitutes x = a + u / (1 - u); with points given, the last of them sets the unit so that u = 1/2 lies there. */
function integrateToInfinity(f: (x: number) => number, a: number, options: IntegrateOptions): Integral {
  const points = (options.points ?? []).filter((x) => x > a && Number.isFinite(x));
  const unit = points.length === 0 ? 1 : Math.max(...points) - a;
  const inner = (u: number): number => {
    const rest = 1 - u;
    const y = f(a + (unit * u) / rest);
    return y === 0 ? 0 : (y * unit) / (rest * rest);
  };
  return integrate(inner, 0, 1, { ...options, points: points.map((x) => (x - a) / (x - a + unit)) });
}

function refine(f: (x: number) => number, pieces: Piece[], options: IntegrateOptions): Integral {
  const { relative = 1e-10, absolute = 0, maxPieces = 2000 } = options;
  let evaluations = 15 * pieces.length;
  for (;;) {
    let value = 0;
    let error = 0;
    let worst = 0;
    for (let i = 0; i < pieces.length; i++) {
      const piece = pieces[i] as Piece;
      value += piece.value;
      error += piece.error;
      if (piece.error > (pieces[worst] as Piece).error) worst = i;
    }
    const enough = error <= Math.max(absolute, relative * Math.abs(value));
    const { low, high } = pieces[worst] as Piece;
    const middle = 0.5 * (low + high);
    const stuck = !(middle > low && middle < high) || Number.isNaN(value);
    if (enough || stuck || pieces.length >= maxPieces) {
      return { value, error, converged: enough, evaluations };
    }
    pieces[worst] = measure(f, low, middle);
    pieces.push(measure(f, middle, high));
    evaluations += 30;
  }
}

/** One piece by both rules; their difference, sharpened as in QUADPACK, is the error. */
function measure(f: (x: number) => number, low: number, high: number): Piece {
  const centre = 0.5 * (low + high);
  const half = 0.5 * (high - low);
  const middle = f(centre);
  let kronrod = KRONROD_CENTRE * middle;
  let gauss = GAUSS_CENTRE * middle;
  let size = KRONROD_CENTRE * Math.abs(middle);
  for (let i = 0; i < 7; i++) {
    const offset = half * at(KRONROD_NODES, i);
    const left = f(centre - offset);
    const right = f(centre + offset);
    kronrod += at(KRONROD_WEIGHTS, i) * (left + right);
    size += at(KRONROD_WEIGHTS, i) * (Math.abs(left) + Math.abs(right));
    if (i % 2 === 1) gauss += at(GAUSS_WEIGHTS, (i - 1) / 2) * (left + right);
  }
  const difference = Math.abs(kronrod - gauss) * half;
  const total = size * half;
  const sharpened = total === 0 ? 0 : total * Math.min(1, (200 * (difference / total)) ** 1.5);
  return {
    low,
    high,
    value: kronrod * half,
    error: Math.max(Math.min(sharpened, difference), 2e-16 * total),
  };
}

/** Nodes and weights on [-1, 1]. */
export interface GaussRule {
  nodes: Float64Array;
  weights: Float64Array;
}

/** Gauss-Legendre rule with n nodes, by Newton on the Legendre polynomial; exact for polynomials up to degree 2n - 1. */
export function gaussLegendre(n: number): GaussRule {
  if (!(Number.isInteger(n) && n >= 1 && n <= 200)) {
    throw new UsageError('gaussLegendre', 'n must be a whole number from 1 to 200.', n);
  }
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let turn = 0; turn < 100; turn++) {
      const [value, derivative] = legendre(n, x);
      slope = derivative;
      const step = value / derivative;
      x -= step;
      if (Math.abs(step) < 1e-16) break;
    }
    slope = legendre(n, x)[1];
    nodes[n - 1 - i] = x;
    weights[n - 1 - i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

/** Legendre polynomial of degree n and its derivative at x. */
function legendre(n: number, x: number): [number, number] {
  let before = 1;
  let now = x;
  for (let k = 2; k <= n; k++) [before, now] = [now, ((2 * k - 1) * x * now - (k - 1) * before) / k];
  return [now, (n * (before - x * now)) / (1 - x * x)];
}

/** Integral of f from a to b by a fixed rule: for smooth integrands inside loops. */
export function integrateByRule(f: (x: number) => number, a: number, b: number, rule: GaussRule): number {
  const centre = 0.5 * (a + b);
  const half = 0.5 * (b - a);
  let total = 0;
  for (let i = 0; i < rule.nodes.length; i++)
    total += floatAt(rule.weights, i) * f(centre + half * floatAt(rule.nodes, i));
  return half * total;
}
