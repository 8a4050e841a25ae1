/**
 * A table that lies in the folder with what its columns are like. Beside its own columns it has those that can be read from a text that says
 * several things, such as the size in "Diaphragm EPDM DN25".
 */
import { itemAt } from '../../numeric/columns.js';
import { materialIn, sizeIn } from '../written/itemText.js';
import { type DatePlace, datePlaces } from './dateOrder.js';
import { type Profile, profileOf } from './profile.js';
import type { SourceTable } from './sources.js';
import { type Ties, tiesOf } from './ties.js';

export interface LookedAt {
  source: SourceTable;
  /** By place: its own columns, then those read from a text. */
  profiles: Profile[];
  /** Columns that are read from a text of another, by place less the number of its own columns. */
  read: ReadColumn[];
  dates: ReadonlyMap<number, DatePlace>;
  ties: Ties;
  /** Its own columns in which each text stands once. */
  keys: number;
  /** By place: where most of its cells stand in another table. */
  found: ReadonlyMap<number, { share: number; file: string }>;
  /** By place: another table that has the texts of this column again and again. */
  namedBy: ReadonlyMap<number, string>;
}

export interface ReadColumn {
  /** Place of the column whose text it is read from. */
  from: number;
  /** The only columns of ours that it may be. */
  only: readonly string[];
}

/** Columns that are looked at. */
const MOST_COLUMNS = 1000;

export function lookAt(sources: readonly SourceTable[]): LookedAt[] {
  const looked = sources.map((source) => {
    // A cell beyond the header has no name, and the rows that have one are set aside when they are read.
    const width = Math.min(MOST_COLUMNS, source.header.length);
    const own = Array.from({ length: width }, (_, place) =>
      profileOf(source.rows.map((row) => row[place] ?? '')),
    );
    const read = own.flatMap(readColumns);
    const profiles = [...own, ...read.map(({ profile }) => profile)];
    return {
      source,
      profiles,
      read: read.map(({ from, only }) => ({ from, only })),
      dates: datePlaces(source.rows, own),
      ties: tiesOf(source.rows, own),
      keys: keysOf(own).length,
    };
  });
  return looked.map((table) => ({
    ...table,
    found: foundElsewhere(table, looked),
    namedBy: namesElsewhere(table, looked),
  }));
}

/** Place of the column of the table that a column is, or is read from. */
export function placeIn({ source, read }: Pick<LookedAt, 'source' | 'read'>, place: number): number {
  const width = Math.min(MOST_COLUMNS, source.header.length);
  return place < width ? place : itemAt(read, place - width).from;
}

/** What a column is restricted to; null for a column of its own. */
export function readAt(
  { source, read }: Pick<LookedAt, 'source' | 'read'>,
  place: number,
): ReadColumn | null {
  return read[place - Math.min(MOST_COLUMNS, source.header.length)] ?? null;
}

/** What can be read from the texts of a column beside what it is itself. */
function readColumns(profile: Profile, from: number): (ReadColumn & { profile: Profile })[] {
  const { described, texts, words } = profile;
  const parts = (read: (text: string) => string): Profile =>
    profileOf([...texts].flatMap(([text, times]) => Array.from({ length: times }, () => read(text))));
  if (described.material >= 0.6 || (described.size >= 0.6 && described.material > 0)) {
    const material = { from, only: ['material'], profile: parts(materialIn) };
    const size = { from, only: ['size'], profile: parts(sizeIn) };
    return described.size >= 0.6 ? [material, size] : [material];
  }
  // Free text of an order: what was done, and why.
  const says = (share: number): boolean => share >= SOME;
  if (says(words.work) && says(words.reason)) return [{ from, only: ['reason'], profile }];
  return [];
}

const SOME = 0.2;

type Profiled = Pick<LookedAt, 'source' | 'profiles' | 'read'>;

/** Columns in which each text stands once, as tags of positions and numbers of items do. */
function keysOf(profiles: readonly Profile[]): Profile[] {
  return profiles
    .filter(
      ({ filled, texts, dates, numbers, tags, elastomers }) =>
        filled >= 3 &&
        elastomers < 0.5 &&
        texts.size >= 0.97 * filled &&
        dates < 0.1 &&
        (numbers < 0.1 || tags > 0.5),
    )
    .slice(0, 4);
}

function foundElsewhere(
  table: Profiled,
  all: readonly Profiled[],
): Map<number, { share: number; file: string }> {
  const found = new Map<number, { share: number; file: string }>();
  table.profiles.forEach((profile, place) => {
    if (profile.filled === 0 || profile.dates > 0.5 || profile.texts.size < 2) return;
    for (const other of all) {
      if (other === table) continue;
      for (const key of keysOf(other.profiles)) {
        const share = shareWithin(profile, key);
        if (share > (found.get(place)?.share ?? 0.2))
          found.set(place, { share, file: other.source.sheet ?? other.source.file });
      }
    }
  });
  return found;
}

/** For each column in which each text stands once: a table with a column made of these texts, most of them more than once. */
function namesElsewhere(table: Profiled, all: readonly Profiled[]): Map<number, string> {
  const found = new Map<number, string>();
  for (const key of keysOf(table.profiles)) {
    for (const other of all) {
      if (other === table) continue;
      const names = other.profiles.some(
        (profile) =>
          profile.texts.size > 1 &&
          profile.filled >= 1.5 * profile.texts.size &&
          profile.texts.size >= 0.3 * key.texts.size &&
          shareWithin(profile, key) >= 0.8,
      );
      if (names) found.set(table.profiles.indexOf(key), other.source.sheet ?? other.source.file);
    }
  }
  return found;
}

function shareWithin(profile: Profile, key: Profile): number {
  let within = 0;
  for (const [text, times] of profile.texts) if (key.texts.has(text)) within += times;
  return within / profile.filled;
}
