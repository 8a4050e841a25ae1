/** A counter that does not move for long, though it used to. */
import { at, floatAt } from '../numeric/columns.js';
import { type CounterNotes, tell } from './counterNotes.js';
import { BY_RATE, type CounterTrail, READ } from './counterTrail.js';
import { LONGEST_FLAT_DAYS } from './pace.js';

/** So many standard deviations below what was to be expected. */
const DEVIATIONS = 6;
const FEWEST_OTHER_STEPS = 3;

/**
 * Steps without a rise over half a year in use or more, where the counter's other steps say that none would be six standard
 * deviations below what is to be expected (a drift with noise that adds up, at least that of counts by chance). They are left to be
 * bridged, and told. Days idle or out of service are not in use and never count.
 */
export function bridgeFlatSpans(trail: CounterTrail, resolution: number, notes: CounterNotes): void {
  const spans = flatSpans(trail);
  if (spans.length === 0) return;
  const { steps, perDay, variancePerDay } = otherSteps(trail, spans, resolution);
  if (steps < FEWEST_OTHER_STEPS) return;
  for (const [first, last] of spans) {
    const days = floatAt(trail.use, last) - floatAt(trail.use, first - 1);
    if (perDay * days <= DEVIATIONS * Math.sqrt(variancePerDay * days)) continue;
    for (let k = first; k <= last; k++) {
      trail.how[k] = BY_RATE;
      trail.reach[k] = days;
    }
    const value = floatAt(trail.value, last);
    tell(notes, 'stood-still', [floatAt(trail.day, first - 1), value], [floatAt(trail.day, last), value]);
  }
}

/** First and last steps of runs of steps that were read and show no rise. */
function flatSpans(trail: CounterTrail): [number, number][] {
  const spans: [number, number][] = [];
  for (let first = 1; first < trail.length; ) {
    let end = first;
    while (end < trail.length && at(trail.how, end) === READ && floatAt(trail.rise, end) === 0) end += 1;
    const days = end > first ? floatAt(trail.use, end - 1) - floatAt(trail.use, first - 1) : 0;
    if (days >= LONGEST_FLAT_DAYS) spans.push([first, end - 1]);
    first = Math.max(end, first + 1);
  }
  return spans;
}

/** Rate and variance per day of the steps that were read and lie in none of the spans. */
function otherSteps(
  trail: CounterTrail,
  spans: readonly (readonly [number, number])[],
  resolution: number,
): { steps: number; perDay: number; variancePerDay: number } {
  const others: { rise: number; days: number }[] = [];
  for (let k = 1; k < trail.length; k++) {
    const days = floatAt(trail.use, k) - floatAt(trail.use, k - 1);
    const flat = spans.some(([first, last]) => k >= first && k <= last);
    if (!flat && days > 0 && at(trail.how, k) === READ) others.push({ rise: floatAt(trail.rise, k), days });
  }
  const steps = others.filter(({ rise }) => rise > 0).length;
  const days = others.reduce((total, each) => total + each.days, 0);
  const perDay = others.reduce((total, each) => total + each.rise, 0) / days;
  const squares = others.reduce(
    (total, each) => total + (each.rise - perDay * each.days) ** 2 / each.days,
    0,
  );
  const variancePerDay = Math.max(squares / Math.max(1, others.length - 1), resolution * perDay);
  return { steps, perDay, variancePerDay };
}
