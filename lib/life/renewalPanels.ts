/**
 * Solver of the renewal equation
 *
 *     M(t) = F(t) + integral from 0 to t of M(t - x) f(x) dx
 *
 * by collocation. On each of a row of panels M is a polynomial in log age through 10 Gauss points. The first panel
 * starts where hardly anything has failed; the others are as wide as the polynomial allows, which its last coefficients
 * tell. The integral at a point is split in half: near 0 M is the one that bends, near t it is f, so each half runs over
 * the log of its own age, in parts on which both are smooth. renewalCurve.ts goes from panel to panel.
 */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { solveLinear } from '../numeric/matrix.js';
import { gaussLegendre } from '../numeric/quadrature.js';

/** What renewal needs of a life law. */
export interface RenewalLaw {
  /** Chance of a life up to t. */
  failed(t: number): number;
  density(t: number): number;
  /** Age by which a share p has failed. */
  quantile(p: number): number;
  mean: number;
  /** Infinity where there is none. */
  variance: number;
  /** Ages at which the density turns, beyond its quantiles: ends of its support, scales of its parts. */
  turns?: readonly number[];
}

export const NODES = 10;
const RULE = gaussLegendre(NODES);
/** Rule for the parts of an integral. */
const PART = gaussLegendre(8);
/** Fewer failures than this before the first panel do not count. */
export const NOTHING = 1e-10;

export interface Panel {
  low: number;
  high: number;
  logLow: number;
  logHigh: number;
  values: Float64Array;
  /** Legendre coefficients of the polynomial through the values. */
  coefficients: Float64Array;
  nodes: Float64Array;
}

/** What an integral needs: the law, ages between which its density is smooth, and the panels solved so far. */
export interface Work {
  law: RenewalLaw;
  steps: readonly number[];
  first: number;
  panels: Panel[];
}

/** Down to where hardly anything fails by eighths of the chance: over the log of age the density is then smooth between steps. */
export function kernelSteps(law: RenewalLaw, first: number): number[] {
  const steps = new Set<number>([first]);
  for (let chance = 0.1; chance > NOTHING; chance /= 8) steps.add(law.quantile(chance));
  for (const p of [0.3, 0.5, 0.7, 0.85, 0.95, 0.99, 0.999]) steps.add(law.quantile(p));
  for (let tail = 1e-4; tail > 1e-13; tail /= 100) steps.add(law.quantile(1 - tail));
  for (const age of law.turns ?? []) steps.add(age);
  return [...steps].filter((age) => age > 0 && Number.isFinite(age)).sort((x, y) => x - y);
}

/** A panel must not run across an age at which F turns. */
export function nextTurn({ turns = [] }: RenewalLaw, low: number): number {
  return turns.reduce((next, age) => (age > low * (1 + 1e-12) ? Math.min(next, age) : next), Infinity);
}

/** Values at the Gauss points: the part of each integral inside the panel itself makes a small linear system. */
export function solvePanel(work: Work, low: number, high: number): Panel {
  const [logLow, logHigh] = [Math.log(low), Math.log(high)];
  const places = RULE.nodes;
  const nodes = places.map((x) => Math.exp(0.5 * (logLow + logHigh) + 0.5 * (logHigh - logLow) * x));
  const matrix = new Array<number>(NODES * NODES).fill(0);
  const known = new Array<number>(NODES).fill(0);
  const weights = new Float64Array(NODES);
  for (let i = 0; i < NODES; i++) {
    const t = floatAt(nodes, i);
    known[i] = work.law.failed(t) + knownPart(work, t, low);
    overParts(work, t, low, t, (y, x, weight) => {
      basis((2 * Math.log(y) - logLow - logHigh) / (logHigh - logLow), weights);
      const w = weight * work.law.density(x);
      for (let j = 0; j < NODES; j++)
        matrix[i * NODES + j] = at(matrix, i * NODES + j) - w * floatAt(weights, j);
    });
    matrix[i * NODES + i] = at(matrix, i * NODES + i) + 1;
  }
  const values = Float64Array.from(solveLinear(matrix, known));
  return { low, high, logLow, logHigh, nodes, values, coefficients: legendreCoefficients(values) };
}

/** Integral of M(y) f(t - y) for y from 0 to `end`, all of it in panels already solved. */
export function knownPart(work: Work, t: number, end: number): number {
  const { law, panels, first } = work;
  let total = 0;
  let k = panels.length - 1;
  overParts(work, t, 0, end, (y, x, weight) => {
    let value: number;
    // Before the first panel a second failure is out of the question.
    if (y < first || panels.length === 0) value = law.failed(y);
    else {
      while (k < panels.length - 1 && y > itemAt(panels, k).high) k++;
      while (k > 0 && y < itemAt(panels, k).low) k--;
      value = panelValue(itemAt(panels, k), y);
    }
    total += weight * law.density(x) * value;
  });
  return total;
}

type Visit = (y: number, x: number, weight: number) => void;

/** Visits the points of the integral over y in [from, to], with x = t - y; parts too old for the density are left out. */
export function overParts(work: Work, t: number, from: number, to: number, visit: Visit): void {
  const oldest = itemAt(work.steps, work.steps.length - 1);
  const begin = Math.max(from, t - oldest);
  if (begin >= to) return;
  const middle = 0.5 * t;
  // Each half has its breaks in its own age: as t - x the small x would be lost to rounding.
  const young = breaks(begin, Math.min(to, middle));
  young.add(work.first);
  for (let k = work.panels.length - 1; k >= 0 && itemAt(work.panels, k).high > begin; k--) {
    young.add(itemAt(work.panels, k).high);
  }
  for (const age of work.steps) young.add(t - age);
  young.forEachPart((a, b) => overPart(a, b, (y, weight) => visit(y, t - y, weight)));
  const recent = breaks(t - to, t - Math.max(begin, middle));
  for (let k = work.panels.length - 1; k >= 0 && itemAt(work.panels, k).high > begin; k--) {
    recent.add(t - itemAt(work.panels, k).high);
  }
  for (const age of work.steps) recent.add(age);
  recent.forEachPart((a, b) => overPart(a, b, (x, weight) => visit(t - x, x, weight)));
}

/** A range and the places inside it at which to break it. */
function breaks(
  low: number,
  high: number,
): { add(place: number): void; forEachPart(visit: (a: number, b: number) => void): void } {
  const ends = low < high ? [low, high] : [];
  return {
    add: (place) => {
      if (place > low && place < high) ends.push(place);
    },
    forEachPart: (visit) => {
      ends.sort((a, b) => a - b);
      for (let k = 1; k < ends.length; k++) visit(at(ends, k - 1), at(ends, k));
    },
  };
}

/** Gauss points of one part, over the log of the age where it does not begin at 0. */
function overPart(a: number, b: number, visit: (age: number, weight: number) => void): void {
  if (!(b > a)) return;
  const inLog = a > 0;
  const low = inLog ? Math.log(a) : a;
  const high = inLog ? Math.log(b) : b;
  const [centre, half] = [0.5 * (low + high), 0.5 * (high - low)];
  for (let j = 0; j < PART.nodes.length; j++) {
    const place = centre + half * floatAt(PART.nodes, j);
    const age = inLog ? Math.exp(place) : place;
    visit(age, half * floatAt(PART.weights, j) * (inLog ? age : 1));
  }
}

/** Legendre polynomials at the Gauss points: element k * NODES + j is P_k at point j. */
const LEGENDRE = legendreTable();

function legendreTable(): Float64Array {
  const out = new Float64Array(NODES * NODES);
  for (let j = 0; j < NODES; j++) {
    const x = floatAt(RULE.nodes, j);
    out[j] = 1;
    out[NODES + j] = x;
    for (let k = 2; k < NODES; k++) {
      const [now, before] = [floatAt(out, (k - 1) * NODES + j), floatAt(out, (k - 2) * NODES + j)];
      out[k * NODES + j] = ((2 * k - 1) * x * now - (k - 1) * before) / k;
    }
  }
  return out;
}

function legendreCoefficients(values: Float64Array): Float64Array {
  const out = new Float64Array(NODES);
  for (let k = 0; k < NODES; k++) {
    let total = 0;
    for (let j = 0; j < NODES; j++)
      total += floatAt(RULE.weights, j) * floatAt(LEGENDRE, k * NODES + j) * floatAt(values, j);
    out[k] = (k + 0.5) * total;
  }
  return out;
}

/** The polynomial of a panel at age y, by the recurrence of Legendre polynomials. */
export function panelValue({ logLow, logHigh, coefficients }: Panel, y: number): number {
  const x = (2 * Math.log(y) - logLow - logHigh) / (logHigh - logLow);
  let before = 1;
  let now = x;
  let value = floatAt(coefficients, 0) + floatAt(coefficients, 1) * x;
  for (let k = 2; k < NODES; k++) {
    const next = ((2 * k - 1) * x * now - (k - 1) * before) / k;
    before = now;
    now = next;
    value += floatAt(coefficients, k) * next;
  }
  return value;
}

/** Size of the last two coefficients relative to 1 + M. */
export function roughness({ coefficients }: Panel): number {
  const tail = Math.abs(floatAt(coefficients, NODES - 1)) + Math.abs(floatAt(coefficients, NODES - 2));
  return tail / (1 + Math.abs(floatAt(coefficients, 0)));
}

/** Barycentric weights of the Gauss points (Berrut & Trefethen 2004). */
const BARYCENTRIC = RULE.nodes.map(
  (x, j) => (j % 2 === 0 ? 1 : -1) * Math.sqrt((1 - x * x) * floatAt(RULE.weights, j)),
);

/** Values at x in [-1, 1] of the polynomials that are 1 at one Gauss point and 0 at the others. */
function basis(x: number, out: Float64Array): void {
  let total = 0;
  for (let j = 0; j < NODES; j++) {
    const distance = x - floatAt(RULE.nodes, j);
    if (distance === 0) {
      out.fill(0);
      out[j] = 1;
      return;
    }
    const weight = floatAt(BARYCENTRIC, j) / distance;
    out[j] = weight;
    total += weight;
  }
  for (let j = 0; j < NODES; j++) out[j] = floatAt(out, j) / total;
}

/** Slope of the polynomial of a panel at age y, per unit of age. */
export function panelSlope({ logLow, logHigh, coefficients }: Panel, y: number): number {
  const x = (2 * Math.log(y) - logLow - logHigh) / (logHigh - logLow);
  // P'(k + 1) = P'(k - 1) + (2k + 1) P(k).
  let [before, now] = [1, x];
  let [slopeBefore, slopeNow] = [0, 1];
  let slope = floatAt(coefficients, 1);
  for (let k = 2; k < NODES; k++) {
    [slopeBefore, slopeNow] = [slopeNow, slopeBefore + (2 * k - 1) * now];
    [before, now] = [now, ((2 * k - 1) * x * now - (k - 1) * before) / k];
    slope += floatAt(coefficients, k) * slopeNow;
  }
  return (2 * slope) / ((logHigh - logLow) * y);
}
