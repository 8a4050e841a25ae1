/**
 * How the columns of a table hang together, whatever their names are: cells that are filled where a day is known (the reason of a removal), texts
 * that stand inside the tag (its line), and lots, each of one material and size.
 */
import { tidyText } from '../cell.js';
import { isBlankAmount } from '../written/tidied.js';
import type { Profile } from './profile.js';

export interface Ties {
  /** By place: the column of days with which its cells are filled and empty together. */
  filledWith: ReadonlyMap<number, number>;
  /** By place: how many of its cells stand inside the text of the tags of their rows, 0 to 1. */
  inTag: ReadonlyMap<number, number>;
  /** By place: whether each of its texts goes with one text of a column of elastomers. */
  ofOneMaterial: ReadonlySet<number>;
}

/** Rows that are compared at most. */
const MOST_ROWS = 3000;
const FEWEST_ROWS = 12;

export function tiesOf(all: readonly (readonly string[])[], profiles: readonly Profile[]): Ties {
  const step = Math.max(1, Math.ceil(all.length / MOST_ROWS));
  const rows = all.filter((_, i) => i % step === 0);
  const texts = profiles.map((_, place) => rows.map((row) => textOf(row[place] ?? '')));
  const filledWith = new Map<number, number>();
  const inTag = new Map<number, number>();
  const ofOneMaterial = new Set<number>();
  const tag = profiles.findIndex(({ tags, filled, rows: count }) => tags >= 0.6 && filled >= 0.9 * count);
  const material = profiles.findIndex(({ elastomers }) => elastomers >= 0.6);
  if (rows.length >= FEWEST_ROWS) {
    profiles.forEach((profile, place) => {
      const own = texts[place] ?? [];
      const day = dayColumn(place, profile, profiles, texts);
      if (day !== null) filledWith.set(place, day);
      if (tag >= 0 && tag !== place) inTag.set(place, shareInTag(own, texts[tag] ?? []));
      if (material >= 0 && material !== place && goesWithOne(own, texts[material] ?? []))
        ofOneMaterial.add(place);
    });
  }
  return { filledWith, inTag, ofOneMaterial };
}

function textOf(cell: string): string {
  const text = tidyText(cell);
  return isBlankAmount(text) ? '' : text;
}

/** Only columns that are empty in some rows tell. */
function dayColumn(
  place: number,
  profile: Profile,
  profiles: readonly Profile[],
  texts: readonly (readonly string[])[],
): number | null {
  const some = profile.filled >= 0.1 * profile.rows && profile.filled <= 0.98 * profile.rows;
  if (!some || profile.dates > 0.1 || profile.texts.size > MOST_WORDS || profile.numbers > 0.5) return null;
  const own = texts[place] ?? [];
  const found = profiles.findIndex(({ dates, filled, rows }, other) => {
    if (other === place || dates < 0.6 || filled > 0.98 * rows) return false;
    const days = texts[other] ?? [];
    const together = own.filter((text, i) => (text === '') === (days[i] === '')).length;
    return together >= 0.93 * own.length;
  });
  return found < 0 ? null : found;
}

/** A column with more distinct texts holds no words. */
const MOST_WORDS = 40;

function shareInTag(own: readonly string[], tags: readonly string[]): number {
  let filled = 0;
  let inside = 0;
  own.forEach((text, i) => {
    if (text === '') return;
    filled += 1;
    const tag = (tags[i] ?? '').toLowerCase();
    const part = text.toLowerCase();
    // A line is a part of the tag between its marks, and not all of it.
    if (part !== tag && tag.split(/[^\p{L}\p{N}]+/u).some((one) => one === part)) inside += 1;
  });
  return filled < FEWEST_ROWS ? 0 : inside / filled;
}

/** Whether texts that come again go with one text of another column each. */
function goesWithOne(own: readonly string[], others: readonly string[]): boolean {
  const first = new Map<string, string>();
  let again = 0;
  let same = 0;
  own.forEach((text, i) => {
    const other = others[i] ?? '';
    if (text === '' || other === '') return;
    const before = first.get(text);
    if (before === undefined) first.set(text, other);
    else {
      again += 1;
      if (before === other) same += 1;
    }
  });
  return first.size >= 5 && again >= FEWEST_ROWS && same >= 0.97 * again && new Set(others).size > 1;
}
