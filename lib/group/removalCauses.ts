/**
 * What removals at an age were, by cause (METHODS 3.4): the hazard of each cause from the removals of known reason, smoothed
 * over age, and the share of each cause in their sum. Each known removal adds one over the lives at risk at its age
 * (Nelson-Aalen; smoothed by a kernel: Ramlau-Hansen 1983, from memory), so that nothing is lost at the edge where most
 * are replaced. Its kernel reaches as far as a near neighbour of the same cause (sample-point bandwidth: Breiman, Meisel
 * & Purcell 1977, from memory): a spike of scheduled ages stays as narrow as it is, and does not swamp the leaks beside it.
 * Ages are measured as log(age + 10 days), mirrored at age 0. Against the truth of invented plants the shares add up to the
 * leaks that were lost, before, in and after the spikes (test/demo/lostReasons.test.ts).
 */

import {
  AGE_OFFSET,
  atRiskOf,
  hazardAt,
  type Kernels,
  kernelsOf,
  placeOf,
} from '../life/modes/smoothedHazard.js';
import { at, floatAt } from '../numeric/columns.js';

/** Causes told apart; all other reasons are `other`. */
export const CAUSES = ['leak', 'opened', 'scheduled', 'other'] as const;
export type Cause = (typeof CAUSES)[number];
export type LeakPart = 'condition' | 'fault';

/** Lives of one kind: when each began to be watched, when it ended or the data did, and why (null: running or not told). */
export interface CausedLives {
  entry: Float64Array;
  /** Days. */
  age: Float64Array;
  cause: readonly (Cause | null)[];
  /** Removals whose cause is not known: among those of a null cause; 0 by default. */
  unknown?: number;
  /** Leaks that a reading may take for something else; null for all other lives. None by default. */
  part?: readonly (LeakPart | null)[];
}

/** Share of each cause among removals at an age. */
export type CauseShares = Record<Cause, number>;

export interface RemovalCauses {
  /** Removals of known cause. */
  known: number;
  /** Shares at an age in days; all 0 where no removal has a known cause. */
  at(age: number): CauseShares;
  /**
   * Hazard per day of age of the removals that were no leaks, those that lost their reason included: that of the known ones
   * over the share of removals whose reason is known.
   */
  otherHazard(age: number): number;
  /** The same of a part of the leaks: those for condition, or known fitting faults. */
  partHazard(part: LeakPart, age: number): number;
  /** Variance of the log of that hazard by the number of known removals: how far all of it may be off. */
  otherVariance: number;
}

export function removalCauses({ entry, age, cause, unknown = 0, part = [] }: CausedLives): RemovalCauses {
  const atRisk = atRiskOf(entry, age);
  const kernels = CAUSES.map((name) =>
    kernelsOf(
      age.filter((_, i) => cause[i] === name),
      atRisk,
    ),
  );
  const counts = CAUSES.map((name) => cause.filter((each) => each === name).length);
  const known = counts.reduce((sum, count) => sum + count, 0);
  const seen = new Map<number, CauseShares>();
  const kernelsOfPart = (name: LeakPart): Kernels =>
    kernelsOf(
      age.filter((_, i) => part[i] === name),
      atRisk,
    );
  const parts = { condition: kernelsOfPart('condition'), fault: kernelsOfPart('fault') };
  const perDay = (hazard: number, days: number): number => hazard / (Math.max(days, 0) + AGE_OFFSET);
  const others = known - at(counts, 0);
  const watched = age.reduce((sum, end, i) => sum + end - floatAt(entry, i), 0);
  // Half a removal anywhere keeps a hazard above 0 between kernels. With no reason known, half of all removals were no leaks.
  const meanRate = (events: number): number => events / Math.max(watched, 1);
  const shareKnown = (known + 0.5) / (known + unknown + 0.5);
  return {
    known,
    otherVariance: varianceOfOther(known, others, unknown),
    otherHazard(days) {
      if (known === 0) return meanRate(Math.max(unknown, 1) / 2);
      const place = placeOf(days);
      const hazards = kernels.map((each) => hazardAt(each, place));
      const sum = hazards.slice(1).reduce((total, hazard) => total + hazard, 0);
      const reached = sum > 0 || at(hazards, 0) > 0;
      return (reached ? perDay(sum, days) + meanRate(0.5) : meanRate(others + 0.5)) / shareKnown;
    },
    partHazard: (name, days) => perDay(hazardAt(parts[name], placeOf(days)), days) / shareKnown,
    at(days) {
      const found = seen.get(days);
      if (found !== undefined) return found;
      const place = placeOf(days);
      const hazards = kernels.map((each) => hazardAt(each, place));
      // Out of reach of everything known: what removals were at any age.
      const shares = sharesOf(hazards) ?? sharesOf(counts) ?? NONE;
      seen.set(days, shares);
      return shares;
    },
  };
}

/**
 * Others are a share of all removals: 1/N - 1/K + 1/(K + U) of N others among K known and U unknown (multinomial and Poisson,
 * first order); with half a removal of each kind added, so that nothing known means off by a factor of 3 or so either way.
 */
function varianceOfOther(known: number, others: number, unknown: number): number {
  return 1 / (others + 0.5) - 1 / (known + 1) + 1 / (known + 1 + unknown);
}

const NONE: CauseShares = { leak: 0, opened: 0, scheduled: 0, other: 0 };

function sharesOf(parts: readonly number[]): CauseShares | null {
  const total = parts.reduce((sum, part) => sum + part, 0);
  if (total <= 0) return null;
  const [leak = 0, opened = 0, scheduled = 0, other = 0] = parts.map((part) => part / total);
  return { leak, opened, scheduled, other };
}
