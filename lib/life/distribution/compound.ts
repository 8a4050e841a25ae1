/** What laws made of other laws share: sums of logarithms, the age at a hazard between two ages, how heavy a tail is. */
import { itemAt } from '../../numeric/columns.js';
import { findRoot } from '../../numeric/roots.js';
import type { LifeModel } from '../model.js';
import type { LifeLaw } from './law.js';

/** Finds the rules of a model, unchecked; handed in, because the table of laws holds the laws made of others too. */
export type RulesOf = (model: LifeModel) => LifeLaw<LifeModel>;

/** log of a sum of exponentials; -Infinity where all terms are. */
export function logSumOf(terms: readonly number[]): number {
  const top = Math.max(...terms);
  if (!Number.isFinite(top)) return top;
  return top + Math.log(terms.reduce((total, term) => total + Math.exp(term - top), 0));
}

/**
 * The age between `low` and `high` at which an increasing hazard reaches a value: on two log scales, where hazards are nearly
 * straight lines. Precondition: the hazard is at or below the value at `low`, at or above it at `high`.
 */
export function ageBetween(
  hazardAt: (age: number) => number,
  value: number,
  low: number,
  high: number,
): number {
  if (!(low < high)) return low;
  const excess = (age: number): number => Math.log(hazardAt(age) / value);
  if (excess(low) >= 0) return low;
  if (excess(high) <= 0) return high;
  if (!(low > 0) || high > 1e300)
    return findRoot(excess, low, Math.min(high, 1e300), { relative: 1e-15 }).root;
  const inLog = (x: number): number => excess(Math.exp(x));
  const { root, converged } = findRoot(inLog, Math.log(low), Math.log(high), { absolute: 1e-15 });
  return converged ? Math.min(Math.max(lastDigits(excess, Math.exp(root)), low), high) : low;
}

/** A secant step: the log of an age of 1e-300 holds three digits fewer than the age. */
function lastDigits(excess: (age: number) => number, age: number): number {
  const by = 1e-6 * age;
  const here = excess(age);
  const step = (-here * by) / (excess(age + by) - here);
  return Math.abs(step) < by ? age + step : age;
}

/**
 * The power r by which survival falls as age^-r in the end; Infinity where it falls faster than any power. Moments below r
 * exist, those from r on do not.
 */
export function tailPower(model: LifeModel): number {
  if (model.kind === 'loglogistic') return model.shape;
  if (model.kind === 'generalisedGamma') return model.q < 0 ? -1 / (model.sigma * model.q) : Infinity;
  if (model.kind === 'mixture') {
    const living = model.parts.filter(({ share }) => share > 0);
    return Math.min(...living.map((part) => tailPower(part.model)));
  }
  if (model.kind === 'competing') return model.modes.reduce((total, mode) => total + tailPower(mode), 0);
  return Infinity;
}

/** The one of several models that a number in (0, 1) falls on, by their shares. */
export function pickByShare<T extends { share: number }>(parts: readonly T[], chance: number): T {
  let below = 0;
  for (const part of parts) {
    below += part.share;
    if (chance < below) return part;
  }
  return itemAt(parts, parts.length - 1);
}
