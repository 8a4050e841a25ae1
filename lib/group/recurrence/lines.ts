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
 * A line's leaks against those it would have if all lines leaked alike on each day. Given all leaks of the plant, its number is binomial; where
 * positions differ, beta-binomial with the variance that their spread gives. Benjamini and Hochberg at 10 % over the lines.
 */
export function compareLines(lines: readonly Line[], leaks: PositionLeaks, spread: number): LineLeaks[] {
  const sums = lines.map(({ members }) => sumsOf(members, leaks));
  const plant = sumsOf(
    lines.flatMap(({ members }) => members),
    leaks,
  );
  const laws = sums.map((own) => lawOf(own, plant, spread));
  const p = laws.map((law, i) => (law === null ? null : twoSided(itemAt(sums, i).leaks, law)));
  const { adjusted, found } = falseDiscovery(p, RATE);
  return lines.map(({ name, count }, i): LineLeaks => {
    const law = itemAt(laws, i);
    const compared = law === null ? NOT_COMPARED : comparison(count, law);
    const { times, expected } = compared;
    const more = count.leaks > (expected ?? 0);
    const tells = itemAt(found, i) && (!more || count.leaks >= FEWEST_LEAKS);
    const line = {
      line: name,
      ...count,
      expected,
      times,
      difference: compared.difference,
      p: itemAt(p, i),
      adjusted: itemAt(adjusted, i),
      differs:
        law === null
          ? ('cannot tell' as const)
          : !tells
            ? ('no' as const)
            : more
              ? ('more' as const)
              : ('less' as const),
    };
    return { ...line, ...lineWords(line) };
  });
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

/** Null where the plant has no leak, or the line (or all others) was watched on no day with one. */
function lawOf(own: Sums, plant: Sums, spread: number): SharedLeaks | null {
  const rest = plant.expected - own.expected;
  const tiny = 1e-9 * plant.expected;
  if (!(own.expected > tiny && rest > tiny)) return null;
  const share = own.expected / plant.expected;
  const chance = plant.leaks * share * (1 - share);
  const more = (1 - share) ** 2 * own.squares + share ** 2 * (plant.squares - own.squares);
  return { leaks: plant.leaks, share, dispersion: 1 + (spread * more) / chance };
}

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
