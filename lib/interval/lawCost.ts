/** Cost rate against age under any one law of lives, for comparing laws (METHODS 4.2 with early and worn-out leaks priced alike). */

import { at, floatAt } from '../numeric/columns.js';
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
  /** Age of least cost, days; null where it is to run until it leaks. */
  bestDays: number | null;
  /** Per position and year at that age. */
  leastPerYear: number;
  /** Per position and year at an age, days; null = run. */
  perYearAt(days: number | null): number;
}

const FIRST = 0.25;
const RATIO = 1.02;
const MOST_PANELS = 3000;
const USED_UP = 1e-10;
/** Gauss-Legendre of three points on (0, 1). */
const NODES = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)];
const WEIGHTS = [5 / 18, 8 / 18, 5 / 18];
/** Running is taken where no age is cheaper by this share. */
const LEAST_GAIN = 1e-9;

/**
 * Least cost rate of a law of lives over all ages. With openings at rate w, S w-discounted and A its integral, the rate is
 * [c S(T) + l (1 - S(T) - w A(T))] / A(T) + o w. Ages go up by 2 % to where fewer than 1 in 1e10 are left; the best is found between them.
 * @param survivalAt share not leaked by an age above 0, days
 */
export function lawCost(survivalAt: (days: number) => number, costs: LawCosts, reach: LawReach): LawCost {
  const left = (days: number): number => survivalAt(days) * Math.exp(-costs.openingsPerDay * days);
  const panel = (from: number, to: number): number =>
    (to - from) * NODES.reduce((sum, x, k) => sum + at(WEIGHTS, k) * left(from + (to - from) * x), 0);
  const ages = [FIRST];
  const uptime = [panel(0, FIRST)];
  while (left(at(ages, ages.length - 1)) > USED_UP && ages.length < MOST_PANELS) {
    const from = at(ages, ages.length - 1);
    uptime.push(at(uptime, uptime.length - 1) + panel(from, from * RATIO));
    ages.push(from * RATIO);
  }
  const upto = (days: number): number => {
    const k = countUpTo(Float64Array.from(ages), days) - 1;
    return k < 0 ? panel(0, days) : at(uptime, k) + panel(at(ages, k), days);
  };
  const rate = (sound: number, time: number): number =>
    (costs.replacement * sound + costs.leak * (1 - sound - costs.openingsPerDay * time)) / time;
  const openings = costs.opening * costs.openingsPerDay;
  const last = ages.length - 1;
  const run = rate(0, at(uptime, last));
  const rateAt = (days: number | null): number =>
    days === null || days >= at(ages, last) ? run : rate(left(days), upto(days));
  const onGrid = Float64Array.from(ages, (days, k) => (k === last ? run : rate(left(days), at(uptime, k))));
  const k = lowest(onGrid);
  const best = minimiseOnInterval(rateAt, at(ages, Math.max(0, k - 1)), at(ages, Math.min(last, k + 1)), {
    relative: 1e-6,
  });
  const runs = Math.min(best.value, floatAt(onGrid, k)) >= run * (1 - LEAST_GAIN);
  const perYear = (value: number): number => (value + openings) * DAYS_PER_YEAR;
  return {
    bestDays: runs ? null : best.at,
    leastPerYear: perYear(runs ? run : best.value),
    perYearAt: (days) => perYear(rateAt(days)),
  };
}

function lowest(values: Float64Array): number {
  let place = 0;
  for (let i = 1; i < values.length; i++) if (floatAt(values, i) < floatAt(values, place)) place = i;
  return place;
}
