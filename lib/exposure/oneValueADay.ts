/** Several values of one counter on one day: which are used. */
import { floatAt, wholeAt } from '../numeric/columns.js';
import { type CounterNotes, setValueAside, tell } from './counterNotes.js';
import type { RawReadings } from './counterTrail.js';

/**
 * Keeps one value a day, in place. The first that lies between the days before and after is kept, else the first; the others are
 * set aside. Only where the day before ends at or below the higher value and the day after goes on from the lower one are both kept, higher
 * first: the counter was replaced that day.
 */
export function oneValueADay(raw: RawReadings, notes: CounterNotes): void {
  let kept = 0;
  for (let first = 0; first < raw.length; ) {
    let end = first + 1;
    while (end < raw.length && floatAt(raw.day, end) === floatAt(raw.day, first)) end += 1;
    kept = end === first + 1 ? keep(raw, kept, first) : settle(raw, kept, first, end, notes);
    first = end;
  }
  raw.length = kept;
}

function keep(raw: RawReadings, to: number, from: number): number {
  raw.day[to] = floatAt(raw.day, from);
  raw.use[to] = floatAt(raw.use, from);
  raw.value[to] = floatAt(raw.value, from);
  raw.row[to] = wholeAt(raw.row, from);
  return to + 1;
}

function settle(raw: RawReadings, kept: number, first: number, end: number, notes: CounterNotes): number {
  const before = kept > 0 ? floatAt(raw.value, kept - 1) : 0;
  const after = end < raw.length ? floatAt(raw.value, end) : Number.NaN;
  let [high, low, fits] = [first, first, -1];
  for (let k = first; k < end; k++) {
    const value = floatAt(raw.value, k);
    if (value > floatAt(raw.value, high)) high = k;
    if (value < floatAt(raw.value, low)) low = k;
    if (fits < 0 && value >= before && !(value > after)) fits = k;
  }
  const [most, least] = [floatAt(raw.value, high), floatAt(raw.value, low)];
  const replaced = kept > 0 && before <= most && before > least && after < most && after >= least;
  const chosen = replaced ? [high, low] : [fits < 0 ? first : fits];
  for (let k = first; k < end; k++) {
    if (!chosen.includes(k)) setValueAside(notes, 'twice-on-a-day', wholeAt(raw.row, k));
  }
  if (most > least && !replaced) {
    const day = floatAt(raw.day, first);
    const used = floatAt(raw.value, chosen[0] as number);
    tell(notes, 'two-values-on-a-day', [day, used], [day, used === most ? least : most]);
  }
  // The chosen are copied out first: what is written may lie on them.
  const copies = chosen.map((k) => [floatAt(raw.value, k), wholeAt(raw.row, k)] as const);
  let to = kept;
  const [day, use] = [floatAt(raw.day, first), floatAt(raw.use, first)];
  for (const [value, row] of copies) {
    raw.day[to] = day;
    raw.use[to] = use;
    raw.value[to] = value;
    raw.row[to] = row;
    to += 1;
  }
  return to;
}
