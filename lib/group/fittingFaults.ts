/**
 * Fitting faults (METHODS 3.1): each fitting is faulty with chance p, and a faulty one leaks early, with cumulative
 * share Fe. With the wear-out of a life known, its likelihood in p and Fe is
 *
 *     leaked in (a, b]       [(1 - p Fe(a)) (1 - s) + p (1 - c) (Fe(b) - Fe(a)) s] / (1 - p Fe(entry)),  s = Sw(b) / Sw(a)
 *     known to be faulty     p c (Fe(b) - Fe(a)) s / (1 - p Fe(entry))
 *     sound at a             (1 - p Fe(a)) / (1 - p Fe(entry))
 *
 * where c is the share of early leaks whose finding gives the faulty fitting away (so that a leak without such a finding
 * is the less likely to be one). Wear-out before 60 days is so rare that the wear-out of the whole material serves. The law Fe is found for the plant,
 * p for each material by a grid over its posterior (three-parameter model: Chan & Meeker 1999, from memory).
 */
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';
import { minimiseSimplex, minimiseSmooth } from '../numeric/minimise.js';
import type { RandomStream } from '../numeric/random.js';

/** The early-leak law of a faulty fitting; scale in days. */
export interface EarlyLaw {
  shape: number;
  scale: number;
}

/** Common practice where a plant's own early leaks are too few to tell (assumed). */
export const DEFAULT_EARLY_LAW: EarlyLaw = { shape: 0.7, scale: 20 };
/** Early leaks needed to let the data say the share, or the law. */
export const EARLY_LEAKS_NEEDED = 5;
/** Prior of the share where the data cannot tell: median 0.01, 95 % within 0.001 to 0.05. */
export const SHARE_PRIOR = { median: 0.01, low: 0.001, high: 0.05 } as const;
/** Spread of log share between materials, where one material's own early leaks are too few. */
export const SHARE_BETWEEN_MATERIALS = 0.7;

/** Spread of log shape and log scale round the default law: keeps five leaks from making an absurd law. */
const LAW_SD = { shape: 0.3, scale: 0.7 } as const;
/** Some leaks of faulty fittings have no finding, however many do. */
const MOST_SHOWN = 0.95;
const GRID = 160;
/** Log shares that are looked at. */
export const LOG_SHARE_RANGE = [Math.log(1e-5), Math.log(0.6)] as const;

/** What of a life matters for fitting faults. A row stands for `count` lives. */
export interface FaultRow {
  /** Age reached without a leak. */
  sound: number;
  /** End of the interval in which it leaked; Infinity where it did not. */
  leakedBy: number;
  entry: number;
  count: number;
  /** Wear-out hazard over (sound, leakedBy]. */
  wearHazard: number;
  /** The finding says that it was the fitting. */
  known: boolean;
  /** Of a leak whose group is told on another clock than days: `sound` and `leakedBy` on that clock. Left out elsewhere. */
  worn?: readonly [number, number];
}

/** Posterior of a share on a grid of log share: chances that add up to 1. */
export interface SharePosterior {
  logShare: Float64Array;
  chance: Float64Array;
}

/** Steps of the differences by which the law is found, on log scales, and how near to the best log-likelihood it must be. */
const LAW_STEPS = [0.03, 0.03, 0.03];
const LAW_WITHIN = 1e-6;

/** A law, and the share of fittings that it says are faulty in the plant as a whole. */
export type SharedLaw = EarlyLaw & { share: number };

/** The law that fits the plant's early leaks best, held near the default; share found along with it. `from` starts the search. */
export function fitEarlyLaw(rows: readonly FaultRow[], from: SharedLaw, shown: number): SharedLaw {
  const likelihoodOf = faultLikelihoods(rows, shown);
  const off = (value: number, middle: number, sd: number): number =>
    ((value - Math.log(middle)) / sd) ** 2 / 2;
  const target = (x: readonly number[]): number => {
    const [logShare, logShape, logScale] = [at(x, 0), at(x, 1), at(x, 2)];
    if (logShare > Math.log(0.9)) return Infinity;
    return (
      off(logShape, DEFAULT_EARLY_LAW.shape, LAW_SD.shape) +
      off(logScale, DEFAULT_EARLY_LAW.scale, LAW_SD.scale) -
      likelihoodOf({ shape: Math.exp(logShape), scale: Math.exp(logScale) })(Math.exp(logShare))
    );
  };
  const start = [Math.log(from.share), Math.log(from.shape), Math.log(from.scale)];
  const smooth = minimiseSmooth(target, start, LAW_STEPS, LAW_WITHIN);
  const best = smooth.converged
    ? smooth
    : minimiseSimplex(target, smooth.at, { step: 0.15, tolerance: 1e-9 });
  return {
    share: Math.exp(at(best.at, 0)),
    shape: Math.exp(at(best.at, 1)),
    scale: Math.exp(at(best.at, 2)),
  };
}

/**
 * Log-likelihood of a share, for one law after another: distinct ages are found once, sound lives collapse to a net count
 * per age (entries count against), and a law takes each power once. `shown` is the share of early leaks whose finding
 * gives the faulty fitting away.
 */
export function faultLikelihoods(
  rows: readonly FaultRow[],
  shown: number,
): (law: EarlyLaw) => (share: number) => number {
  const net = new Map<number, number>();
  const add = (age: number, count: number): void => {
    if (age > 0) net.set(age, (net.get(age) ?? 0) + count);
  };
  for (const { sound, leakedBy, entry, count } of rows) {
    add(entry, -count);
    if (leakedBy === Infinity) add(sound, count);
  }
  const ages = [...net].filter(([, count]) => Math.abs(count) > 1e-12);
  const logAge = columnOf(ages, ([age]) => Math.log(age));
  const counts = columnOf(ages, ([, count]) => count);
  const leaks = rows.filter((row) => row.leakedBy !== Infinity);
  const logSound = columnOf(leaks, ({ sound }) => Math.log(sound));
  const logLeaked = columnOf(leaks, ({ leakedBy }) => Math.log(leakedBy));
  const leakCount = columnOf(leaks, ({ count }) => count);
  const kept = columnOf(
    leaks,
    ({ wearHazard, known }) => Math.exp(-wearHazard) * (known ? shown : 1 - shown),
  );
  const worn = columnOf(leaks, ({ wearHazard, known }) => (known ? 0 : -Math.expm1(-wearHazard)));
  return (law) => {
    const parts = leakedShares(logAge, law);
    const before = leakedShares(logSound, law);
    const within = leakedShares(logLeaked, law);
    for (let i = 0; i < within.length; i++)
      within[i] = (floatAt(within, i) - floatAt(before, i)) * floatAt(kept, i);
    return (share) => {
      let sum = 0;
      for (let i = 0; i < parts.length; i++)
        sum += floatAt(counts, i) * Math.log1p(-share * floatAt(parts, i));
      for (let i = 0; i < before.length; i++) {
        const chance = (1 - share * floatAt(before, i)) * floatAt(worn, i) + share * floatAt(within, i);
        sum += floatAt(leakCount, i) * Math.log(chance);
      }
      return sum;
    };
  };
}

/** Share of faulty fittings that have leaked by each age. */
function leakedShares(logAge: Float64Array, law: EarlyLaw): Float64Array {
  const logScale = Math.log(law.scale);
  const shares = new Float64Array(logAge.length);
  for (let i = 0; i < shares.length; i++)
    shares[i] = -Math.expm1(-Math.exp(law.shape * (floatAt(logAge, i) - logScale)));
  return shares;
}

/**
 * Share of early leaks whose finding gives the faulty fitting away: those known, over those known and those that the
 * model takes for faulty at the shares, law and `shown` of the round before.
 */
export function shownShare(
  materials: readonly { rows: readonly FaultRow[]; share: number }[],
  law: EarlyLaw,
  shown: number,
): number {
  const left = (age: number): number => Math.exp(-((age / law.scale) ** law.shape));
  let known = 0;
  let hidden = 0;
  for (const { rows, share } of materials) {
    for (const row of rows) {
      if (row.leakedBy === Infinity) continue;
      if (row.known) {
        known += row.count;
        continue;
      }
      const within = left(row.sound) - left(row.leakedBy);
      const early = share * (1 - shown) * within * Math.exp(-row.wearHazard);
      const worn = (1 - share * (1 - left(row.sound))) * -Math.expm1(-row.wearHazard);
      hidden += early > 0 ? (row.count * early) / (early + worn) : 0;
    }
  }
  return known === 0 ? 0 : Math.min(MOST_SHOWN, known / (known + hidden));
}

/** Log prior of log share where the data can tell: Jeffreys' for a rare event. */
export function openPrior(logShare: number): number {
  return logShare / 2;
}

/** Log prior of log share with its median and 95 % range as printed: half a normal on either side of the median. */
export function printedPrior(logShare: number): number {
  const end = logShare < Math.log(SHARE_PRIOR.median) ? SHARE_PRIOR.low : SHARE_PRIOR.high;
  const sd = Math.abs(Math.log(end / SHARE_PRIOR.median)) / 1.959964;
  return -(((logShare - Math.log(SHARE_PRIOR.median)) / sd) ** 2) / 2 - Math.log(sd);
}

/** Log prior of a material's log share round the plant's. */
export function priorAround(plantShare: number): (logShare: number) => number {
  return (logShare) => -(((logShare - Math.log(plantShare)) / SHARE_BETWEEN_MATERIALS) ** 2) / 2;
}

/** Posterior of the share on a grid. */
export function sharePosterior(
  rows: readonly FaultRow[],
  law: EarlyLaw,
  shown: number,
  logPrior: (logShare: number) => number,
): SharePosterior {
  const logLikelihood = faultLikelihoods(rows, shown)(law);
  return shareOnGrid((logShare) => logLikelihood(Math.exp(logShare)) + logPrior(logShare));
}

/** Chances of log shares by a log density, wherever its constant lies. */
export function shareOnGrid(logDensity: (logShare: number) => number): SharePosterior {
  const [low, high] = LOG_SHARE_RANGE;
  const logShare = Float64Array.from({ length: GRID }, (_, i) => low + ((high - low) * i) / (GRID - 1));
  const density = logShare.map(logDensity);
  const top = density.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const weight = density.map((value) => Math.exp(value - top));
  const total = weight.reduce((sum, value) => sum + value, 0);
  return { logShare, chance: weight.map((value) => value / total) };
}

export function shareMean({ logShare, chance }: SharePosterior): number {
  return logShare.reduce((sum, value, i) => sum + Math.exp(value) * floatAt(chance, i), 0);
}

/** The share below which it lies with chance p, by a straight line between grid points. */
export function shareQuantile({ logShare, chance }: SharePosterior, p: number): number {
  const step = floatAt(logShare, 1) - floatAt(logShare, 0);
  let below = 0;
  for (let i = 0; i < chance.length; i++) {
    const here = floatAt(chance, i);
    if (below + here >= p) return Math.exp(floatAt(logShare, i) + step * ((p - below) / here - 0.5));
    below += here;
  }
  return Math.exp(itemAt(Array.from(logShare), logShare.length - 1));
}

/** Independent draws of a share, spread evenly over its chances (one in each of `draws` equal parts, in random order). */
export function drawShares(posterior: SharePosterior, draws: number, random: RandomStream): Float64Array {
  const shares = Float64Array.from({ length: draws }, (_, d) =>
    shareQuantile(posterior, (d + random.uniform()) / draws),
  );
  for (let d = draws - 1; d > 0; d--) {
    const other = random.below(d + 1);
    const kept = floatAt(shares, d);
    shares[d] = floatAt(shares, other);
    shares[other] = kept;
  }
  return shares;
}
