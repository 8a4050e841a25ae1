/** What has to be asked before a folder can be planned, or planned well. */
import { itemAt } from '../../numeric/columns.js';
import { count } from '../../numeric/words.js';
import { type CsvFile, HISTORY_FILES, missingNeeded, POSITIONS_FILE } from '../columnNames.js';
import { columnKind } from '../written/columnKinds.js';
import { VALUE_COLUMNS, VALUE_WORDS } from './dictionary.js';
import { shownName } from './matchColumns.js';
import type { TableChoice, TableMatch } from './matchTables.js';
import { keyOf, placeOf, SHARED } from './naming.js';
import { isWritten, type Question, type TableProposal, type WordProposal } from './types.js';

/** All questions, the tables first. */
export function questionsOf(
  choice: TableChoice,
  tables: readonly TableProposal[],
  words: readonly WordProposal[],
): Question[] {
  const dated = [...choice.matches, ...choice.joined.map(({ match }) => match)];
  return [
    ...missingTables(tables, choice),
    ...tables.flatMap((table) =>
      [table, ...table.more].flatMap((one) => columnQuestions(one, tables, table.more.length > 0)),
    ),
    ...dated.flatMap((match) => dateQuestions(match, dated)),
    ...tables.flatMap(missingColumns),
    ...wordQuestions(words),
    ...secondTables(choice),
  ];
}

/** Tables without which there is no plan: positions, and a history of either shape. */
function missingFiles(tables: readonly TableProposal[]): CsvFile[] {
  const there = new Set(tables.map(({ table }) => table));
  const missing: CsvFile[] = [];
  for (let next = missingNeeded((file) => there.has(file)); next !== null; ) {
    missing.push(next);
    there.add(next);
    next = missingNeeded((file) => there.has(file));
  }
  return missing;
}

function missingTables(tables: readonly TableProposal[], { almost }: TableChoice): Question[] {
  return missingFiles(tables).map((file) => {
    const meant: readonly CsvFile[] = file === POSITIONS_FILE ? [file] : HISTORY_FILES;
    const near = almost.filter((one) => meant.includes(one.table) && one.missing.length > 0);
    const asked = near[0]?.table ?? file;
    const lack = near.map(
      ({ looked, table, missing }) =>
        `${placeOf(looked)} is most like ${table === file ? 'it' : 'a table of work orders'}, but has no column for ${missing.join(' and ')}`,
    );
    return {
      text: `No table is one of ${file === 'lives.csv' ? 'lives (position, material, day fitted, day removed) or of work orders (position, date, kind of work)' : 'positions (tag and size)'}.${lack.map((text) => ` ${text}.`).join('')}`,
      answer: `"files": { "${asked}": "name of the file" }, "columns": { "${asked}": { "your column": "${near[0]?.missing[0]?.split(' ')[0] ?? 'position'}" } }`,
    };
  });
}

function columnQuestions(
  { table, file, sheet, columns, header, takenFrom }: TableProposal,
  tables: readonly TableProposal[],
  isOneOfMore: boolean,
): Question[] {
  const of = isOneOfMore ? `${table} (${sheet === null ? file : `${file}, ${sheet}`})` : table;
  const shared = tables.some((other) => other.takenFrom === table) || takenFrom !== null;
  return columns
    .filter(({ asked, ours }) => asked && !(takenFrom !== null && SHARED.includes(ours)))
    .map(({ ours, theirs, place, rivals, why, isRead }) => {
      const name = shownName(theirs, place);
      const text =
        rivals.length > 0
          ? `Which column of ${of} is ${ours}: "${name}" or "${rivals.join('" or "')}"? Both are about as likely.`
          : `Is "${name}" the ${ours} of ${of}? This is only a guess: ${why === '' ? 'it is what is left' : why}.`;
      const named = shared && SHARED.includes(ours) ? ['positions.csv', takenFrom ?? table] : [table];
      const beside = columns.filter((one) => one.place === place && !one.asked).map((one) => one.ours);
      const value = isRead ? JSON.stringify([...new Set([...beside, ours])]) : `"${ours}"`;
      const line = `{ ${JSON.stringify(keyOf(header, place))}: ${value} }`;
      return { text, answer: `"columns": { ${named.map((one) => `"${one}": ${line}`).join(', ')} }` };
    });
}

const NO_REASON = 'nothing tells a leak from a scheduled replacement without it';
/** Columns of a history without which little can be told. */
const MISSED: Partial<Record<CsvFile, Readonly<Record<string, string>>>> = {
  'lives.csv': {
    fitted: 'no life has a known age without it',
    removed: 'every diaphragm counts as still in place without it',
    reason: NO_REASON,
  },
  'work-orders.csv': {
    material: 'what will be fitted next stands in for every diaphragm without it',
    reason: NO_REASON,
  },
};

function missingColumns({ table, columns, left }: TableProposal): Question[] {
  return Object.entries(MISSED[table] ?? {})
    .filter(([ours]) => !columns.some((column) => column.ours === ours))
    .map(([ours, why]) => {
      const open = left.slice(0, MOST_NAMED).map((name) => `"${name}"`);
      const which = open.length === 0 ? '' : ` Is it one of ${open.join(', ')}?`;
      return {
        text: `No column is known to be the ${ours} of ${table}; ${why}.${which}`,
        answer: `"columns": { "${table}": { ${JSON.stringify(left[0] ?? 'your column')}: "${ours}" } }`,
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
  const isOneOfMore = all.some((one) => one !== match && one.table === match.table);
  if (isOneOfMore) {
    const { file, sheet } = match.looked.source;
    const place = {
      file,
      ...(sheet === null ? {} : { sheet }),
      formats: { dates: other?.order ?? 'day first' },
    };
    return [
      {
        text: `Does the day or the month come first in the dates of ${placeOf(match.looked)}? None of them tells, and it is not guessed.${hint}`,
        answer: `"files": { "${match.table}": [ ${JSON.stringify(place)} and the others ] }${other === undefined ? ', or "month first"' : ''}`,
      },
    ];
  }
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
          text: `${placeOf(looked)} may be ${table} as well as ${placeOf(chosen.looked)}. Is one of them older, or are both needed?`,
          answer: `"files": { "${table}": ${JSON.stringify(looked.source.file)} } for the one, or "files": { "${table}": [${JSON.stringify(chosen.looked.source.file)}, ${JSON.stringify(looked.source.file)}] } for both`,
        },
      ];
    });
}

function datesOf({ columns, looked }: TableMatch) {
  return columns
    .filter(({ ours }) => columnKind(ours) === 'date')
    .map(({ place }) => itemAt(looked.profiles, place));
}
