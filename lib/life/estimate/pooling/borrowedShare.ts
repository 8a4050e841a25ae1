/**
 * How much of what is known of a group's log scale came from other groups. Information is 1 / variance. The posterior
 * holds all of it; the group's own lives give what they would leave under the same flat prior of the scale and the same
 * prior of the shape, with no other group there; the flat prior's own share is taken off both:
 *
 *     borrowed = 1 - [1 / var(own lives) - 1 / var(prior)] / [1 / var(posterior) - 1 / var(prior)]
 *
 * With a prior that says nothing this is 1 - var(posterior) / var(own lives). A group without lives has borrowed all it
 * knows, one with many leaks next to nothing.
 */

import { at } from '../../../numeric/columns.js';
import type { WearSurface } from '../weibull/wearSurface.js';

const SCALE_NODES = 61;
const SHAPE_NODES = 21;

export interface FlatPrior {
  /** Centre and half width on the log-scale axis. */
  centre: number;
  halfWidth: number;
  shapeMean: number;
  shapeSd: number;
}

export function borrowedShare(
  posteriorLogScale: Float64Array,
  surface: WearSurface | null,
  prior: FlatPrior,
): number {
  const priorInformation = 3 / prior.halfWidth ** 2;
  const known = 1 / varianceOf(posteriorLogScale) - priorInformation;
  if (surface === null) return known > 0 ? 1 : 0;
  const own = 1 / ownVariance(surface, prior) - priorInformation;
  if (!(known > 0)) return 0;
  return Math.min(1, Math.max(0, 1 - Math.max(own, 0) / known));
}

function varianceOf(values: Float64Array): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
}

/** Variance of log scale by the group's own lives: a grid first over the whole prior, then where the mass is. */
function ownVariance(surface: WearSurface, prior: FlatPrior): number {
  let low = prior.centre - prior.halfWidth;
  let high = prior.centre + prior.halfWidth;
  let variance = Number.NaN;
  for (let round = 0; round < 3; round++) {
    const { mean, sd } = momentsOn(surface, prior, low, high);
    variance = sd * sd;
    const reach = Math.max(6 * sd, (high - low) / SCALE_NODES);
    low = Math.max(low, mean - reach);
    high = Math.min(high, mean + reach);
  }
  return variance;
}

function momentsOn(
  surface: WearSurface,
  prior: FlatPrior,
  low: number,
  high: number,
): { mean: number; sd: number } {
  const density: number[] = [];
  const places: number[] = [];
  const [from, to] = [
    Math.max(surface.logShapeRange[0], prior.shapeMean - 3.5 * prior.shapeSd),
    Math.min(surface.logShapeRange[1], prior.shapeMean + 3.5 * prior.shapeSd),
  ];
  for (let i = 0; i < SCALE_NODES; i++) {
    const logScale = low + ((high - low) * i) / (SCALE_NODES - 1);
    for (let j = 0; j < SHAPE_NODES; j++) {
      const logShape = from + ((to - from) * j) / (SHAPE_NODES - 1);
      const off = (logShape - prior.shapeMean) / prior.shapeSd;
      density.push(surface.logLikelihood(logShape, logScale) - (off * off) / 2);
      places.push(logScale);
    }
  }
  const top = density.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  let [weight, sum, squares] = [0, 0, 0];
  density.forEach((value, i) => {
    const mass = Math.exp(value - top);
    weight += mass;
    sum += mass * at(places, i);
    squares += mass * at(places, i) ** 2;
  });
  const mean = sum / weight;
  return { mean, sd: Math.sqrt(Math.max(squares / weight - mean * mean, 1e-12)) };
}
