/** How many leaks each position would have if all of the plant leaked alike on every day, and how far positions stray from it. */
import { floatAt, itemAt } from '../../numeric/columns.js';
import { countUpTo } from '../../numeric/sorted.js';
import type { Watches } from './watches.js';

export interface PositionLeaks {
  /** By index of Fleet.positions: leaks, leaks expected, days under watch. */
  leaks: Float64Array;
  expected: Float64Array;
  days: Float64Array;
}

/**
 * Leaks expected of each position: the plant's mean cumulative number over its spells, so that lines which were watched at other times
 * are compared on the same days.
 */
export function expectedLeaks(watches: Watches, positions: number): PositionLeaks {
  const { position, first, last, leak } = watches;
  const out: PositionLeaks = {
    leaks: new Float64Array(positions),
    expected: new Float64Array(positions),
    days: new Float64Array(positions),
  };
  const { days, upTo } = plantCourse(watches);
  const courseAt = (day: number): number => floatAt(upTo, countUpTo(days, day));
  const add = (column: Float64Array, p: number, amount: number): void => {
    column[p] = floatAt(column, p) + amount;
  };
  position.forEach((p, spell) => {
    const [from, until] = [itemAt(first, spell), itemAt(last, spell)];
    add(out.days, p, until - from + 1);
    add(out.expected, p, courseAt(until) - courseAt(from - 1));
  });
  for (const spell of leak.spell) add(out.leaks, itemAt(position, spell), 1);
  return out;
}

/** Days with leaks, and the leaks per watched position before the first (0), up to the first, the second and so on. */
function plantCourse({ first, last, leak }: Watches): { days: Float64Array; upTo: Float64Array } {
  const sorted = Float64Array.from(leak.day).sort();
  const begins = Float64Array.from(first).sort();
  const ends = Float64Array.from(last).sort();
  const days: number[] = [];
  const upTo = [0];
  for (let k = 0; k < sorted.length; ) {
    const day = floatAt(sorted, k);
    const next = countUpTo(sorted, day);
    const watched = countUpTo(begins, day) - countUpTo(ends, day - 1);
    days.push(day);
    upTo.push((upTo[upTo.length - 1] as number) + (next - k) / watched);
    k = next;
  }
  return { days: Float64Array.from(days), upTo: Float64Array.from(upTo) };
}

/**
 * Variance of the rates of positions within a line, round a mean of 1, by moments: what squared distances from the line's own rate
 * have beyond those of events by chance. 0 where there is no more, and where no line has two positions.
 */
export function spreadWithinLines(
  { leaks, expected }: PositionLeaks,
  lines: readonly (readonly number[])[],
): number {
  let [squares, chance, grows] = [0, 0, 0];
  for (const members of lines) {
    const all = members.reduce((total, p) => total + floatAt(expected, p), 0);
    const own = members.reduce((total, p) => total + floatAt(leaks, p), 0);
    if (!(all > 0)) continue;
    for (const p of members) {
      const share = floatAt(expected, p) / all;
      const mean = own * share;
      if (share > MOST_OF_LINE) continue;
      squares += (floatAt(leaks, p) - mean) ** 2 / (1 - share);
      chance += mean;
      grows += mean * mean;
    }
  }
  return grows > 0 ? Math.max(0, (squares - chance) / grows) : 0;
}

/** A position that is nearly all of its line says nothing of how positions of it differ. */
const MOST_OF_LINE = 0.9;
