/** What is proposed for a folder of exports, for the screen: tables, columns with reasons, words, what to answer. */
import { columnsOf, SITE_FILE } from '../fleet/columnNames.js';
import type { MappedFolder } from '../fleet/mapping/mapFolder.js';
import { isWritten, type TableProposal, type WordProposal } from '../fleet/mapping/types.js';
import { amount, count } from '../numeric/words.js';

/** Unused columns and words that are named one by one. */
const MOST_NAMED = 12;

export function mapText({ proposal, reading, unsaid }: MappedFolder): string {
  const { tables, words, aliases, questions, unused } = proposal;
  const written = words.filter(isWritten);
  return [
    ...tables.flatMap((table) => [table, ...(table.takenFrom === null ? table.more : [])].map(tableText)),
    ...(written.length === 0 ? [] : [wordsText(written)]),
    ...(aliases.length === 0
      ? []
      : [
          `TAGS  ${count(aliases.length, 'tag is', 'tags are')} a position written otherwise: ${named(aliases.map(({ theirs, ours }) => `${shown(theirs)} is ${shown(ours)}`))}.\n`,
        ]),
    ...(unused.length === 0 ? [] : [`NOT USED\n${unused.map((text) => `  ${plain(text)}\n`).join('')}`]),
    questions.length === 0 ? 'TO ANSWER  Nothing.\n' : questionsText(questions),
    readText(reading, questions.length > 0),
    ...(unsaid.length === 0 ? [] : [unsaidText(unsaid)]),
  ].join('\n');
}

/** The last lines: where the settings are and what to do next. */
export function writtenText({ name, reading, proposal }: MappedFolder, path: string): string {
  const folder = path.slice(0, path.length - name.length - 1);
  const first =
    name === SITE_FILE
      ? `Wrote ${path}.`
      : `Wrote ${path}; your site.json stays as it is. Compare the two, and give the new one its name.`;
  const ready = reading.refused === null && proposal.questions.length === 0;
  const next = ready ? 'Look through it, then run:' : 'Answer what is asked above in it, then run:';
  return `${first} ${next} npm run plan -- ${folder}\n`;
}

function tableText(table: TableProposal): string {
  const taken = table.takenFrom !== null;
  const where = taken
    ? `taken from ${table.takenFrom}: each position that it names`
    : `${shown(table.file)}${table.sheet === null ? '' : `, sheet "${shown(table.sheet)}"`}, header in row ${table.headerRow}, ${amount(table.rows, 9)} rows`;
  const own = table.columns.filter(
    ({ ours, theirs, asked }) => ours === theirs.trim().toLowerCase() && !asked,
  );
  const others = table.columns.filter((column) => !own.includes(column));
  const same =
    own.length === 0
      ? ''
      : `  ${count(own.length, 'column has', 'columns have')} our names: ${own.map(({ ours }) => ours).join(', ')}.\n`;
  const rows = others.map(({ ours, theirs, place, sureness, confidence, asked, why, unit }) => [
    theirs.trim() === '' ? `(column ${place + 1})` : shown(theirs),
    ours,
    asked ? 'asked' : sureness,
    confidence.toFixed(2),
    plain(`${why}${unit === null ? '' : `; in ${unit}`}`),
  ]);
  const left = taken || table.left.length === 0 ? '' : `  Not read: ${named(table.left.map(shown))}.\n`;
  const lacking = columnsOf(table.table).filter(
    (ours) => !table.columns.some((column) => column.ours === ours),
  );
  const open =
    lacking.length === 0 || table.left.length === 0 ? '' : `  Of ours none found for: ${named(lacking)}.\n`;
  return `${table.table.toUpperCase()}  ${where} (${table.sureness}: ${plain(table.why)})\n${rows.length === 0 ? '' : aligned([HEADS, ...rows])}${same}${left}${open}`;
}

const HEADS = ['your column', 'is our', 'how sure', '0 to 1', 'because'];

function wordsText(words: readonly WordProposal[]): string {
  const rows = words.map(({ column, theirs, ours, rows: times, sureness, why }) => [
    column,
    shown(theirs),
    ours ?? '',
    String(times),
    sureness,
    plain(why),
  ]);
  return `WORDS\n${aligned([['column', 'your word', 'is our', 'rows', 'how sure', 'because'], ...rows])}`;
}

function questionsText(questions: MappedFolder['proposal']['questions']): string {
  const lines = questions.map(({ text, answer }, i) => {
    const how = answer === null ? '' : `\n     Answer in site.json, for example: ${plain(answer)}`;
    return `  ${i + 1}. ${plain(text)}${how}\n`;
  });
  return `TO ANSWER\n${lines.join('')}`;
}

function readText({ findings, refused }: MappedFolder['reading'], asks: boolean): string {
  if (findings === null) {
    const why = asks
      ? 'It cannot be planned before that is answered.'
      : `It cannot be planned yet. ${plain(refused ?? '')}`;
    return `READ WITH THIS  ${why}\n`;
  }
  const files = findings.files.map(
    ({ file, rowsIn, rowsUsed, rowsSetAside }) =>
      `  ${file}: ${amount(rowsIn, 9)} rows = ${amount(rowsUsed, 9)} used + ${amount(rowsSetAside, 9)} set aside\n`,
  );
  const twice = new Map<string, number>();
  for (const { code, file } of findings.problems)
    if (code === 'row-in-two-files') twice.set(file, (twice.get(file) ?? 0) + 1);
  const overlaps = [...twice].map(
    ([file, rows]) => `  ${file}: ${count(rows, 'row is', 'rows are')} in two of the files and count once.\n`,
  );
  const notes = findings.problems
    .filter(({ code }) => FOR_POSITIONS.includes(code))
    .slice(0, MOST_NOTES)
    .map(({ text, todo }) => `  ${plain(text)} ${plain(todo)}\n`);
  return `READ WITH THIS  It can be planned; the report names each row that is set aside.\n${[...files, ...overlaps, ...notes].join('')}`;
}

const UNSAID: Record<string, string> = {
  money: 'without prices of work and of leaks no interval can be weighed, and each stays as it is today',
  data_until: 'the latest day in the history stands in for the day of the extract',
  records_from:
    'every life counts as watched since it was fitted; if records began later, lives look longer than they are',
};

/** What no export says and a plan needs. */
function unsaidText(settings: readonly string[]): string {
  const lines = settings.map((name) => `  "${name}"  ${UNSAID[name] ?? ''}.\n`);
  return `STILL TO SAY  No export says these; add them to site.json (see the README).\n${lines.join('')}`;
}

/** What is found when positions are taken from the history. */
const FOR_POSITIONS = ['position-contradicts', 'position-once'];
const MOST_NOTES = 5;

function named(texts: readonly string[]): string {
  const more = texts.length - MOST_NAMED;
  const list = texts.slice(0, MOST_NAMED).join(', ');
  return more > 0 ? `${list} and ${more} more` : list;
}

/** A text of the plant on one line, cut where it is long. */
function shown(text: string): string {
  const one = plain(text).trim();
  return one.length > 40 ? `${one.slice(0, 39)}…` : one;
}

/** Nothing in a name may move the cursor or end the line. */
function plain(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, ' ');
}

function aligned(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((cells) => cells[i]?.length ?? 0)));
  const line = (cells: readonly string[]): string =>
    `  ${cells.map((cell, i) => (i === cells.length - 1 ? cell : cell.padEnd(widths[i] ?? 0))).join('  ')}\n`;
  return rows.map(line).join('');
}
