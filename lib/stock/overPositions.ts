/** Means over inventory positions, and sums of the tails of a count. */
import type { CountDistribution } from './leadTimeDemand.js';

export interface PositionMeans {
  /** P(D <= y). */
  ready: number;
  /** P(D <= y - 1). */
  below: number;
  /** E(D - y)+, pieces. */
  shortage: number;
}

/** Means over positions y spread evenly over point + 1 to point + quantity, where D is asked for before an order comes. */
export function meansOverPositions(law: CountDistribution, point: number, quantity: number): PositionMeans {
  const top = point + quantity;
  let shortage = expectedAbove(law, top);
  let [ready, filled, shortages] = [0, 0, 0];
  let noShortage = law.cdf(top);
  for (let position = top; position > point; position--) {
    shortages += shortage;
    ready += noShortage;
    // A piece asked for is handed out at once when fewer than `position` were asked for before it.
    noShortage = law.cdf(position - 1);
    filled += noShortage;
    // E(D - y + 1)+ = E(D - y)+ + P(D > y - 1): only sums of what is positive.
    shortage += law.above(position - 1);
  }
  return { ready: ready / quantity, below: filled / quantity, shortage: shortages / quantity };
}

/** Mean of E(D - y)+ alone. */
export function shortageOver(law: CountDistribution, point: number, quantity: number): number {
  let shortage = expectedAbove(law, point + quantity);
  let shortages = 0;
  for (let position = point + quantity; position > point; position--) {
    shortages += shortage;
    shortage += law.above(position - 1);
  }
  return shortages / quantity;
}

/** Mean of P(D <= y) alone. */
export function readyOver(law: CountDistribution, point: number, quantity: number): number {
  let ready = 0;
  for (let position = point + quantity; position > point; position--) ready += law.cdf(position);
  return ready / quantity;
}

/** E(D - y)+ = sum over k >= y of P(D > k); from the chances themselves, which fall fast. */
export function expectedAbove(law: CountDistribution, y: number): number {
  if (law.exceeding !== undefined && y >= 0 && Number.isInteger(y)) return law.exceeding(y);
  const start = Math.max(0, Math.ceil(y));
  const before = start > y ? start - y : 0;
  let total = y < 0 ? before : 0;
  if (start < law.mean) return total + law.mean - start + expectedBelow(law, start);
  let term = law.above(start);
  for (let k = start; term > 0; k++) {
    total += term;
    term = law.above(k + 1);
    if (term < 1e-17 * total) break;
  }
  return total;
}

/** E(y - D)+ = sum over k < y of P(D <= k), from the top down. */
export function expectedBelow(law: CountDistribution, y: number): number {
  let total = 0;
  for (let k = Math.ceil(y) - 1; k >= 0; k--) {
    const term = law.cdf(k);
    total += term;
    if (term < 1e-17 * total || term === 0) break;
  }
  return total;
}
