/** How sure it is that a column of theirs is a column of ours: from its name and from its cells. */
import { CSV_COLUMNS, type CsvFile, columnsOf } from '../columnNames.js';
import { contentFit, type Fit } from './contentFit.js';
import { type DatePlace, datePlaces } from './dateOrder.js';
import { columnsLike, type Match } from './dictionary.js';
import { type Profile, profileOf } from './profile.js';
import type { SourceTable } from './sources.js';

/** A table that lies in the folder, with what its columns are like. */
export interface LookedAt {
  source: SourceTable;
  profiles: Profile[];
  dates: ReadonlyMap<number, DatePlace>;
  /** By place: where most of its cells stand in another table. */
  found: ReadonlyMap<number, { share: number; file: string }>;
  /** By place: another table that has the texts of this column again and again. */
  namedBy: ReadonlyMap<number, string>;
}

export interface Score {
  /** 0 to 1; 0 where it cannot be. */
  confidence: number;
  why: string;
}

/** Columns that are looked at. */
const MOST_COLUMNS = 1000;

export function lookAt(sources: readonly SourceTable[]): LookedAt[] {
  const looked = sources.map((source) => {
    // A cell beyond the header has no name, and the rows that have one are set aside when they are read.
    const width = Math.min(MOST_COLUMNS, source.header.length);
    const profiles = Array.from({ length: width }, (_, place) =>
      profileOf(source.rows.map((row) => row[place] ?? '')),
    );
    return { source, profiles, dates: datePlaces(source.rows, profiles) };
  });
  return looked.map((table) => ({
    ...table,
    found: foundElsewhere(table, looked),
    namedBy: namesElsewhere(table, looked),
  }));
}

type Profiled = Omit<LookedAt, 'found' | 'namedBy'>;

/** Columns in which each text stands once, as tags of positions and numbers of items do. */
function keysOf({ profiles }: Profiled): Profile[] {
  return profiles
    .filter(
      ({ filled, texts, dates, numbers, tags }) =>
        filled >= 3 && texts.size >= 0.97 * filled && dates < 0.1 && (numbers < 0.1 || tags > 0.5),
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
      for (const key of keysOf(other)) {
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
  for (const key of keysOf(table)) {
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

/** Scores by our column (in the order of the documentation) and their column. */
export function scoresOf(
  looked: LookedAt,
  table: CsvFile,
  given: ReadonlyMap<string, string>,
  ours: readonly string[] = columnsOf(table),
): Score[][] {
  return ours.map((column) =>
    looked.profiles.map((profile, place) => {
      const name = looked.source.header[place] ?? '';
      const said = given.get(name.trim().toLowerCase());
      if (said !== undefined) return said === column ? { confidence: 1, why: 'site.json says so' } : NEVER;
      const fit = contentFit(column, profile, {
        table,
        found: looked.found.get(place) ?? null,
        dates: looked.dates.get(place) ?? null,
        namedBy: looked.namedBy.get(place) ?? null,
      });
      return together(columnsLike(name).get(column) ?? null, fit, table, column);
    }),
  );
}

const NEVER: Score = { confidence: 0, why: '' };
/** A name alone is never quite certain. */
const NAME_AT_MOST = 0.96;

/** Two hints that agree are surer than each; cells that speak against a name take from it. */
function together(match: Match | null, fit: Fit, table: CsvFile, column: string): Score {
  const least = match === null && !isTelling(table, column) ? LEAST_BY_CELLS : LEAST;
  const name = NAME_AT_MOST * (match?.score ?? 0) ** 1.5;
  const said = match === null ? null : nameReason(match, column);
  if (fit.value < 0) {
    const own = match?.language === 'our name' && match.score === 1 && fit.value > CANNOT_BE;
    const confidence = own ? name : name * (1 + fit.value);
    return {
      confidence: confidence < least ? 0 : confidence,
      why: joined(said, fit.why === null ? null : `but ${fit.why}`),
    };
  }
  const both = 1 - (1 - name) * (1 - fit.value);
  const plain = (match?.score ?? 0) >= 0.9 || fit.value >= 0.85;
  const confidence = plain ? both : Math.min(both, LIKELY_AT_MOST);
  return { confidence: confidence < least ? 0 : confidence, why: joined(said, fit.why) };
}

/** Our own name holds, unless the cells speak so much against it. */
const CANNOT_BE = -0.6;

/** Where neither the name nor the cells are plain, the two together are likely and not sure. */
const LIKELY_AT_MOST = 0.84;

/** Less sure than this is not worth a question. */
const LEAST = 0.3;
/** The same where the name says nothing, and the table can be read without the column. */
const LEAST_BY_CELLS = 0.5;

/** Columns without which a table says little. */
function isTelling(table: CsvFile, column: string): boolean {
  const needed: readonly string[] = CSV_COLUMNS[table].needed;
  return needed.includes(column) || column === 'fitted' || column === 'removed';
}

function nameReason({ score, word, language }: Match, column: string): string {
  if (language === 'our name') return score >= 0.98 ? 'it has our name' : `its name is like "${column}"`;
  if (language === 'any language')
    return score >= 0.98 ? 'a usual name for it' : `its name is like "${word}", a usual one for it`;
  return score >= 0.98 ? `${language} for it` : `its name is like "${word}", ${language} for it`;
}

function joined(...parts: (string | null)[]): string {
  const said = parts.filter((part) => part !== null);
  return said.join(said.some((part) => part.startsWith('but ')) ? ', ' : ', and ');
}
