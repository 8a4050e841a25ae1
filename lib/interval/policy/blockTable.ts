/** The block curve at the points where the renewal function is known, as far as a search needs it. */
import { columnOf, itemAt } from '../../numeric/columns.js';
import type { Block } from './block.js';

/** The rate at one interval. */
export interface BlockPoint {
  age: number;
  rate: number;
}

export interface BlockTable {
  readonly block: Block;
  /** Increasing in age. */
  readonly points: readonly BlockPoint[];
  /** Adds points up to an age; false where nothing is left to add: beyond, the rate is `rateRun + excess / T`. */
  extend(age: number): boolean;
  /** Least and most of T times (rate - running) over the last mean life. */
  lastSwing(): { least: number; most: number };
}

/** Shares failed at which the table begins, below the first panel: for leaks that cost 1e20 replacements. */
const FIRST_SHARES = Array.from({ length: 33 }, (_, i) => 10 ** (-26 + i / 2));
/** Points per mean life after M has settled. */
const PER_LIFE = 20;
const LAST_SHARE = 1e-12;

export function blockTable(block: Block): BlockTable {
  const { curve } = block.renewals;
  const { law } = curve;
  const points: BlockPoint[] = [];
  let taken = 0;
  const add = (age: number, renewed?: number): void => {
    const last = points.at(-1)?.age ?? 0;
    if (age > last * (1 + 1e-14)) points.push({ age, rate: block.rate(age, renewed) });
  };
  for (const share of FIRST_SHARES) {
    const age = law.quantile(share);
    if (age > 0) add(age, law.failed(age));
  }
  const extend = (age: number): boolean => {
    const settled = curve.reach(age) === Infinity;
    const known = curve.points();
    for (; taken < known.length; taken++) add(itemAt(known, taken).age, itemAt(known, taken).count);
    if (!settled) return true;
    // Leaks of the lives fitted before M settled have still to settle themselves.
    const end = curve.settledFrom() + law.quantile(1 - LAST_SHARE);
    const step = law.mean / PER_LIFE;
    let next = (points.at(-1)?.age ?? 0) + step;
    if (next > end) return false;
    for (; next <= Math.min(end, Math.max(age, next)); next += step) add(next);
    return true;
  };
  const lastSwing = (): { least: number; most: number } => {
    const end = points.at(-1)?.age ?? 0;
    const recent = points.filter(({ age }) => age >= end - law.mean);
    const excess = columnOf(recent, (point) => point.age * (point.rate - block.rateRun));
    return { least: Math.min(...excess), most: Math.max(...excess) };
  };
  return { block, points, extend, lastSwing };
}
