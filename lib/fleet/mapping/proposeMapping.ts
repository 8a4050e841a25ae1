/** Proposes settings for a folder of tables as they come: which is which of ours, and what has to be asked first. */
import { itemAt } from '../../numeric/columns.js';
import { count } from '../../numeric/words.js';
import { type CsvFile, columnsOf, HISTORY_FILES, type HistoryFile } from '../columnNames.js';
import { headerName } from '../headerNames.js';
import type { Mappings } from '../mappings.js';
import { columnWordsOf, wordsOf } from '../mappings.js';
import { languageOf, VALUE_COLUMNS, type ValueColumn } from './dictionary.js';
import { type LookedAt, lookAt } from './lookedAt.js';
import { matchColumns } from './matchColumns.js';
import { matchTables, type TableChoice, type TableMatch } from './matchTables.js';
import { keyOf, placeOf, SHARED } from './naming.js';
import { proposeAliases, proposeWords } from './proposeWords.js';
import { questionsOf } from './questions.js';
import { scoresOf } from './scoreColumns.js';
import type { Sources } from './sources.js';
import { type ColumnProposal, type MapProposal, surenessOf, type TableProposal } from './types.js';

/** @param mappings what site.json says already; it is kept */
export function proposeMapping({ tables: sources, unread }: Sources, mappings: Mappings): MapProposal {
  const given = (table: CsvFile) => columnWordsOf(mappings, table).renamed;
  const looked = lookAt(sources);
  const choice = matchTables(looked, given);
  const taken = takenPositions(choice, given);
  const matches = taken === null ? choice.matches : [taken.match, ...choice.matches];
  const all = [...matches, ...choice.joined.map(({ match }) => match)];
  const language = languageOf(all.flatMap(namesIn));
  const words = VALUE_COLUMNS.flatMap((column) => wordsFor(column, all, mappings, language));
  const more = (match: TableMatch): TableProposal[] =>
    match === taken?.match
      ? takenFurther(choice, taken.from, given).map((one) => tableProposal(one, taken.from, []))
      : choice.joined
          .filter((one) => one.match.table === match.table)
          .map((one) => tableProposal({ ...one.match, why: one.why }, null, []));
  const tables = matches.map((match) =>
    tableProposal(match, match === taken?.match ? taken.from : null, more(match)),
  );
  return {
    tables,
    words,
    aliases: aliasesFor(all, taken !== null, mappings),
    questions: questionsOf(choice, tables, words),
    unused: [...unusedTables(looked, choice), ...unread.map(({ file, why }) => `${file}: ${why}`)],
  };
}

/** Where no table is one of positions, the lives or else the work orders may name them, with their size. */
function takenPositions(
  { matches }: TableChoice,
  given: (table: CsvFile) => ReadonlyMap<string, string>,
): { match: TableMatch; from: HistoryFile } | null {
  if (matches.some(({ table }) => table === 'positions.csv')) return null;
  for (const from of HISTORY_FILES) {
    const history = matches.find(({ table }) => table === from);
    const match = history === undefined ? null : positionsIn(history, given);
    if (match !== null) return { match, from };
  }
  return null;
}

/** What the further tables of the history name of positions. */
function takenFurther(
  { joined }: TableChoice,
  from: HistoryFile,
  given: (table: CsvFile) => ReadonlyMap<string, string>,
): TableMatch[] {
  const further = joined.filter(({ match }) => match.table === from);
  return further.flatMap(({ match }) => positionsIn(match, given) ?? []);
}

function positionsIn(
  lives: TableMatch,
  given: (table: CsvFile) => ReadonlyMap<string, string>,
): TableMatch | null {
  const asThere = `as in ${lives.table}`;
  const taken = new Map(lives.columns.map((column) => [column.looked, column.ours]));
  const ours = columnsOf('positions.csv');
  const scores = scoresOf(lives.looked, 'positions.csv', given('positions.csv'), ours).map((row, i) =>
    row.map((score, place) => {
      const used = taken.get(place);
      const column = itemAt(ours, i);
      if (SHARED.includes(column))
        return used === column ? { confidence: 1, why: asThere } : { ...score, confidence: 0 };
      return used === undefined ? score : { ...score, confidence: 0 };
    }),
  );
  const columns = matchColumns(lives.looked, 'positions.csv', scores, ours);
  if (!SHARED.every((column) => columns.some((one) => one.ours === column))) return null;
  const asInLives = new Map(lives.columns.map((column) => [column.looked, { ...column, why: asThere }]));
  return {
    ...lives,
    table: 'positions.csv',
    columns: columns.map((column) => asInLives.get(column.looked) ?? column),
    why: `no table is one of positions, and ${lives.table === 'lives.csv' ? 'the lives' : 'the work orders'} name them with their size`,
  };
}

function tableProposal(
  { table, looked, columns, confidence, why }: TableMatch,
  takenFrom: HistoryFile | null,
  more: TableProposal[],
): TableProposal {
  const { source } = looked;
  const used = new Set(columns.map(({ place }) => place));
  return {
    table,
    file: source.file,
    sheet: source.sheet,
    headerRow: source.headerRow,
    rows: source.rows.length,
    separator: source.separator,
    encoding: source.encoding,
    takenFrom,
    confidence,
    sureness: surenessOf(confidence),
    why,
    columns,
    left: source.header.flatMap((name, place) =>
      used.has(place) || name.trim() === '' ? [] : [name.trim()],
    ),
    barred: barredColumns(table, source.header, columns),
    header: source.header,
    more,
  };
}

/** Columns that have a name of ours and are not that column; those beyond the header's last name that hold something. */
function barredColumns(
  table: CsvFile,
  header: readonly string[],
  columns: readonly ColumnProposal[],
): string[] {
  const ours = new Map(columns.map((column) => [column.place, column.asked ? '' : column.ours]));
  return header.flatMap((name, place) => {
    const read = headerName(table, name, new Map());
    return columnsOf(table).includes(read) && ours.get(place) !== read ? [keyOf(header, place)] : [];
  });
}

/** Names of columns and words in them, for the language they are in. */
function namesIn({ looked, columns }: TableMatch): string[] {
  const worded = columns.filter(({ ours }) => (VALUE_COLUMNS as string[]).includes(ours));
  const words = worded.flatMap(({ place }) => [...itemAt(looked.profiles, place).texts.keys()].slice(0, 100));
  return [...columns.map(({ theirs }) => theirs), ...words];
}

function wordsFor(
  column: ValueColumn,
  matches: readonly TableMatch[],
  mappings: Mappings,
  language: string | null,
) {
  const texts = new Map<string, number>();
  let isShared = false;
  for (const { columns, looked } of matches) {
    const found = columns.find(({ ours }) => ours === column);
    isShared ||= found?.isRead === true;
    const profile = found === undefined ? undefined : looked.profiles[found.place];
    for (const [text, rows] of profile?.texts ?? []) texts.set(text, (texts.get(text) ?? 0) + rows);
  }
  return proposeWords(column, texts, wordsOf(mappings, column), language, isShared);
}

function aliasesFor(matches: readonly TableMatch[], areTaken: boolean, mappings: Mappings) {
  const tags = (table: CsvFile) =>
    matches.flatMap(({ table: own, columns, looked }) => {
      const place = columns.find(({ ours }) => ours === 'position')?.place;
      return own !== table || place === undefined ? [] : [itemAt(looked.profiles, place)];
    });
  const positions = tags('positions.csv');
  if (positions.length === 0 || areTaken) return [];
  return proposeAliases(
    positions,
    [...HISTORY_FILES.flatMap(tags), ...tags('readings.csv')],
    new Set(mappings.aliases.keys()),
  );
}

function unusedTables(looked: readonly LookedAt[], { matches, joined, almost }: TableChoice): string[] {
  const used = new Set([...matches, ...joined.map(({ match }) => match)].map((match) => match.looked));
  return looked
    .filter((one) => !used.has(one))
    .map((one) => {
      const near = almost.find((other) => other.looked === one);
      const why =
        near === undefined
          ? 'it is like none of our tables'
          : near.missing.length > 0
            ? `it is most like ${near.table}, but has no column for ${near.missing.join(' and ')}`
            : `it may be ${near.table} as well`;
      return `${placeOf(one)} (${count(one.source.rows.length, 'row', 'rows')}): ${why}.`;
    });
}
