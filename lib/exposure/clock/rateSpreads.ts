/** How much lives differ in the rates at which their clocks run. */
import { floatAt } from '../../numeric/columns.js';
import { type Clock, endAt, lastEnd } from './fitClock.js';
import type { ClockEnds, KnownClocks } from './readClocks.js';
import { DAYS } from './types.js';

/** Standard deviation between lives of the log of counts per day, of each exposure. */
export function rateSpreads(known: KnownClocks): Record<string, number> {
  return Object.fromEntries(
    [...known.exposures].map(([name, ends]) => [name, spreadOfRatio(known, ends, known.days)]),
  );
}

/** The same of the ratio of two clocks; where one is a combination, of the exposures that are in them by the day, the largest. */
export function spreadBetween(known: KnownClocks, one: Clock, other: Clock): number {
  const ends = (name: string): ClockEnds => known.exposures.get(name) ?? known.days;
  const [first = DAYS, second] = one.parts;
  const [third = DAYS, fourth] = other.parts;
  if (second === undefined && fourth === undefined) return spreadOfRatio(known, ends(first), ends(third));
  const names = [...one.parts, ...other.parts].filter((name) => name !== DAYS);
  return Math.max(...names.map((name) => spreadOfRatio(known, ends(name), known.days)));
}

/** Lives of which either clock has not begun have no ratio; where fewer than two have one it is 0. */
function spreadOfRatio({ sample }: KnownClocks, one: ClockEnds, other: ClockEnds): number {
  let [n, total, squares] = [0, 0, 0];
  for (let i = 0; i < sample.lower.length; i++) {
    const ratio = endAt(one, i, lastEnd(one, i)) / endAt(other, i, lastEnd(other, i));
    if (!(ratio > 0 && ratio < Infinity)) continue;
    const weight = floatAt(sample.count, i);
    const log = Math.log(ratio);
    const off = log - total / Math.max(n, 1);
    squares += n === 0 ? 0 : (off * off * weight * n) / (n + weight);
    n += weight;
    total += weight * log;
  }
  return n > 1 ? Math.sqrt(squares / (n - 1)) : 0;
}
