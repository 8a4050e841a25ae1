/** Which of the date columns of a table come before which: a diaphragm is fitted before it is removed. */
import { dayOf, type Profile } from './profile.js';

export interface DatePlace {
  /** Largest share of rows, over the other date columns, in which this one is the earlier (of those that have both). */
  before: number;
  /** The same for the later. */
  after: number;
  /** Rows compared. */
  rows: number;
}

/** Rows that are compared at most. */
const MOST_ROWS = 5000;

/** By place of the column; only columns of dates are in it. */
export function datePlaces(
  rows: readonly (readonly string[])[],
  profiles: readonly Profile[],
): ReadonlyMap<number, DatePlace> {
  const places = profiles
    .flatMap(({ dates, filled }, place) => (dates >= 0.6 && filled >= 3 ? [place] : []))
    .slice(0, MOST_COLUMNS);
  const step = Math.max(1, Math.ceil(rows.length / MOST_ROWS));
  const days = places.map((place) => {
    const order = profiles[place]?.order ?? null;
    return rows.filter((_, i) => i % step === 0).map((cells) => dayOf(cells[place] ?? '', order));
  });
  return new Map(places.map((place, i) => [place, placeAmong(i, days)]));
}

const MOST_COLUMNS = 12;

function placeAmong(own: number, days: readonly (readonly (string | null)[])[]): DatePlace {
  const place: DatePlace = { before: 0, after: 0, rows: 0 };
  days.forEach((others, j) => {
    if (j === own) return;
    const { both, earlier, later } = compared(days[own] ?? [], others);
    if (both < 5) return;
    place.before = Math.max(place.before, earlier / both);
    place.after = Math.max(place.after, later / both);
    place.rows = Math.max(place.rows, both);
  });
  return place;
}

function compared(own: readonly (string | null)[], others: readonly (string | null)[]) {
  let [both, earlier, later] = [0, 0, 0];
  own.forEach((day, i) => {
    const other = others[i] ?? null;
    if (day === null || other === null) return;
    both += 1;
    if (day < other) earlier += 1;
    if (day > other) later += 1;
  });
  return { both, earlier, later };
}
