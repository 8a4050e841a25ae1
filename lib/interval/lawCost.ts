/** Cost rate against age under any one law of lives, for comparing laws (METHODS 4.2 with early and worn-out leaks priced alike). */

import { at } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { minimiseOnInterval } from '../numeric/minimise.js';
import { countUpTo } from '../numeric/sorted.js';

/** Costs of one event each; a leak's is the whole cost. `openingsPerDay` renew the diaphragm. */
export interface LawCosts {
  replacement: number;
  leak: number;
  opening: number;
  openingsPerDay: number;
}

/** Which ages are looked at. */
export interface LawReach {
  /** Largest age, days. */
  days: number;
  /** Whether running until it leaks is among the choices. */
  run: boolean;
}

export interface LawCost {
  /** Age of least cost within the reach, days; null where it is to run until it leaks. */
  bestDays: number | null;
  /** Per position and year at that age. */
  leastPerYear: number;
  /** Per position and year at an age, days; null = run. */
  perYearAt(days: number | null): number;
}

const FIRST = 0.25;
const RATIO = 1.03;
const MOST_PANELS = 3000;
const USED_UP = 1e-10;
/** Gauss-Legendre of three points on (0, 1). */
const NODES = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)];
const WEIGHTS = [5 / 18, 8 / 18, 5 / 18];

/**
 * Least cost rate of a law of lives. With openings at rate w, S discounted by them and A its integral, the rate is
 * [c S(T) + l (1 - S(T) - w A(T))] / A(T) + o w. A goes up by panels of 3 %, to the reach, or to where fewer than 1 in 1e10 are left if
 * running is a choice; the best age is found between them.
 * @param survivalAt share not leaked by an age above 0, days
 */
export function lawCost(survivalAt: (days: number) => number, costs: LawCosts, reach: LawReach): LawCost {
  const { replacement, leak, opening, openingsPerDay } = costs;
  const left = (days: number): number => survivalAt(days) * Math.exp(-openingsPerDay * days);
  const rate = (sound: number, time: number): number =>
    (replacement * sound + leak * (1 - sound - openingsPerDay * time)) / time + opening * openingsPerDay;
  const uptime = uptimes(left, reach);
  const run = (): number => rate(0, uptime.total);
  const rateAt = (days: number | null): number =>
    days === null ? run() : rate(left(days), uptime.upTo(days));
  const best = leastOver(
    rateAt,
    uptime.ages.filter((age) => age < reach.days),
    reach.days,
  );
  const runs = reach.run && run() <= best.value;
  return {
    bestDays: runs ? null : best.at,
    leastPerYear: DAYS_PER_YEAR * (runs ? run() : best.value),
    perYearAt: (days) => DAYS_PER_YEAR * rateAt(days),
  };
}

interface Uptimes {
  ages: Float64Array;
  /** Mean time in place up to an age. */
  upTo(days: number): number;
  /** Up to the last of `ages`. */
  total: number;
}

function uptimes(left: (days: number) => number, reach: LawReach): Uptimes {
  const panel = (from: number, to: number): number =>
    (to - from) * NODES.reduce((sum, x, k) => sum + at(WEIGHTS, k) * left(from + (to - from) * x), 0);
  const ages = [FIRST];
  const times = [panel(0, FIRST)];
  const goesOn = (age: number): boolean => age < reach.days || (reach.run && left(age) > USED_UP);
  for (let age = FIRST; goesOn(age) && ages.length < MOST_PANELS; age *= RATIO) {
    times.push(at(times, times.length - 1) + panel(age, age * RATIO));
    ages.push(age * RATIO);
  }
  const column = Float64Array.from(ages);
  return {
    ages: column,
    upTo: (days) => {
      const k = countUpTo(column, days) - 1;
      return k < 0 ? panel(0, days) : at(times, k) + panel(at(ages, k), days);
    },
    total: at(times, times.length - 1),
  };
}

/** The least over ages in ascending order and `end`, looked for between the neighbours of the best of them. */
function leastOver(
  rateAt: (days: number) => number,
  ages: Float64Array,
  end: number,
): { at: number; value: number } {
  const all = [...ages, end];
  const rates = all.map(rateAt);
  const k = rates.indexOf(Math.min(...rates));
  const near = minimiseOnInterval(
    rateAt,
    at(all, Math.max(0, k - 1)),
    at(all, Math.min(all.length - 1, k + 1)),
    {
      relative: 1e-6,
    },
  );
  return near.value < at(rates, k)
    ? { at: near.at, value: near.value }
    : { at: at(all, k), value: at(rates, k) };
}
