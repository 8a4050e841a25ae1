/** How far the data reach (METHODS 2.4). */
import type { LifeSample } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';

const AT_RISK = 5;
const LEAKS = 2;

/**
 * Largest age, days, with 5 or more lives at risk and 2 or more leaks at or before it; null where there is none. A life is
 * at risk after its entry and until it ends, so neither a forgotten valve nor a life that came late moves it.
 */
export function supportedAge(sample: LifeSample): number | null {
  const events: { age: number; risk: number; leaks: number }[] = [];
  for (let i = 0; i < sample.lower.length; i++) {
    const count = floatAt(sample.count, i);
    const upper = floatAt(sample.upper, i);
    const failed = upper !== Infinity;
    const end = failed ? Math.floor(upper) : floatAt(sample.lower, i);
    events.push({ age: floatAt(sample.entry, i), risk: count, leaks: 0 });
    events.push({ age: end, risk: -count, leaks: failed ? count : 0 });
  }
  // At one age: those who end there are still at risk, those who enter there not yet; so ends are looked at first.
  events.sort((a, b) => a.age - b.age || a.risk - b.risk);
  let risk = 0;
  let leaks = 0;
  let reach: number | null = null;
  for (let i = 0; i < events.length; ) {
    const age = events[i]?.age as number;
    const before = risk;
    for (; i < events.length && events[i]?.age === age; i++) {
      risk += events[i]?.risk as number;
      leaks += events[i]?.leaks as number;
    }
    if (before >= AT_RISK - 1e-9 && leaks >= LEAKS - 1e-9) reach = age;
  }
  return reach;
}
