/** A counter that does not move for long, though it used to. */
import { at, floatAt } from '../numeric/columns.js';
import { type CounterNotes, tell } from './counterNotes.js';
import { BY_RATE, type CounterTrail, READ } from './counterTrail.js';
import { LONGEST_FLAT_DAYS } from './pace.js';

/** So many standard deviations below what was to be expected. */
const DEVIATIONS = 6;
const FEWEST_OTHER_STEPS = 3;
/** So many times longer than its other rests: a counter that rests for long more than once belongs to a valve that does. */
const LONGER = 3;

/**
 * Steps without a rise over half a year in use or more, three times longer than any other rest of the counter, where its other steps
 * say that no rise would be six standard deviations below what is to be expected (a drift with noise that adds up, at least that
 * of counts by chance). They are left to be bridged, and told. Days idle or out of service are not in use and never count.
 */
export function bridgeFlatSpan(trail: CounterTrail, resolution: number, notes: CounterNotes): void {
  const rest = longestRest(trail);
  if (rest === null || !isOutOfStep(trail, rest, resolution)) return;
  const { first, last, days } = rest;
  for (let k = first; k <= last; k++) {
    trail.how[k] = BY_RATE;
    trail.reach[k] = days;
  }
  const value = floatAt(trail.value, last);
  tell(notes, 'stood-still', [floatAt(trail.day, first - 1), value], [floatAt(trail.day, last), value]);
}

/** A run of steps that were read and show no rise. */
interface Rest {
  first: number;
  last: number;
  days: number;
}

/** The longest rest, where it is long and far longer than the next. */
function longestRest(trail: CounterTrail): Rest | null {
  let longest: Rest = { first: 0, last: 0, days: 0 };
  let next = 0;
  for (let first = 1; first < trail.length; ) {
    let end = first;
    while (end < trail.length && at(trail.how, end) === READ && floatAt(trail.rise, end) === 0) end += 1;
    const days = end > first ? floatAt(trail.use, end - 1) - floatAt(trail.use, first - 1) : 0;
    next = Math.max(next, Math.min(days, longest.days));
    if (days > longest.days) longest = { first, last: end - 1, days };
    first = Math.max(end, first + 1);
  }
  return longest.days >= Math.max(LONGEST_FLAT_DAYS, LONGER * next) ? longest : null;
}

/** Whether the steps that were read elsewhere speak against so long a rest. */
function isOutOfStep(trail: CounterTrail, { first, last, days }: Rest, resolution: number): boolean {
  const others: { rise: number; days: number }[] = [];
  for (let k = 1; k < trail.length; k++) {
    const inUse = floatAt(trail.use, k) - floatAt(trail.use, k - 1);
    const elsewhere = k < first || k > last;
    if (elsewhere && inUse > 0 && at(trail.how, k) === READ) {
      others.push({ rise: floatAt(trail.rise, k), days: inUse });
    }
  }
  if (others.filter(({ rise }) => rise > 0).length < FEWEST_OTHER_STEPS) return false;
  const total = others.reduce((sum, each) => sum + each.days, 0);
  const perDay = others.reduce((sum, each) => sum + each.rise, 0) / total;
  const squares = others.reduce((sum, each) => sum + (each.rise - perDay * each.days) ** 2 / each.days, 0);
  const variancePerDay = Math.max(squares / (others.length - 1), resolution * perDay);
  return perDay * days > DEVIATIONS * Math.sqrt(variancePerDay * days);
}
