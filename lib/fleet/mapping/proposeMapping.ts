/** Proposes settings for a folder of tables as they come: which is which of ours, and what has to be asked first. */
import { itemAt } from '../../numeric/columns.js';
import { count } from '../../numeric/words.js';
import { type CsvFile, columnsOf, NEEDED_FILES } from '../columnNames.js';
import { headerName, placeKey } from '../headerNames.js';
import type { Mappings } from '../mappings.js';
import { wordsOf } from '../mappings.js';
import { columnKind } from '../written/columnKinds.js';
import { languageOf, VALUE_COLUMNS, VALUE_WORDS, type ValueColumn } from './dictionary.js';
import { matchColumns, shownName } from './matchColumns.js';
import { matchTables, type TableChoice, type TableMatch } from './matchTables.js';
import { proposeAliases, proposeWords } from './proposeWords.js';
import { type LookedAt, lookAt, scoresOf } from './scoreColumns.js';
import type { Sources } from './sources.js';
import {
  type ColumnProposal,
  isWritten,
  type MapProposal,
  type Question,
  surenessOf,
  type TableProposal,
  type WordProposal,
} from './types.js';

/** @param mappings what site.json says already; it is kept */
export function proposeMapping({ tables: sources, unread }: Sources, mappings: Mappings): MapProposal {
  const given = (table: CsvFile) => mappings.columns.get(table) ?? new Map<string, string>();
  const looked = lookAt(sources);
  const choice = matchTables(looked, given);
  const fromLives = positionsFromLives(choice, given);
  const matches = fromLives === null ? choice.matches : [fromLives, ...choice.matches];
  const language = languageOf(matches.flatMap(namesIn));
  const words = VALUE_COLUMNS.flatMap((column) => wordsFor(column, matches, mappings, language));
  const tables = matches.map((match) => tableProposal(match, match === fromLives));
  return {
    tables,
    words,
    aliases: aliasesFor(matches, fromLives !== null, mappings),
    questions: [
      ...missingTables(tables, choice),
      ...tables.flatMap((table) => columnQuestions(table, tables)),
      ...choice.matches.flatMap((match) => dateQuestions(match, choice.matches)),
      ...tables.flatMap(missingColumns),
      ...wordQuestions(words),
      ...secondTables(choice),
    ],
    unused: [...unusedTables(looked, choice), ...unread.map(({ file, why }) => `${file}: ${why}`)],
  };
}

/** Columns of lives that positions taken from them need. */
const SHARED: readonly string[] = ['position', 'size'];

/** Where no table is one of positions, the lives may name them, with their size. */
function positionsFromLives(
  choice: TableChoice,
  given: (table: CsvFile) => ReadonlyMap<string, string>,
): TableMatch | null {
  const lives = choice.matches.find(({ table }) => table === 'lives.csv');
  if (lives === undefined || choice.matches.some(({ table }) => table === 'positions.csv')) return null;
  const taken = new Map(lives.columns.map(({ ours, place }) => [place, ours]));
  const ours = columnsOf('positions.csv');
  const scores = scoresOf(lives.looked, 'positions.csv', given('positions.csv'), ours).map((row, i) =>
    row.map((score, place) => {
      const used = taken.get(place);
      const column = itemAt(ours, i);
      if (SHARED.includes(column))
        return used === column ? { confidence: 1, why: 'as in lives.csv' } : { ...score, confidence: 0 };
      return used === undefined ? score : { ...score, confidence: 0 };
    }),
  );
  const columns = matchColumns(lives.looked, 'positions.csv', scores, ours);
  if (!SHARED.every((column) => columns.some((one) => one.ours === column))) return null;
  const asInLives = new Map(
    lives.columns.map((column) => [column.place, { ...column, why: 'as in lives.csv' }]),
  );
  return {
    ...lives,
    table: 'positions.csv',
    columns: columns.map((column) => asInLives.get(column.place) ?? column),
    why: 'no table is one of positions, and the lives name them with their size',
  };
}

function tableProposal(
  { table, looked, columns, confidence, why }: TableMatch,
  fromLives: boolean,
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
    fromLives,
    confidence,
    sureness: surenessOf(confidence),
    why,
    columns,
    left: source.header.flatMap((name, place) =>
      used.has(place) || name.trim() === '' ? [] : [name.trim()],
    ),
    barred: barredColumns(table, source.header, columns),
    header: source.header,
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

/** How site.json names a column: by its name, or by its place where others have the same or it has none. */
export function keyOf(header: readonly string[], place: number): string {
  const plain = (name: string): string => name.trim().toLowerCase();
  const name = itemAt(header, place);
  const same = header.filter((other) => plain(other) === plain(name)).length;
  return plain(name) === '' || same > 1 ? placeKey(place) : name.trim();
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
  for (const { columns, looked } of matches) {
    const found = columns.find(({ ours }) => ours === column);
    const profile = found === undefined ? undefined : looked.profiles[found.place];
    if (profile !== undefined) return proposeWords(column, profile, wordsOf(mappings, column), language);
  }
  return [];
}

function aliasesFor(matches: readonly TableMatch[], fromLives: boolean, mappings: Mappings) {
  const tags = (table: CsvFile) => {
    const match = matches.find((one) => one.table === table);
    const place = match?.columns.find(({ ours }) => ours === 'position')?.place;
    return place === undefined ? [] : [itemAt(match?.looked.profiles ?? [], place)];
  };
  const [positions] = tags('positions.csv');
  if (positions === undefined || fromLives) return [];
  return proposeAliases(
    positions,
    [...tags('lives.csv'), ...tags('readings.csv')],
    new Set(mappings.aliases.keys()),
  );
}

function missingTables(tables: readonly TableProposal[], { almost }: TableChoice): Question[] {
  return NEEDED_FILES.filter((file) => !tables.some(({ table }) => table === file)).map((file) => {
    const near = almost.filter((one) => one.table === file && one.missing.length > 0);
    const lack = near.map(
      ({ looked, missing }) =>
        `${placeOf(looked)} is most like it, but has no column for ${missing.join(' and ')}`,
    );
    return {
      text: `No table is one of ${file === 'lives.csv' ? 'lives (position, material, day fitted, day removed)' : 'positions (tag and size)'}.${lack.map((text) => ` ${text}.`).join('')}`,
      answer: `"files": { "${file}": "name of the file" }, "columns": { "${file}": { "your column": "${near[0]?.missing[0]?.split(' ')[0] ?? 'position'}" } }`,
    };
  });
}

function columnQuestions(
  { table, columns, header, fromLives }: TableProposal,
  tables: readonly TableProposal[],
): Question[] {
  const shared = tables.some((other) => other.fromLives);
  return columns
    .filter(({ asked, ours }) => asked && !(fromLives && SHARED.includes(ours)))
    .map(({ ours, theirs, place, rivals, why }) => {
      const name = shownName(theirs, place);
      const text =
        rivals.length > 0
          ? `Which column of ${table} is ${ours}: "${name}" or "${rivals.join('" or "')}"? Both are about as likely.`
          : `Is "${name}" the ${ours} of ${table}? This is only a guess: ${why === '' ? 'it is what is left' : why}.`;
      const named = shared && SHARED.includes(ours) ? ['positions.csv', 'lives.csv'] : [table];
      const line = `{ ${JSON.stringify(keyOf(header, place))}: "${ours}" }`;
      return { text, answer: `"columns": { ${named.map((one) => `"${one}": ${line}`).join(', ')} }` };
    });
}

/** Columns of lives without which little can be told. */
const MISSED: Readonly<Record<string, string>> = {
  fitted: 'no life has a known age without it',
  removed: 'every diaphragm counts as still in place without it',
  reason: 'nothing tells a leak from a scheduled replacement without it',
};

function missingColumns({ table, columns, left }: TableProposal): Question[] {
  if (table !== 'lives.csv') return [];
  return Object.entries(MISSED)
    .filter(([ours]) => !columns.some((column) => column.ours === ours))
    .map(([ours, why]) => {
      const open = left.slice(0, MOST_NAMED).map((name) => `"${name}"`);
      const which = open.length === 0 ? '' : ` Is it one of ${open.join(', ')}?`;
      return {
        text: `No column is known to be the ${ours} of lives.csv; ${why}.${which}`,
        answer: `"columns": { "lives.csv": { ${JSON.stringify(left[0] ?? 'your column')}: "${ours}" } }`,
      };
    });
}

/** Whether the day or the month comes first, where no date of the table tells. */
function dateQuestions(match: TableMatch, all: readonly TableMatch[]): Question[] {
  const dated = datesOf(match);
  const either = dated.some((profile) => profile.either > 1 && profile.order === null);
  if (!either || dated.some(({ order }) => order !== null)) return [];
  const other = all
    .flatMap((one) => datesOf(one).map(({ order }) => ({ table: one.table, order })))
    .find(({ order }) => order === 'day first' || order === 'month first');
  const hint =
    other === undefined
      ? ''
      : ` The dates of ${other.table} have the ${other.order === 'day first' ? 'day' : 'month'} first.`;
  return [
    {
      text: `Does the day or the month come first in the dates of ${match.table}? None of them tells, and it is not guessed.${hint}`,
      answer: `"formats": { "${match.table}": { "dates": "${other?.order ?? 'day first'}" } }${other === undefined ? ', or "month first"' : ''}`,
    },
  ];
}

/** Words of which it is not known what they mean, column by column. */
function wordQuestions(words: readonly WordProposal[]): Question[] {
  return VALUE_COLUMNS.flatMap((column) => {
    const open = words.filter((word) => word.column === column && !isWritten(word));
    const [first] = open;
    if (first === undefined) return [];
    const named = open
      .slice(0, MOST_NAMED)
      .map(
        ({ theirs, rows, ours }) =>
          `"${theirs}" (${count(rows, 'row', 'rows')}${ours === null ? '' : `, perhaps ${ours}`})`,
      );
    const more = open.length > MOST_NAMED ? ` and ${open.length - MOST_NAMED} more` : '';
    return [
      {
        text: `What do these words of ${column} mean: ${named.join(', ')}${more}? Each is one of ${VALUE_WORDS[column].join(', ')}.`,
        answer: `"values": { "${column}": { ${JSON.stringify(first.theirs)}: "${first.ours ?? VALUE_WORDS[column][0]}" } }`,
      },
    ];
  });
}

const MOST_NAMED = 8;

/** Tables that would be read as well, if more than one of a kind were. */
function secondTables({ almost, matches }: TableChoice): Question[] {
  return almost
    .filter(({ missing }) => missing.length === 0)
    .flatMap(({ looked, table }) => {
      const chosen = matches.find((match) => match.table === table);
      if (chosen === undefined) return [];
      return [
        {
          text: `${placeOf(looked)} may be ${table} as well as ${placeOf(chosen.looked)}, and one table of each kind is read. Is one of them older, or are both needed?`,
          answer: `"files": { "${table}": ${JSON.stringify(looked.source.file)} }, or put the rows of both into one file`,
        },
      ];
    });
}

function datesOf({ columns, looked }: TableMatch) {
  return columns
    .filter(({ ours }) => columnKind(ours) === 'date')
    .map(({ place }) => itemAt(looked.profiles, place));
}

function unusedTables(looked: readonly LookedAt[], { matches, almost }: TableChoice): string[] {
  return looked
    .filter((one) => !matches.some((match) => match.looked === one))
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

function placeOf({ source }: LookedAt): string {
  return source.sheet === null ? source.file : `sheet "${source.sheet}" of ${source.file}`;
}
