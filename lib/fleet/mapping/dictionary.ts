/** Looks names up in the words of all languages. */
import { CSV_FILES, type CsvFile, columnsOf, tableName } from '../columnNames.js';
import { CRITICALITIES, FINDINGS_AT_REMOVAL, REASONS } from '../types.js';
import { WORKS } from '../workOrders/types.js';
import { type PlainWord, plainWord } from './plainWord.js';
import { similarity } from './similarity.js';
import { LANGUAGES } from './words/languages.js';
import type { LanguageWords, UnitWord } from './words/types.js';

export interface Entry {
  ours: string;
  word: string;
  plain: PlainWord;
  /** What finding it is worth, at most 1. */
  worth: number;
  language: string;
}

/** A word that was found for a name. */
export interface Match {
  ours: string;
  /** 0 to 1. */
  score: number;
  word: string;
  language: string;
}

/** What words that may mean other things as well are worth. */
const WEAK = 0.6;
const OUR_OWN = 'our name';

function entriesOf(ours: string, words: string | undefined, language: string): Entry[] {
  return (words ?? '').split(',').flatMap((raw) => {
    const weak = raw.trim().startsWith('~');
    const word = raw.trim().replace(/^~/, '');
    return word === '' ? [] : [{ ours, word, plain: plainWord(word), worth: weak ? WEAK : 1, language }];
  });
}

function ownEntry(ours: string): Entry {
  const word = ours.replaceAll('_', ' ');
  return { ours, word, plain: plainWord(word), worth: 1, language: OUR_OWN };
}

/** Entries of a part of every language, those of our own names first. */
function allEntries(
  own: readonly string[],
  part: (language: LanguageWords) => Readonly<Record<string, string | undefined>>,
): Entry[] {
  return [
    ...own.map(ownEntry),
    ...LANGUAGES.flatMap((language) =>
      Object.entries(part(language)).flatMap(([ours, words]) => entriesOf(ours, words, language.name)),
    ),
  ];
}

/** Made when it is first asked for: a plan needs none of it. */
function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

const columnEntries = once(() => allEntries([...new Set(CSV_FILES.flatMap(columnsOf))], columnWords));

/** Who fitted a diaphragm did the work of an order: one list serves both. */
function columnWords({ columns }: LanguageWords): Readonly<Record<string, string | undefined>> {
  const { fitted_by: fitters, done_by: doers } = columns;
  return { ...columns, done_by: [doers, fitters].filter((words) => words !== undefined).join(',') };
}
const tableEntries = once(() =>
  allEntries(CSV_FILES, (language) => language.tables).map((entry) =>
    entry.language === OUR_OWN ? { ...entry, plain: plainWord(tableName(entry.ours as CsvFile)) } : entry,
  ),
);
const unitEntries = once(() => allEntries([], (language) => language.units));

/** Words of ours that stand in the cells of some columns. */
export const VALUE_WORDS = {
  reason: REASONS,
  finding: FINDINGS_AT_REMOVAL,
  work: WORKS,
  criticality: CRITICALITIES,
  stop_for: ['replacements', 'anyway'],
} as const;

export type ValueColumn = keyof typeof VALUE_WORDS;
export const VALUE_COLUMNS = Object.keys(VALUE_WORDS) as ValueColumn[];

const allValueEntries = once(
  () =>
    new Map(
      VALUE_COLUMNS.map((column) => [
        column,
        allEntries(VALUE_WORDS[column], (language) => language[column]),
      ]),
    ),
);

/** Words for those of ours, in every language. */
export function valueEntries(column: ValueColumn): readonly Entry[] {
  return allValueEntries().get(column) ?? [];
}

const exactValues = once(
  () =>
    new Map(
      VALUE_COLUMNS.map((column) => [column, new Set(valueEntries(column).map(({ plain }) => plain.joined))]),
    ),
);

/** Whether a cell, or a part of it, is letter by letter a word that means something in a column of ours. */
export function isValueWord(cell: string, column: ValueColumn): boolean {
  const { joined, tokens } = plainWord(cell);
  const known = exactValues().get(column);
  return (
    known?.has(joined) === true || tokens.some((token) => token.length >= 4 && known?.has(token) === true)
  );
}

/**
 * The best match of a name for each of our words that some entry is like. Where a language is given, words of others count for less: the
 * same letters can mean one thing in Polish and another in Portuguese.
 */
export function matchesOf(
  name: string,
  entries: readonly Entry[],
  language: string | null = null,
): Map<string, Match> {
  const plain = plainWord(name);
  const best = new Map<string, Match>();
  for (const entry of entries) {
    const foreign = language !== null && entry.language !== language && !EVERYWHERE.includes(entry.language);
    const score = (foreign ? FOREIGN : 1) * entry.worth * similarity(plain, entry.plain);
    if (score >= LEAST && score > (best.get(entry.ours)?.score ?? 0))
      best.set(entry.ours, { ours: entry.ours, score, word: entry.word, language: entry.language });
  }
  return best;
}

/** Words that are found in plants of every language. */
const EVERYWHERE = [OUR_OWN, 'any language', 'English'];
const FOREIGN = 0.9;

/** The language that has most of some names, letter by letter; null where none has two more than each other. */
export function languageOf(names: readonly string[]): string | null {
  const counts = new Map<string, number>();
  for (const name of new Set(names.map((text) => plainWord(text).joined))) {
    for (const language of exactLanguages().get(name) ?? [])
      counts.set(language, (counts.get(language) ?? 0) + 1);
  }
  const [first, second] = [...counts].sort(([, a], [, b]) => b - a);
  return first === undefined || first[1] < (second?.[1] ?? 0) + 2 ? null : first[0];
}

/** Less alike than this says nothing. */
const LEAST = 0.3;

const columnMatches = new Map<string, ReadonlyMap<string, Match>>();

/** Which of our columns a name may be. Units in brackets count for nothing here. */
export function columnsLike(name: string): ReadonlyMap<string, Match> {
  const known = columnMatches.get(name);
  if (known !== undefined) return known;
  const whole = matchesOf(name, columnEntries());
  const bare = withoutUnit(name);
  if (bare !== name) {
    for (const [ours, match] of matchesOf(bare, columnEntries())) {
      const score = 0.98 * match.score;
      if (score > (whole.get(ours)?.score ?? 0)) whole.set(ours, { ...match, score });
    }
  }
  if (columnMatches.size > MOST_KEPT) columnMatches.clear();
  columnMatches.set(name, whole);
  return whole;
}

const MOST_KEPT = 5000;

const exactWords = once(() => new Set(columnEntries().flatMap(({ plain }) => [plain.joined, plain.folded])));

const exactLanguages = once(languagesByWord);

function languagesByWord(): ReadonlyMap<string, ReadonlySet<string>> {
  const found = new Map<string, Set<string>>();
  for (const { plain, language } of [...columnEntries(), ...VALUE_COLUMNS.flatMap(valueEntries)]) {
    if (language === OUR_OWN || language === 'any language') continue;
    const set = found.get(plain.joined) ?? new Set();
    found.set(plain.joined, set.add(language));
  }
  return found;
}

/** Whether a cell is, letter by letter, a word for some column: fast enough to look for a header with. */
export function isColumnWord(cell: string): boolean {
  const { joined, folded } = plainWord(withoutUnit(cell));
  return exactWords().has(joined) || exactWords().has(folded);
}

/** Our tables that the name of a file or sheet may mean, from 0 to 1. */
export function tablesLike(name: string): ReadonlyMap<string, Match> {
  return matchesOf(name.replace(/\d+/g, ' '), tableEntries());
}

const BRACKETS = /[([]([^)\]]*)[)\]]/;

function withoutUnit(name: string): string {
  const bare = name.replace(BRACKETS, ' ').trim();
  if (bare !== '' && bare !== name) return bare;
  const tail = tailOf(name);
  return tail !== null && exactUnit(tail) !== null ? name.slice(0, name.length - tail.length) : name;
}

/** The last part of a name, where it has several. */
function tailOf(name: string): string | null {
  const found = /[\s_/-]([^\s_/-]+)$/.exec(name.trim());
  return found?.[1] ?? null;
}

/** The unit that a name says, in brackets or as its last part. */
export function unitIn(name: string): UnitWord | null {
  const inside = BRACKETS.exec(name)?.[1];
  if (inside !== undefined) return exactUnit(inside);
  const tail = tailOf(name);
  return tail === null ? null : exactUnit(tail);
}

/** The unit that a cell under a name says, in brackets or not. */
export function unitNamed(cell: string): UnitWord | null {
  return cell.trim() === '' ? null : (exactUnit(cell) ?? unitIn(cell));
}

function exactUnit(text: string): UnitWord | null {
  const plain = plainWord(text);
  const found = unitEntries().find(({ plain: known }) => known.joined === plain.joined);
  return (found?.ours as UnitWord | undefined) ?? null;
}
