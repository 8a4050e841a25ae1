/**
 * The fit without some of its lives, by one step. In a = log of the wear-out hazard at one year and s = shape, the draws have mean m
 * and covariance V; the lives add l(a, s) = sum over leaks of (log s + a + s u) - sum of H, u = log(age / year), to the log-likelihood,
 * divided by how much that is flattened. Without them the posterior has its top one Newton step away, at
 *
 *     m - W g,   W = (inverse of V - I)^-1,   g and I the gradient of l and minus its second derivatives at m,
 *
 * and covariance W: the second order form of what is known as the infinitesimal jackknife (Jaeckel 1972; Efron 1982; from memory).
 */

/** Two by two, symmetric: aa, as, ss. */
export type Symmetric = readonly [number, number, number];

/** What lives expect at the mean law: sums of H, H u and H u² (exit less entry), and of leaks 1 and u. */
export interface Moments {
  hazard: number;
  hazardU: number;
  hazardUU: number;
  leaks: number;
  leaksU: number;
}

export interface LeftOut {
  /** How far the mean of (a, s) moves. */
  move: readonly [number, number];
  /** Covariance before and after. */
  before: Symmetric;
  after: Symmetric;
}

/** The lives never take out more than this share of what is known in any direction. */
const MOST = 0.9;

export function leaveOut(before: Symmetric, shape: number, lives: Moments, inflation: number): LeftOut {
  const { hazard, hazardU, hazardUU, leaks, leaksU } = lives;
  const gradient = [(leaks - hazard) / inflation, (leaks / shape + leaksU - hazardU) / inflation] as const;
  const information = scaled([hazard, hazardU, leaks / shape ** 2 + hazardUU], 1 / inflation);
  const share = largestShare(before, information);
  const kept = scaled(information, share > MOST ? MOST / share : 1);
  const known = inverse(before);
  const after = inverse([known[0] - kept[0], known[1] - kept[1], known[2] - kept[2]]);
  const [a, s] = times(after, gradient);
  return { move: [-a, -s], before, after };
}

/** By what the hazard of ages with mean log u changes: factor on its mean, power on its spread over the draws. */
export function hazardWithout(
  { move, before, after }: LeftOut,
  u: number,
): { factor: number; stretch: number } {
  const variance = ([aa, as, ss]: Symmetric): number => aa + 2 * u * as + u * u * ss;
  return {
    factor: Math.exp(move[0] + u * move[1]),
    stretch: Math.sqrt(Math.max(variance(after), 0) / Math.max(variance(before), 1e-300)),
  };
}

/** Largest eigenvalue of V I: the share of what is known in some direction that the lives brought. */
function largestShare([a, b, c]: Symmetric, [p, q, r]: Symmetric): number {
  const trace = a * p + 2 * b * q + c * r;
  const determinant = (a * c - b * b) * (p * r - q * q);
  return trace / 2 + Math.sqrt(Math.max((trace * trace) / 4 - determinant, 0));
}

function scaled([a, b, c]: Symmetric, by: number): Symmetric {
  return [a * by, b * by, c * by];
}

function inverse([a, b, c]: Symmetric): Symmetric {
  const determinant = a * c - b * b;
  return [c / determinant, -b / determinant, a / determinant];
}

function times([a, b, c]: Symmetric, [x, y]: readonly [number, number]): [number, number] {
  return [a * x + b * y, b * x + c * y];
}
