/** How often some positions leaked: rate with its range, mean cumulative number by day, tests of a constant rate. */
import { floatAt, itemAt } from '../../numeric/columns.js';
import { negativeBinomialCdf } from '../../numeric/counts.js';
import { DAYS_PER_YEAR, type Day, textFromDay } from '../../numeric/day.js';
import { findRoot } from '../../numeric/roots.js';
import { gammaQuantile } from '../../numeric/special.js';
import { meanCumulative } from '../../recurrence/meanCumulative.js';
import { trendTests } from '../../recurrence/trendTests.js';
import type { PositionLeaks } from './expectedLeaks.js';
import type { LeakCurve, Ranged, RateTrend, WatchedLeaks } from './types.js';
import { asColumns, type Seen, type Watches } from './watches.js';

export const LEVEL = 0.9;
/** Robust bounds rest on the positions: with fewer they are too narrow. */
const FEWEST_FOR_BOUNDS = 5;

/** The spells and positions that are counted together. */
export interface Counted extends Seen {
  watches: Watches;
  byPosition: PositionLeaks;
  members: readonly number[];
  /** Leaks that a removal without a reason counts as. */
  unknownLeaks: number;
  spread: number;
}

/** Leaks of the members. Curve and tests are in calendar time. */
export function leakCount(counted: Counted): WatchedLeaks {
  const { watches, byPosition, spells, members, unknownLeaks } = counted;
  const total = (column: Float64Array): number => members.reduce((sum, p) => sum + floatAt(column, p), 0);
  const leaks = total(byPosition.leaks);
  const years = total(byPosition.days) / DAYS_PER_YEAR;
  const seen = spells.length > 0;
  const from = spells.reduce((least, spell) => Math.min(least, itemAt(watches.first, spell)), Infinity);
  return {
    positions: members.filter((p) => floatAt(byPosition.days, p) > 0).length,
    years,
    leaks,
    withoutReason: unknownLeaks * total(watches.unknown),
    perYear: seen ? rateOf(leaks, years, relativeSpread(counted)) : null,
    curve: seen ? curveOf(counted, from) : null,
    trend: leaks > 0 ? trendOf(counted, from) : null,
  };
}

/** Relative variance of the members' rate that comes of positions being unlike. */
function relativeSpread({ byPosition: { expected }, members, spread }: Counted): number {
  const all = members.reduce((sum, p) => sum + floatAt(expected, p), 0);
  const squares = members.reduce((sum, p) => sum + floatAt(expected, p) ** 2, 0);
  return all > 0 ? (spread * squares) / (all * all) : 0;
}

/** Rate with the bounds at which so many leaks or more (or fewer) would have a chance of 5 %, positions being unlike. */
function rateOf(leaks: number, years: number, relative: number): Ranged {
  const tail = (1 - LEVEL) / 2;
  const low = leaks === 0 ? 0 : meanWith((mean) => 1 - chanceUpTo(leaks - 1, mean, relative) - tail, leaks);
  const high = meanWith((mean) => chanceUpTo(leaks, mean, relative) - tail, leaks);
  return { estimate: leaks / years, low: low / years, high: high / years };
}

function chanceUpTo(leaks: number, mean: number, relative: number): number {
  return negativeBinomialCdf(leaks, mean, mean + relative * mean * mean);
}

/** Root of a chance that moves one way with the mean, between far beyond what chance alone would allow. */
function meanWith(distance: (mean: number) => number, leaks: number): number {
  const [low, high] = [gammaQuantile(1e-9, leaks + 1), gammaQuantile(1 - 1e-9, leaks + 1)];
  const at = (log: number): number => distance(Math.exp(log));
  return Math.exp(findRoot(at, Math.log(low) - 20, Math.log(high) + 20, { relative: 1e-8 }).root);
}

function curveOf(counted: Counted, origin: Day): LeakCurve {
  const { watches, spells } = counted;
  const curve = meanCumulative(asColumns(watches, counted, origin, 'position'), { level: LEVEL });
  const positions = new Set(spells.map((spell) => itemAt(watches.position, spell))).size;
  const bounds = (column: Float64Array): (number | null)[] =>
    Array.from(column, (value) => (positions < FEWEST_FOR_BOUNDS ? null : value));
  return {
    from: textFromDay(origin + curve.start),
    until: textFromDay(origin + curve.end - 1),
    day: Array.from(curve.age, (age) => textFromDay(origin + Math.floor(age))),
    mean: [...curve.mean],
    low: bounds(curve.low),
    high: bounds(curve.high),
  };
}

/** Each spell is a system of its own: a constant rate places its leaks evenly over it. */
function trendOf(counted: Counted, origin: Day): RateTrend {
  const { laplace, handbook } = trendTests(asColumns(counted.watches, counted, origin, 'spell'));
  return { laplace: laplace.pValue, chiSquare: handbook.pValue, direction: handbook.direction };
}
