/**
 * Integrals over one panel of ages, for every draw at once. In x = log t the integrands are smooth; the rule is given
 * over a unit panel with its two ends as first and last node (weight 0 where a rule does not use them), because the
 * survival at the ends is wanted anyway.
 */
import type { LifeDraws } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';
import { gaussLegendre } from '../numeric/quadrature.js';

export interface PanelRule {
  /** Places of the nodes in the panel, from 0 to 1. */
  offsets: Float64Array;
  /** Weights that add up to 1. */
  weights: Float64Array;
}

/** Four-node Lobatto rule (Abramowitz & Stegun 25.4.32, from memory): two new nodes a panel, exact to degree 5. */
export const LOBATTO: PanelRule = {
  offsets: Float64Array.of(0, 0.5 - Math.sqrt(0.05), 0.5 + Math.sqrt(0.05), 1),
  weights: Float64Array.of(1 / 12, 5 / 12, 5 / 12, 1 / 12),
};

/** Gauss-Legendre with ten nodes, exact to degree 19. */
export const GAUSS: PanelRule = gaussPanel(10);

function gaussPanel(nodes: number): PanelRule {
  const rule = gaussLegendre(nodes);
  return {
    offsets: Float64Array.of(0, ...rule.nodes.map((node) => 0.5 * (1 + node)), 1),
    weights: Float64Array.of(0, ...rule.weights.map((weight) => 0.5 * weight), 0),
  };
}

/** The nodes of one panel with everything that is the same in every draw. */
export interface Panel {
  logAge: Float64Array;
  /** Weight of the wear-out survival in the uptime of a sound fitting. */
  sound: Float64Array;
  /** What a faulty fitting takes off that weight. */
  faulty: Float64Array;
  /** Weight of the wear-out survival in the early leaks of a faulty fitting. */
  early: Float64Array;
}

export function panelOf(
  fault: Pick<LifeDraws, 'faultShape' | 'faultScale'>,
  openingsPerDay: number,
  from: number,
  to: number,
  { offsets, weights }: PanelRule,
): Panel {
  const width = Math.log(to) - Math.log(from);
  const logAge = offsets.map((offset) => Math.log(from) + offset * width);
  const sound = new Float64Array(offsets.length);
  const faulty = new Float64Array(offsets.length);
  const early = new Float64Array(offsets.length);
  for (let k = 0; k < offsets.length; k++) {
    const age = Math.exp(floatAt(logAge, k));
    const hazard = (age / fault.faultScale) ** fault.faultShape;
    // dt = t dx
    sound[k] = floatAt(weights, k) * width * age * Math.exp(-openingsPerDay * age);
    faulty[k] = floatAt(sound, k) * -Math.expm1(-hazard);
    early[k] = (floatAt(sound, k) * fault.faultShape * hazard * Math.exp(-hazard)) / age;
  }
  return { logAge, sound, faulty, early };
}

/** Wear-out survival exp(-hazard) from the cumulative hazard; the series is exact to 2e-16 below 1e-5. */
export function unworn(hazard: number): number {
  if (hazard < 1e-5) return 1 - hazard * (1 - 0.5 * hazard);
  return hazard > USED_UP ? 0 : Math.exp(-hazard);
}

/** Cumulative hazard at which a draw counts as used up: 4e-18 of its diaphragms are left. */
export const USED_UP = 40;

/** Where the draws stand at the left end of a panel; advanced to its right end by `addPanel`. */
export interface Progress {
  /** Wear-out cumulative hazard. */
  hazard: Float64Array;
  /** Wear-out survival, unworn(hazard). */
  alive: Float64Array;
  uptime: Float64Array;
  early: Float64Array;
  /** Room for the nodes between. */
  scratch: Float64Array;
}

/** Wear-out survival of every draw. */
export function survivalsOf(hazard: Float64Array): Float64Array {
  const alive = new Float64Array(hazard.length);
  for (let d = 0; d < alive.length; d++) alive[d] = unworn(floatAt(hazard, d));
  return alive;
}

/**
 * Ratios of the cumulative hazard at each node to that at the left end, node by node over the draws. They depend on
 * the panel's width on the log axis only, so a run of equal panels shares them. Nodes lie symmetrically: the ratios
 * of a node and its mirror image multiply to that of the whole panel, which saves half of the exponentials.
 */
export function hazardRatios(shape: Float64Array, width: number, { offsets }: PanelRule): Float64Array[] {
  const last = offsets.length - 1;
  const ratios = Array.from(offsets, () => new Float64Array(shape.length));
  const whole = ratios[last] as Float64Array;
  for (let d = 0; d < shape.length; d++) whole[d] = Math.exp(floatAt(shape, d) * width);
  (ratios[0] as Float64Array).fill(1);
  for (let k = 1; k < last - k + 1; k++) {
    const [left, right] = [ratios[k] as Float64Array, ratios[last - k] as Float64Array];
    const step = floatAt(offsets, k) * width;
    for (let d = 0; d < shape.length; d++) {
      const ratio = Math.exp(floatAt(shape, d) * step);
      left[d] = ratio;
      right[d] = floatAt(whole, d) / ratio;
    }
  }
  return ratios;
}

/** Adds one panel to the uptime and the early leaks of every draw and moves hazards and survival to its right end. */
export function addPanel(
  panel: Panel,
  share: Float64Array,
  ratios: Float64Array[],
  progress: Progress,
): void {
  const last = panel.logAge.length - 1;
  addNode(panel, 0, share, progress.alive, progress);
  for (let k = 1; k < last; k++) {
    survivalsAt(progress.hazard, ratios[k] as Float64Array, progress.scratch);
    addNode(panel, k, share, progress.scratch, progress);
  }
  const { hazard } = progress;
  const whole = ratios[last] as Float64Array;
  for (let d = 0; d < hazard.length; d++) hazard[d] = floatAt(hazard, d) * floatAt(whole, d);
  for (let d = 0; d < hazard.length; d++) progress.alive[d] = unworn(floatAt(hazard, d));
  addNode(panel, last, share, progress.alive, progress);
}

function survivalsAt(hazard: Float64Array, ratio: Float64Array, alive: Float64Array): void {
  for (let d = 0; d < hazard.length; d++) alive[d] = unworn(floatAt(hazard, d) * floatAt(ratio, d));
}

function addNode(
  panel: Panel,
  k: number,
  share: Float64Array,
  alive: Float64Array,
  progress: Progress,
): void {
  const { uptime, early } = progress;
  const sound = floatAt(panel.sound, k);
  const faulty = floatAt(panel.faulty, k);
  const leaking = floatAt(panel.early, k);
  if (sound === 0) return;
  for (let d = 0; d < uptime.length; d++) {
    const p = floatAt(share, d);
    uptime[d] = floatAt(uptime, d) + floatAt(alive, d) * (sound - p * faulty);
    early[d] = floatAt(early, d) + floatAt(alive, d) * p * leaking;
  }
}
