/** The proposal as a text of site.json, with the reasons as remarks behind two slashes. */
import { type CsvFile, columnsOf } from '../columnNames.js';
import { headerName, placeKey } from '../headerNames.js';
import { SEPARATOR_NAMES } from '../siteSchema.js';
import { keyOf } from './naming.js';
import { isWritten, type MapProposal, type TableProposal, type WordProposal } from './types.js';

/** Settings that the proposal fills. */
const OWN = ['files', 'formats', 'columns', 'values', 'aliases'] as const;

/** One line of an object: its key, its value, and the reason. */
interface Line {
  key: string;
  value: unknown;
  why: string;
  /** In place of the value: a list of values, each with its reason. */
  list?: readonly { value: unknown; why: string }[];
}

/**
 * @param before the settings there are, as JSON has them: they are kept, and where they say something else they hold
 */
export function siteText(proposal: MapProposal, before: Readonly<Record<string, unknown>>): string {
  const sections = [
    ...Object.entries(before)
      .filter(([name]) => !(OWN as readonly string[]).includes(name))
      .map(([name, value]) => `  ${JSON.stringify(name)}: ${indented(JSON.stringify(value, null, 2), 2)}`),
    ...OWN.flatMap((name) => section(name, merged(ownLines(proposal)[name], before[name]))),
  ];
  const asked = proposal.questions.flatMap(({ text, answer }) => [
    `  // To answer: ${remark(text)}`,
    ...(answer === null ? [] : [`  //   ${remark(answer)}`]),
  ]);
  return `{\n${[...HEAD, ...asked].join('\n')}\n${sections.join(',\n')}\n}\n`;
}

const HEAD = [
  '  // Proposed from the tables of this folder. Remarks stand behind two slashes. Look at each line that is not sure.',
  '  // What makes the results yours: "name", "currency", "records_from", "data_until", "money", "limits" (see the README).',
];

function ownLines(proposal: MapProposal): Record<(typeof OWN)[number], Line[] | Map<string, Line[]>> {
  return {
    files: proposal.tables.flatMap(fileLine),
    formats: new Map(proposal.tables.map((table) => [table.table, sharedLines(table, formatLines)])),
    columns: new Map(
      proposal.tables.map((table) => [
        table.table,
        table.takenFrom === null ? sharedLines(table, columnLines) : allLines(table),
      ]),
    ),
    values: wordLines(proposal.words),
    aliases: proposal.aliases.map(({ theirs, ours, why }) => ({ key: theirs, value: ours, why })),
  };
}

/** Lines that hold for all tables of a kind; none where they are not the same for each, and stand with the files then. */
function sharedLines(table: TableProposal, linesOf: (table: TableProposal) => Line[]): Line[] {
  return isShared(table, linesOf) ? linesOf(table) : [];
}

function isShared(table: TableProposal, linesOf: (table: TableProposal) => Line[]): boolean {
  const plain = (one: TableProposal): string =>
    JSON.stringify(linesOf(one).map(({ key, value }) => [key, value]));
  return table.more.every((one) => plain(one) === plain(table));
}

/** Names of positions in each table of a history from which they are taken; those of the first hold. */
function allLines(table: TableProposal): Line[] {
  const lines = new Map<string, Line>();
  for (const one of [table, ...table.more])
    for (const line of columnLines(one)) if (!lines.has(line.key)) lines.set(line.key, line);
  return [...lines.values()];
}

/** The files of a kind, each with its own names of columns and format where they are not the same for all. */
function listLine(table: TableProposal): Line {
  const all = [table, ...table.more];
  const [ownColumns, ownFormats] = [!isShared(table, columnLines), !isShared(table, formatLines)];
  const list = all.map((one) => {
    const columns = ownColumns ? columnLines(one) : [];
    const formats = ownFormats ? formatLines(one) : [];
    const objectOf = (lines: Line[]) => Object.fromEntries(lines.map(({ key, value }) => [key, value]));
    const place = {
      ...placeOf(one),
      ...(columns.length === 0 ? {} : { columns: objectOf(columns) }),
      ...(formats.length === 0 ? {} : { formats: objectOf(formats) }),
    };
    const isName = Object.keys(place).length === 1;
    return { value: isName ? one.file : place, why: `${one.sureness}: ${one.why}` };
  });
  return { key: table.table, value: null, why: '', list };
}

/** A list with a line and a reason for each of its entries. */
function listText(list: NonNullable<Line['list']>, pad: string): string {
  const rows = list.map(({ value, why }, i) => {
    const comma = i < list.length - 1 ? ',' : '';
    return `${pad}    ${JSON.stringify(value)}${comma} // ${remark(why)}`;
  });
  return `[\n${rows.join('\n')}\n${pad}  ]`;
}

function placeOf({ file, sheet, headerRow }: TableProposal) {
  return {
    file,
    ...(sheet === null ? {} : { sheet }),
    ...(headerRow === 1 ? {} : { header_row: headerRow }),
  };
}

function fileLine(proposal: TableProposal): Line[] {
  const { table, file, sheet, headerRow, takenFrom, sureness, why } = proposal;
  if (takenFrom !== null) return [{ key: table, value: { from: takenFrom }, why: `${sureness}: ${why}` }];
  if (proposal.more.length > 0) return [listLine(proposal)];
  if (sheet === null && headerRow === 1 && (file === table || file === `${table}.gz`)) return [];
  const place = placeOf(proposal);
  return [{ key: table, value: Object.keys(place).length === 1 ? file : place, why: `${sureness}: ${why}` }];
}

function formatLines({ separator, encoding, sheet, columns, takenFrom }: TableProposal): Line[] {
  const units = columns
    .filter(({ unit, asked }) => unit !== null && !asked)
    .map(({ ours, unit }) => [ours, unit]);
  const written = sheet !== null || takenFrom !== null;
  const name = Object.entries(SEPARATOR_NAMES).find(([, mark]) => mark === separator)?.[0];
  return [
    ...(written || separator === ',' || name === undefined
      ? []
      : [{ key: 'separator', value: name, why: 'as its lines have it' }]),
    ...(written || encoding === null
      ? []
      : [{ key: 'encoding', value: encoding, why: 'likely: it is no Unicode, and its names read best so' }]),
    ...(units.length === 0
      ? []
      : [
          {
            key: 'units',
            value: Object.fromEntries(units),
            why: 'as the names of the columns say, or their numbers',
          },
        ]),
  ];
}

function columnLines({ table, header, columns, barred }: TableProposal): Line[] {
  const written = columns.filter(({ asked }) => !asked);
  const places = [...new Set(written.map(({ place }) => place))];
  const named = places.flatMap((place) => {
    const here = written.filter((column) => column.place === place);
    const ours = here.map((column) => column.ours);
    const isList = here.some(({ isRead }) => isRead);
    const key = header[place] === undefined ? placeKey(place) : keyOf(header, place);
    const isOwn = headerName(table, header[place] ?? '', new Map()) === ours[0] && !key.startsWith('#');
    if (isOwn && !isList) return [];
    const why = here
      .map((column) => `${column.sureness}: ${here.length > 1 ? `${column.ours}, ` : ''}${column.why}`)
      .join('; ');
    return [{ key, value: isList ? ours : ours[0], why }];
  });
  const not = barred.map((key) => ({
    key,
    value: '',
    why: 'not read: it has a name of ours and is not that column',
  }));
  return [...named, ...not];
}

function wordLines(words: readonly WordProposal[]): Map<string, Line[]> {
  const lines = new Map<string, Line[]>();
  for (const word of words.filter(isWritten)) {
    const { column, theirs, ours, sureness, why } = word;
    lines.set(column, [
      ...(lines.get(column) ?? []),
      { key: theirs, value: ours, why: `${sureness}: ${why}` },
    ]);
  }
  return lines;
}

/** What site.json has already comes first and holds. */
function merged(own: Line[] | Map<string, Line[]>, before: unknown): Line[] | Map<string, Line[]> {
  if (typeof before !== 'object' || before === null) return own;
  const entries = Object.entries(before);
  if (Array.isArray(own))
    return [...entries.map(kept), ...own.filter(({ key }) => !entries.some(([name]) => alike(name, key)))];
  const all = new Map(own);
  for (const [name, inner] of entries) {
    const there = typeof inner === 'object' && inner !== null ? Object.entries(inner) : [];
    const added = (own.get(name) ?? []).filter(
      ({ key, value }) =>
        !there.some(
          ([other, ours]) =>
            alike(other, key) ||
            (value !== '' &&
              ours === value &&
              name.endsWith('.csv') &&
              columnsOf(name as CsvFile).includes(String(value))),
        ),
    );
    all.set(name, [...there.map(kept), ...added]);
  }
  return all;
}

function alike(one: string, other: string): boolean {
  return one.trim().toLowerCase() === other.trim().toLowerCase();
}

function kept([key, value]: [string, unknown]): Line {
  return { key, value, why: '' };
}

function section(name: string, lines: Line[] | Map<string, Line[]>): string[] {
  if (Array.isArray(lines))
    return lines.length === 0 ? [] : [`  ${JSON.stringify(name)}: ${objectText(lines, 2)}`];
  const inner = [...lines].filter(([, list]) => list.length > 0);
  if (inner.length === 0) return [];
  const parts = inner.map(([key, list]) => `    ${JSON.stringify(key)}: ${objectText(list, 4)}`);
  return [`  ${JSON.stringify(name)}: {\n${parts.join(',\n')}\n  }`];
}

function objectText(lines: readonly Line[], indent: number): string {
  const pad = ' '.repeat(indent);
  const rows = lines.map(({ key, value, why, list }, i) => {
    const comma = i < lines.length - 1 ? ',' : '';
    const reason = why === '' ? '' : ` // ${remark(why)}`;
    const written = list === undefined ? JSON.stringify(value) : listText(list, pad);
    return `${pad}  ${JSON.stringify(key)}: ${written}${comma}${reason}`;
  });
  return `{\n${rows.join('\n')}\n${pad}}`;
}

function indented(text: string, by: number): string {
  return text.replace(/\n/g, `\n${' '.repeat(by)}`);
}

/** One line, whatever a name of the plant holds. */
function remark(text: string): string {
  return text.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ').slice(0, 300);
}
