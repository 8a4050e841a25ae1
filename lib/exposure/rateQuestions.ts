/** Counters whose rate cannot be right: one that never moved, and one that is at odds with the duty in positions.csv. */
import { at, floatAt } from '../numeric/columns.js';
import { type CounterNotes, tell } from './counterNotes.js';
import { type CounterRates, type CounterTrail, READ } from './counterTrail.js';
import { LONGEST_FLAT_DAYS } from './pace.js';

/** Six standard deviations of counts by chance: so far off is not chance. */
const DEVIATIONS = 6;
const LARGEST_DUTY_RATIO = 3;

/** No rise in half a year in use or more, though by the duty there should be 36 counts or more. */
export function neverMoved(trail: CounterTrail, duty: number | null): boolean {
  if (trail.length < 2 || duty === null) return false;
  const days = floatAt(trail.use, trail.length - 1) - floatAt(trail.use, 0);
  if (days < LONGEST_FLAT_DAYS || duty * days < DEVIATIONS ** 2) return false;
  for (let k = 1; k < trail.length; k++) {
    if (at(trail.how, k) !== READ || floatAt(trail.rise, k) > 0) return false;
  }
  return true;
}

/** Tells where readings and positions.csv differ by more than three times, over half a year or more and by more than chance. */
export function rateAgainstDuty(
  trail: CounterTrail,
  { own, ownDays, duty }: CounterRates,
  notes: CounterNotes,
): void {
  if (own === null || duty === null || ownDays < LONGEST_FLAT_DAYS) return;
  const [low, high] = own < duty ? [own, duty] : [duty, own];
  const far = high > LARGEST_DUTY_RATIO * low;
  if (!far || (high - low) * ownDays <= DEVIATIONS * Math.sqrt(high * ownDays)) return;
  const last = trail.length - 1;
  tell(notes, 'rate-unlike-duty', [floatAt(trail.day, 0), own], [floatAt(trail.day, last), duty]);
}
