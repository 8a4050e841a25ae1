/** Lives of a known Weibull law under two ways of watching a plant, with a given share still sound on average. */
import { floatAt } from '../../../lib/numeric/columns.js';
import { integrate } from '../../../lib/numeric/quadrature.js';
import type { RandomStream } from '../../../lib/numeric/random.js';
import { findRoot } from '../../../lib/numeric/roots.js';

export type SchemeName = 'one replacement age' | 'staggered entry';

export interface Cell {
  scheme: SchemeName;
  lives: number;
  shape: number;
  /** Mean share of lives still sound when last seen. */
  sound: number;
}

/** Shares of lives that failed by age x (in units of the scale). */
function failedBy(shape: number, x: number): number {
  return -Math.expm1(-(x ** shape));
}

/**
 * - one replacement age: every life is watched from new, and replaced at the age that leaves the share sound.
 * - staggered entry: diaphragms are fitted at even chance over a span of two replacement ages that ends with the closing date; a life ends
 *   with its leak, its scheduled replacement or the closing date.
 */
function replacementAge({ scheme, shape, sound }: Cell): number {
  if (scheme === 'one replacement age') return (-Math.log(sound)) ** (1 / shape);
  const failed = (age: number): number => {
    const younger = integrate((x) => failedBy(shape, x), 0, age, { relative: 1e-9 }).value / age;
    return 0.5 * failedBy(shape, age) + 0.5 * younger;
  };
  return findRoot((log) => failed(Math.exp(log)) - (1 - sound), -40 / shape, 10, { absolute: 1e-10 }).root;
}

/** One sample a call: ages and whether each ended in a failure (upper = lower) or sound (upper = Infinity). Scale 1. */
export function sampler(
  cell: Cell,
  random: RandomStream,
): () => { lower: Float64Array; upper: Float64Array } {
  const { scheme, lives, shape } = cell;
  const age = scheme === 'one replacement age' ? replacementAge(cell) : Math.exp(replacementAge(cell));
  return () => {
    const lower = new Float64Array(lives);
    const upper = new Float64Array(lives);
    for (let i = 0; i < lives; i++) {
      const life = (-Math.log(random.uniform())) ** (1 / shape);
      const watched = scheme === 'one replacement age' ? age : Math.min(age, 2 * age * random.uniform());
      lower[i] = Math.min(life, watched);
      upper[i] = life <= watched ? floatAt(lower, i) : Infinity;
    }
    return { lower, upper };
  };
}
