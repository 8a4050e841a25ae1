/**
 * What the posterior would be under another prior of the spread between groups, from the draws at hand: each draw weighs by the ratio
 * of the two priors at its spread (importance sampling). No new sampling, and exact as the draws grow many.
 */
import { columnOf, floatAt, sum } from '../../../numeric/columns.js';

/** Weights of draws, adding up to 1, under a half-normal prior of the spread with another scale. */
export interface SpreadWeights {
  /** Scale of the half-normal prior of the standard deviation of log scale between groups. */
  spread: number;
  weights: Float64Array;
  /** How many equally weighing draws say as much (Kish): few, where the two priors hardly meet. */
  effectiveDraws: number;
}

/** `betweenScale` are the spreads of the draws, which were made under a half-normal prior of scale `from`. */
export function spreadWeights(betweenScale: Float64Array, from: number, to: number): SpreadWeights {
  const bend = 0.5 / (from * from) - 0.5 / (to * to);
  const log = betweenScale.map((spread) => bend * spread * spread);
  const top = log.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const raw = log.map((value) => Math.exp(value - top));
  const total = sum(raw);
  const weights = columnOf(raw, (weight) => weight / total);
  const squares = weights.reduce((all, _, d) => all + floatAt(weights, d) ** 2, 0);
  return { spread: to, weights, effectiveDraws: 1 / squares };
}
