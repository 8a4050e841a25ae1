/**
 * From panel to panel of the renewal equation (renewalPanels.ts), as far as somebody asks. Once M has settled on its straight
 * line t / mean + (variance - mean²) / (2 mean²), the line is the answer.
 */
import { floatAt, itemAt } from '../numeric/columns.js';
import {
  kernelSteps,
  knownPart,
  NODES,
  NOTHING,
  nextTurn,
  overParts,
  type Panel,
  panelSlope,
  panelValue,
  type RenewalLaw,
  roughness,
  solvePanel,
  type Work,
} from './renewalPanels.js';

/** Size of the last coefficients, relative to 1 + M: above the first a panel is solved again; widths aim at the second. */
const TOO_ROUGH = 2e-9;
const FINE = 2e-10;
/** Spread of the distance from the straight line over one mean life that counts as none, and the distance itself over M. */
const SETTLED = 1e-9;
const ROUNDING = 1e-7;
const MOST_PANELS = 3000;

/** M at one age. Precondition: t finite and at or above 0. */
export function solveRenewal(law: RenewalLaw, t: number): number {
  const way = startOf(law);
  if (t <= way.first) return law.failed(t);
  while (way.low < t) {
    if (addPanel(way, t) && way.low < t && isDone(way)) return line(law, t);
  }
  return law.failed(t) + knownPart(way, t, t);
}

/** The renewal function over all ages: solved as far as it is asked for, and kept. */
export interface RenewalCurve {
  readonly law: RenewalLaw;
  /** Ages of the points at which M is known by itself, increasing, as far as `reach` went. */
  points(): { age: number; count: number }[];
  /** Solves up to an age, or to where M has settled on its line. Returns where it stands: Infinity once settled. */
  reach(age: number): number;
  /** Where M has settled on its line; Infinity where that is not known yet. */
  settledFrom(): number;
  /** Expected renewals from 0 to t. */
  count(t: number): number;
  /** Renewals per unit of age at t. */
  rate(t: number): number;
  /** Integral of M(t - x) kernel(x) for x from 0 to t: what another count adds up to after the first life. */
  countAfter(kernel: (x: number) => number, t: number): number;
  /** The same with the rate in place of M: its slope. */
  rateAfter(kernel: (x: number) => number, t: number): number;
}

/** A law whose renewals are asked for at many ages. Counts are good to 1e-8, rates to about 1e-7. */
export function renewalCurve(law: RenewalLaw): RenewalCurve {
  const way = startOf(law);
  let settledFrom = Infinity;
  const reach = (age: number): number => {
    while (way.low < age && settledFrom === Infinity)
      if (addPanel(way, Infinity) && isDone(way)) settledFrom = way.low;
    return settledFrom === Infinity ? way.low : Infinity;
  };
  const value = (panel: Panel | null, y: number): number => {
    if (panel !== null) return panelValue(panel, y);
    return y > way.first ? line(law, y) : law.failed(y);
  };
  const slope = (panel: Panel | null, y: number): number => {
    if (panel !== null) return panelSlope(panel, y);
    return y > way.first ? 1 / law.mean : law.density(y);
  };
  const after =
    (of: typeof value) =>
    (kernel: (x: number) => number, t: number): number => {
      reach(t);
      return convolved(way, kernel, of, t);
    };
  const [countAfter, rateAfter] = [after(value), after(slope)];
  const isOnLine = (t: number): boolean => reach(t) === Infinity && t > way.low;
  return {
    law,
    points: () => way.panels.flatMap(pointsOf),
    reach,
    settledFrom: () => settledFrom,
    count: (t) => (isOnLine(t) ? line(law, t) : law.failed(t) + countAfter(law.density, t)),
    rate: (t) => (isOnLine(t) ? 1 / law.mean : law.density(t) + rateAfter(law.density, t)),
    countAfter,
    rateAfter,
  };
}

/** How far the panels go, and how wide on the log axis the next should be. */
interface Way extends Work {
  low: number;
  width: number;
}

function startOf(law: RenewalLaw): Way {
  const first = Math.max(law.quantile(NOTHING), Number.MIN_VALUE);
  return { law, steps: kernelSteps(law, first), first, panels: [], low: first, width: Math.LN2 };
}

/** One more panel, at most up to `end`; false where it was too wide and has to be tried again narrower. */
function addPanel(way: Way, end: number): boolean {
  const { low } = way;
  const wished = Math.min(low * Math.exp(way.width), nextTurn(way.law, low));
  const high = wished >= end * (1 - 1e-9) ? end : wished;
  const panel = solvePanel(way, low, high);
  const rough = roughness(panel);
  // The last coefficients fall as the width to the power of the degree.
  const used = Math.log(high / low);
  const fitting = used * Math.min(2, Math.max(0.3, (FINE / (rough + 1e-300)) ** (1 / NODES)));
  if (rough > TOO_ROUGH && used > 1e-6) {
    way.width = Math.min(fitting, 0.7 * used);
    return false;
  }
  way.panels.push(panel);
  way.low = high;
  way.width = fitting;
  return true;
}

function isDone(way: Way): boolean {
  return way.panels.length >= MOST_PANELS || settled(way);
}

function pointsOf({ nodes, values }: Panel): { age: number; count: number }[] {
  return Array.from(nodes, (age, j) => ({ age, count: floatAt(values, j) }));
}

/** Integral of M or its slope at t - x times kernel(x), for x from 0 to t. */
function convolved(
  way: Way,
  kernel: (x: number) => number,
  of: (panel: Panel | null, y: number) => number,
  t: number,
): number {
  const { panels, first } = way;
  let total = 0;
  let k = panels.length - 1;
  overParts(way, t, 0, t, (y, x, weight) => {
    let panel: Panel | null = null;
    if (y >= first && y <= way.low && panels.length > 0) {
      while (k < panels.length - 1 && y > itemAt(panels, k).high) k++;
      while (k > 0 && y < itemAt(panels, k).low) k--;
      panel = itemAt(panels, k);
    }
    total += weight * kernel(x) * of(panel, y);
  });
  return total;
}

/** Whether M has run beside its straight line for a whole mean life, but for the rounding gathered on the way. */
function settled({ law, panels }: Work): boolean {
  if (!Number.isFinite(law.variance)) return false;
  const end = itemAt(panels, panels.length - 1).high;
  if (end < 2 * law.mean) return false;
  let [least, most] = [Infinity, -Infinity];
  for (let k = panels.length - 1; k >= 0; k--) {
    const { low, nodes, values } = itemAt(panels, k);
    for (let j = 0; j < NODES; j++) {
      const distance = floatAt(values, j) - line(law, floatAt(nodes, j));
      least = Math.min(least, distance);
      most = Math.max(most, distance);
      if (most - least > SETTLED || Math.abs(distance) > ROUNDING * floatAt(values, j)) return false;
    }
    if (end - low > law.mean) return true;
  }
  return false;
}

function line({ mean, variance }: RenewalLaw, t: number): number {
  return t / mean + (variance - mean * mean) / (2 * mean * mean);
}
