/** How much of a sample speaks of an age. */
import type { LifeSample } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';

/** Lives (weights) that were watched at an age: under watch before it, and known to have reached it. */
export function livesWatchedAt({ lower, entry, count }: LifeSample, ageDays: number): number {
  let watched = 0;
  for (let i = 0; i < lower.length; i++) {
    if (floatAt(entry, i) < ageDays && floatAt(lower, i) >= ageDays) watched += floatAt(count, i);
  }
  return watched;
}

/** Leaks (weights) known to have come at an age or later. */
export function leaksFrom({ lower, upper, count }: LifeSample, ageDays: number): number {
  let leaks = 0;
  for (let i = 0; i < lower.length; i++) {
    if (floatAt(upper, i) < Infinity && floatAt(lower, i) >= ageDays) leaks += floatAt(count, i);
  }
  return leaks;
}
