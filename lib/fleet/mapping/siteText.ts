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
    formats: new Map(proposal.tables.map((table) => [table.table, formatLines(table)])),
    columns: new Map(proposal.tables.map((table) => [table.table, columnLines(table)])),
    values: wordLines(proposal.words),
    aliases: proposal.aliases.map(({ theirs, ours, why }) => ({ key: theirs, value: ours, why })),
  };
}

function fileLine({ table, file, sheet, headerRow, takenFrom, sureness, why }: TableProposal): Line[] {
  if (takenFrom !== null) return [{ key: table, value: { from: takenFrom }, why: `${sureness}: ${why}` }];
  if (sheet === null && headerRow === 1 && (file === table || file === `${table}.gz`)) return [];
  const place = {
    file,
    ...(sheet === null ? {} : { sheet }),
    ...(headerRow === 1 ? {} : { header_row: headerRow }),
  };
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
  const rows = lines.map(({ key, value, why }, i) => {
    const comma = i < lines.length - 1 ? ',' : '';
    const reason = why === '' ? '' : ` // ${remark(why)}`;
    return `${pad}  ${JSON.stringify(key)}: ${JSON.stringify(value)}${comma}${reason}`;
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
