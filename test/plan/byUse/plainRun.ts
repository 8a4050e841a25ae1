/**
 * A plain run of the wear plant (test/group/wear/wearFolder.ts): each position wears its diaphragms by its own steam cycles, or by days.
 * Written without any code of the library but its stream of random numbers.
 */
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';

/** A law of wear-out in counts of what wears, with faulty fittings by days. */
export interface TrueLaw {
  shape: number;
  scale: number;
  share: number;
  faultShape: number;
  faultScale: number;
}

/** One position: counts a day, days after which it is replaced (null = run), and what a replacement and a leak cost. */
export interface RunPosition {
  perDay: number;
  interval: number | null;
  replacement: number;
  leak: number;
}

/** A year of all positions together in the long run: mean and standard error over the laws that were run. */
export interface LongRun {
  leaks: Estimate;
  replacements: Estimate;
  cost: Estimate;
}

export interface Estimate {
  mean: number;
  error: number;
}

const YEAR = 365.25;

/** Age at a leak, days: the faulty fitting or the wear-out, whichever is first. */
export function leakAge(law: TrueLaw, perDay: number, random: RandomStream): number {
  const worn = (law.scale * (-Math.log(random.uniform())) ** (1 / law.shape)) / perDay;
  if (random.uniform() >= law.share) return worn;
  return Math.min(worn, law.faultScale * (-Math.log(random.uniform())) ** (1 / law.faultShape));
}

/**
 * Runs every position through `lives` lives under each law. Two halves of the lives tell how much chance is left in the mean over the laws,
 * which are taken as given.
 */
export function longRun(
  positions: readonly RunPosition[],
  laws: readonly TrueLaw[],
  lives: number,
  seed: number,
): LongRun {
  const random = randomStream(seed, 'plain run');
  const sums = laws.map((law) => [0, 1].map(() => halfRun(positions, law, lives / 2, random)));
  const of = (kind: keyof LongRun): Estimate => {
    const halves = sums.map(([a, b]) => [a?.[kind] ?? 0, b?.[kind] ?? 0] as const);
    const mean = halves.reduce((total, [a, b]) => total + (a + b) / 2, 0) / halves.length;
    const squares = halves.reduce((total, [a, b]) => total + ((a - b) / 2) ** 2, 0);
    return { mean, error: Math.sqrt(squares) / halves.length };
  };
  return { leaks: of('leaks'), replacements: of('replacements'), cost: of('cost') };
}

function halfRun(
  positions: readonly RunPosition[],
  law: TrueLaw,
  lives: number,
  random: RandomStream,
): Record<keyof LongRun, number> {
  const total = { leaks: 0, replacements: 0, cost: 0 };
  for (const { perDay, interval, replacement, leak } of positions) {
    let [days, leaks] = [0, 0];
    for (let n = 0; n < lives; n++) {
      const age = leakAge(law, perDay, random);
      if (age < (interval ?? Infinity)) leaks += 1;
      days += Math.min(age, interval ?? Infinity);
    }
    const perYear = YEAR / days;
    total.leaks += leaks * perYear;
    total.replacements += lives * perYear;
    total.cost += (leaks * leak + (lives - leaks) * replacement) * perYear;
  }
  return total;
}

/** A position with the age of what is in it: counts so far, days to its first replacement, and days between later ones. */
export interface AheadPosition {
  perDay: number;
  count: number;
  first: number | null;
  interval: number | null;
}

/** Leaks and scheduled replacements over the days to come, with the standard error of their sum over the runs. */
export function runAhead(
  positions: readonly AheadPosition[],
  laws: readonly TrueLaw[],
  days: number,
  seed: number,
): { leaks: Estimate; planned: Estimate } {
  const random = randomStream(seed, 'plain run ahead');
  const runs = laws.map((law) => {
    let [leaks, planned] = [0, 0];
    for (const { perDay, count, first, interval } of positions) {
      let day = 0;
      let left = remaining(law, perDay, count, random);
      let due = first ?? Infinity;
      for (;;) {
        day += Math.min(left, due);
        if (day > days) break;
        if (left < due) leaks += 1;
        else planned += 1;
        left = leakAge(law, perDay, random);
        due = interval ?? Infinity;
      }
    }
    return { leaks, planned };
  });
  return { leaks: estimate(runs.map((run) => run.leaks)), planned: estimate(runs.map((run) => run.planned)) };
}

/** Days to the leak of one that has worn so far: past the first weeks, so that no faulty fitting is left. */
function remaining({ shape, scale }: TrueLaw, perDay: number, count: number, random: RandomStream): number {
  const reached = (count / scale) ** shape;
  return (scale * (reached - Math.log(random.uniform())) ** (1 / shape) - count) / perDay;
}

function estimate(values: readonly number[]): Estimate {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  return { mean, error: Math.sqrt(variance / values.length) };
}
