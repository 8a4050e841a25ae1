/** Which lines leak more or less often than the others (mean cumulative numbers compared, false discoveries held down). */
import { falseDiscovery } from '../../life/check/falseDiscovery.js';
import { floatAt, itemAt } from '../../numeric/columns.js';
import type { PositionLeaks } from './expectedLeaks.js';
import { LEVEL } from './leakCount.js';
import { lineWords } from './lineWords.js';
import { type SharedLeaks, sharedTails, timesAsOften } from './sharedLeaks.js';
import type { LineLeaks, Ranged, WatchedLeaks } from './types.js';

/** Share of the lines said to differ that may do so by chance, on average. */
export const RATE = 0.1;
/** Fewer leaks are no ground to call a line leaky (METHODS 3.5). */
const FEWEST_LEAKS = 3;

export interface Line {
  name: string;
  /** Indices into Fleet.positions. */
  members: number[];
  count: WatchedLeaks;
}

/**
 * A line's leaks against those it would have if it leaked like the others on each day. Given the leaks of both, its number is binomial; where
 * positions differ, beta-binomial with the variance that their spread gives. Benjamini and Hochberg at 10 % over the lines. Lines found
 * are left out of what others are held against, strongest first: else a few leaky lines make all others look tight.
 */
export function compareLines(lines: readonly Line[], leaks: PositionLeaks, spread: number): LineLeaks[] {
  const sums = lines.map(({ members }) => sumsOf(members, leaks));
  const { laws, p, adjusted, found } = judgedAgainst(sums, alikeLines(sums, spread), spread);
  return lines.map(({ name, count }, i): LineLeaks => {
    const law = itemAt(laws, i);
    const compared = law === null ? NOT_COMPARED : comparison(count, law);
    const line = {
      line: name,
      ...count,
      ...compared,
      p: itemAt(p, i),
      adjusted: itemAt(adjusted, i),
      differs: law === null ? ('cannot tell' as const) : howOf(count.leaks, compared, itemAt(found, i)),
    };
    return { ...line, ...lineWords(line) };
  });
}

function howOf(leaks: number, { expected }: Comparison, found: boolean): 'more' | 'less' | 'no' {
  if (!found) return 'no';
  if (leaks <= (expected ?? 0)) return 'less';
  return leaks >= FEWEST_LEAKS ? 'more' : 'no';
}

interface Judged {
  laws: (SharedLeaks | null)[];
  p: (number | null)[];
  adjusted: (number | null)[];
  found: boolean[];
}

/** Each line against the lines marked, itself left out. */
function judgedAgainst(sums: readonly Sums[], marked: readonly boolean[], spread: number): Judged {
  const all = addedUp(sums.filter((_, i) => itemAt(marked, i)));
  const laws = sums.map((own, i) => lawOf(own, itemAt(marked, i) ? less(all, own) : all, spread));
  const p = laws.map((law, i) => (law === null ? null : twoSided(itemAt(sums, i).leaks, law)));
  return { laws, p, ...falseDiscovery(p, RATE) };
}

/** Marks lines to hold others against: all but those found so far, a quarter of them at a time, while most of the plant stays. */
function alikeLines(sums: readonly Sums[], spread: number): boolean[] {
  const whole = addedUp(sums).expected;
  let marked = sums.map(() => true);
  for (;;) {
    const { p, found } = judgedAgainst(sums, marked, spread);
    const fresh = [...sums.keys()].filter((i) => itemAt(marked, i) && itemAt(found, i));
    fresh.sort((i, j) => (itemAt(p, i) ?? 1) - (itemAt(p, j) ?? 1));
    const out = new Set(fresh.slice(0, Math.ceil(fresh.length / 4)));
    const next = marked.map((is, i) => is && !out.has(i));
    const left = sums.filter((_, i) => itemAt(next, i));
    if (out.size === 0 || left.length < 2 || 2 * addedUp(left).expected < whole) return marked;
    marked = next;
  }
}

interface Sums {
  leaks: number;
  expected: number;
  squares: number;
}

function sumsOf(members: readonly number[], { leaks, expected }: PositionLeaks): Sums {
  const out = { leaks: 0, expected: 0, squares: 0 };
  for (const p of members) {
    out.leaks += floatAt(leaks, p);
    out.expected += floatAt(expected, p);
    out.squares += floatAt(expected, p) ** 2;
  }
  return out;
}

function addedUp(sums: readonly Sums[]): Sums {
  const add = (what: keyof Sums): number => sums.reduce((total, each) => total + each[what], 0);
  return { leaks: add('leaks'), expected: add('expected'), squares: add('squares') };
}

function less(all: Sums, own: Sums): Sums {
  return {
    leaks: all.leaks - own.leaks,
    expected: all.expected - own.expected,
    squares: all.squares - own.squares,
  };
}

/** Null where neither leaked, or one was watched on no day on which the plant leaked. */
function lawOf(own: Sums, rest: Sums, spread: number): SharedLeaks | null {
  const expected = own.expected + rest.expected;
  const leaks = own.leaks + rest.leaks;
  if (leaks === 0 || !(own.expected > TINY * expected && rest.expected > TINY * expected)) return null;
  const share = own.expected / expected;
  const more = (1 - share) ** 2 * own.squares + share ** 2 * rest.squares;
  return { leaks, share, dispersion: 1 + (spread * more) / (leaks * share * (1 - share)) };
}

/** What is left of a difference of sums that is 0. */
const TINY = 1e-9;

function twoSided(own: number, law: SharedLeaks): number {
  const { atLeast, atMost } = sharedTails(own, law);
  return Math.min(1, 2 * Math.min(atLeast, atMost));
}

type Comparison = Pick<LineLeaks, 'expected' | 'times' | 'difference'>;

const NOT_COMPARED: Comparison = { expected: null, times: null, difference: null };

function comparison({ leaks, years }: WatchedLeaks, law: SharedLeaks): Comparison {
  const expected = ((law.leaks - leaks) * law.share) / (1 - law.share);
  const { estimate, low, high } = timesAsOften(leaks, law, LEVEL);
  const rest = expected / years;
  return {
    expected,
    times: estimate === null ? null : { estimate, low, high },
    difference: differenceOf(leaks / years, rest, { low, high }),
  };
}

/** The bounds take the rate of the others as it is: what is not known of it is in those of the ratio. */
function differenceOf(own: number, rest: number, times: Pick<Ranged, 'low' | 'high'>): Ranged | null {
  if (!(rest > 0)) return null;
  return {
    estimate: own - rest,
    low: rest * (times.low - 1),
    high: times.high === null ? null : rest * (times.high - 1),
  };
}
