/**
 * How the columns of a table hang together, whatever their names are: cells that are filled where a day is known (the reason of a removal), texts
 * that stand inside the tag (its line), lives that follow each other (of one position), and lots, each of one material.
 */
import { dayFromText, textFromDay } from '../../numeric/day.js';
import { tidyText } from '../cell.js';
import { isBlankAmount } from '../written/tidied.js';
import { dayOf, type Profile } from './profile.js';

export interface Ties {
  /** By place: the column of days with which its cells are filled and empty together. */
  filledWith: ReadonlyMap<number, number>;
  /** By place: how many of its cells stand inside the text of the tags of their rows, 0 to 1. */
  inTag: ReadonlyMap<number, number>;
  /** By place: how many diaphragms were fitted when the one before them of the same text was removed, 0 to 1: so it is with positions alone. */
  follow: ReadonlyMap<number, number>;
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
  const follow = new Map<number, number>();
  const tag = tagColumn(profiles);
  const material = profiles.findIndex(({ elastomers }) => elastomers >= 0.6);
  const days = fromAndTo(profiles, texts);
  if (rows.length >= FEWEST_ROWS) {
    profiles.forEach((profile, place) => {
      const own = texts[place] ?? [];
      const day = dayColumn(place, profile, profiles, texts);
      if (day !== null) filledWith.set(place, day);
      if (tag >= 0 && tag !== place) inTag.set(place, shareInTag(own, texts[tag] ?? []));
      const share = isTag(profile) ? followShare(own, days) : 0;
      if (share > 0) follow.set(place, share);
      if (material >= 0 && material !== place && tag !== place && goesWithOne(own, texts[material] ?? []))
        ofOneMaterial.add(place);
    });
  }
  return { filledWith, inTag, follow, ofOneMaterial };
}

function isTag({ tags, filled, rows }: Profile): boolean {
  return tags >= 0.6 && filled >= 0.9 * rows;
}

/** The column of tags with most distinct texts; -1 where there is none. */
function tagColumn(profiles: readonly Profile[]): number {
  const found = profiles.map((profile, place) => ({ place, texts: isTag(profile) ? profile.texts.size : 0 }));
  const best = found.reduce((one, other) => (other.texts > one.texts ? other : one), { place: -1, texts: 0 });
  return best.place;
}

interface FromTo {
  from: readonly (string | null)[];
  to: readonly (string | null)[];
}

/** The days of the two columns of dates of which the one is before the other; null where there are none. */
function fromAndTo(profiles: readonly Profile[], texts: readonly (readonly string[])[]): FromTo | null {
  const dated = profiles.flatMap((profile, place) => (profile.dates >= 0.6 ? [place] : [])).slice(0, 6);
  const days = new Map(
    dated.map((place) => [
      place,
      (texts[place] ?? []).map((text) => dayOf(text, profiles[place]?.order ?? null)),
    ]),
  );
  let best: (FromTo & { share: number }) | null = null;
  for (const a of dated) {
    for (const b of dated) {
      const [from, to] = [days.get(a) ?? [], days.get(b) ?? []];
      const both = from.flatMap((day, i) => (day !== null && (to[i] ?? null) !== null ? [i] : []));
      const share = both.filter((i) => (from[i] ?? '') < (to[i] ?? '')).length / both.length;
      // The last day of a life is empty while it runs.
      const score = share - (to.every((day) => day !== null) ? 0.1 : 0);
      if (both.length >= FEWEST_ROWS && share >= 0.9 && score > (best?.share ?? 0))
        best = { from, to, share: score };
    }
  }
  return best;
}

/** Of lives that follow another of the same text, how many were fitted on the day that one was removed, or within a week. */
function followShare(own: readonly string[], days: FromTo | null): number {
  if (days === null) return 0;
  const byText = new Map<string, number[]>();
  own.forEach((text, i) => {
    if (text === '' || (days.from[i] ?? null) === null) return;
    const rows = byText.get(text) ?? [];
    byText.set(text, rows);
    rows.push(i);
  });
  let pairs = 0;
  let following = 0;
  for (const rows of byText.values()) {
    const inTime = rows.sort((a, b) => ((days.from[a] ?? '') < (days.from[b] ?? '') ? -1 : 1));
    inTime.slice(1).forEach((row, k) => {
      const [end, begin] = [days.to[inTime[k] ?? -1] ?? null, days.from[row] ?? null];
      pairs += 1;
      if (end !== null && begin !== null && begin >= end && begin <= weekAfter(end)) following += 1;
    });
  }
  return pairs < FEWEST_ROWS ? 0 : following / pairs;
}

function weekAfter(iso: string): string {
  const day = dayFromText(iso);
  return day === null ? iso : textFromDay(day + 7);
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
