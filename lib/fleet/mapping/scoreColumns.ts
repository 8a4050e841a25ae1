/** How sure it is that a column of theirs is a column of ours: from its name and from its cells. */
import { CSV_COLUMNS, type CsvFile, columnsOf } from '../columnNames.js';
import { contentFit, type Fit } from './contentFit.js';
import { columnsLike, type Match } from './dictionary.js';
import { type LookedAt, placeIn, readAt } from './lookedAt.js';

export interface Score {
  /** 0 to 1; 0 where it cannot be. */
  confidence: number;
  why: string;
}

/** Scores by our column (in the order of the documentation) and their column. */
export function scoresOf(
  looked: LookedAt,
  table: CsvFile,
  given: ReadonlyMap<string, string>,
  ours: readonly string[] = columnsOf(table),
): Score[][] {
  const names = looked.profiles.map((_, place) => namesAt(looked, place));
  return ours.map((column) =>
    looked.profiles.map((profile, place) => {
      const only = readAt(looked, place)?.only;
      if (only !== undefined && !only.includes(column)) return NEVER;
      const name = looked.source.header[placeIn(looked, place)] ?? '';
      const said = given.get(name.trim().toLowerCase());
      if (said !== undefined) return said === column ? { confidence: 1, why: 'site.json says so' } : NEVER;
      const fit = contentFit(column, profile, {
        table,
        place,
        found: looked.found.get(place) ?? null,
        dates: looked.dates.get(place) ?? null,
        onlyDates: looked.dates.size === 1,
        namedBy: looked.namedBy.get(place) ?? null,
        ties: looked.ties,
        keys: looked.keys,
      });
      return together(likest(names[place] ?? [], column), fit, table, column);
    }),
  );
}

/** The names of a column: its own, and with the heading above it. */
export function namesAt(looked: LookedAt, place: number): Name[] {
  const own = placeIn(looked, place);
  const { header, above } = looked.source;
  const name = header[own] ?? '';
  const over = above?.[own] ?? '';
  const alone = { text: name, worth: 1 };
  if (over === '' || over === name.trim()) return [alone];
  const isShared = header.filter((one) => one.trim().toLowerCase() === name.trim().toLowerCase()).length > 1;
  return [
    { ...alone, worth: isShared ? SHARED_NAME : 1 },
    { text: `${over} ${name}`, worth: 0.98 },
    { text: over, worth: isShared ? 0.9 : HEADING },
  ];
}

interface Name {
  text: string;
  /** What a match of it is worth, at most 1. */
  worth: number;
}

/** A name that several columns have tells little; a heading above others tells little of each. */
const SHARED_NAME = 0.6;
const HEADING = 0.5;

export function likest(names: readonly Name[], column: string): Match | null {
  let best: Match | null = null;
  for (const { text, worth } of names) {
    const match = columnsLike(text).get(column);
    const score = worth * (match?.score ?? 0);
    if (match !== undefined && score > (best?.score ?? 0)) best = { ...match, score };
  }
  return best;
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
  const isHint = fit.isHint === true && (match?.score ?? 0) < NAMED;
  if (isHint) return { confidence: Math.min(both, GUESS), why: joined(said, fit.why) };
  const plain = (match?.score ?? 0) >= 0.9 || fit.value >= 0.85;
  const confidence = plain ? both : Math.min(both, LIKELY_AT_MOST);
  return { confidence: confidence < least ? 0 : confidence, why: joined(said, fit.why) };
}

/** With less of a name than this, how columns hang together is worth a question and no more. */
const NAMED = 0.6;
const GUESS = 0.58;

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
