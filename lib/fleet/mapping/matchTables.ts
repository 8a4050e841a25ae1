/** Which table that lies in the folder is which table of ours. */
import { itemAt } from '../../numeric/columns.js';
import { CSV_COLUMNS, CSV_FILES, type CsvFile, tableName } from '../columnNames.js';
import { assign } from './assign.js';
import { tablesLike } from './dictionary.js';
import { type Joined, whyJoined } from './joinTables.js';
import type { LookedAt } from './lookedAt.js';
import { matchColumns } from './matchColumns.js';
import { plainWord } from './plainWord.js';
import { likest, namesAt, scoresOf } from './scoreColumns.js';
import type { ColumnProposal } from './types.js';

export interface TableMatch {
  table: CsvFile;
  looked: LookedAt;
  columns: ColumnProposal[];
  score: number;
  confidence: number;
  why: string;
}

export interface TableChoice {
  matches: TableMatch[];
  /** Further tables of a kind that belong to one of `matches`. */
  joined: Joined[];
  /** Tables that would have been one of ours as well, if another had not been better, or if a column were there. */
  almost: { looked: LookedAt; table: CsvFile; missing: string[] }[];
}

/** The plant's own names of columns by table, from site.json. */
export type Given = (table: CsvFile) => ReadonlyMap<string, string>;

export function matchTables(looked: readonly LookedAt[], given: Given): TableChoice {
  const all = looked.map((one) => withHistory(CSV_FILES.map((table) => matchOf(one, table, given(table)))));
  const chosen = assign(
    all.map((row) => row.map(({ missing, match }) => (missing.length > 0 ? 0 : match.score))),
  );
  const matches: TableMatch[] = [];
  const left: Candidate[] = [];
  chosen.partner.forEach((column, i) => {
    const row = itemAt(all, i);
    const best = [...row].sort((a, b) => b.match.score - a.match.score)[0];
    const given = row[column]?.match;
    // One that is much more another of a kind that is taken is not made one of this.
    if (given !== undefined && !isMuchMore(best, given)) matches.push(given);
    else if (
      best !== undefined &&
      best.match.score > 1.2 &&
      best.missing.length < needed(best.match.table).length
    )
      left.push(best);
  });
  const joined: Joined[] = [];
  const almost: TableChoice['almost'] = [];
  for (const { match, missing } of left) {
    const first = matches.find(({ table }) => table === match.table);
    const why = first === undefined || missing.length > 0 ? null : whyJoined(first, match);
    if (why === null) almost.push({ looked: match.looked, table: match.table, missing });
    else joined.push({ match, why });
  }
  return {
    matches: matches.sort((a, b) => CSV_FILES.indexOf(a.table) - CSV_FILES.indexOf(b.table)),
    joined,
    almost,
  };
}

const MUCH_MORE = 0.8;

function isMuchMore(best: Candidate | undefined, given: TableMatch): boolean {
  return (
    best !== undefined &&
    best.missing.length === 0 &&
    best.match.table !== given.table &&
    best.match.score - given.score > MUCH_MORE
  );
}

/** What speaks plainly for one shape of history takes from the other. */
const OTHER_SHAPE = 2;

/**
 * A table of lives has a day fitted and a day removed in each row; one of work orders has one day, and the kind of work beside it.
 * Lives whose two days are named so stay lives; else known words for work make work orders.
 */
function withHistory(row: Candidate[]): Candidate[] {
  const find = (table: CsvFile) => row.find(({ match }) => match.table === table);
  const lives = find('lives.csv');
  const orders = find('work-orders.csv');
  if (lives === undefined || orders === undefined || orders.missing.length > 0) return row;
  const other = hasBothDays(lives.match) ? orders : hasWork(orders.match) ? lives : null;
  if (other === null) return row;
  const match = { ...other.match, score: other.match.score - OTHER_SHAPE };
  return row.map((one) => (one === other ? { ...other, match } : one));
}

function hasBothDays({ columns, looked }: TableMatch): boolean {
  return ['fitted', 'removed'].every((ours) => {
    const found = columns.find((column) => column.ours === ours);
    if (found === undefined) return false;
    return found.confidence === 1 || (likest(namesAt(looked, found.looked), ours)?.score ?? 0) >= 0.75;
  });
}

function hasWork({ columns, looked }: TableMatch): boolean {
  const work = columns.find(({ ours }) => ours === 'work');
  if (work === undefined || work.confidence < 0.6) return false;
  return work.confidence === 1 || itemAt(looked.profiles, work.place).words.work >= 0.3;
}

interface Candidate {
  match: TableMatch;
  missing: string[];
}

function matchOf(looked: LookedAt, table: CsvFile, given: ReadonlyMap<string, string>): Candidate {
  const columns = matchColumns(looked, table, scoresOf(looked, table, given));
  const found = new Set(columns.map(({ ours }) => ours));
  const missing = missingOf(table, found);
  const named = nameHint(looked, table);
  const fit = columns.reduce((sum, { confidence }) => sum + confidence ** 2, 0);
  const score =
    fit + 1.5 * named + shapeOf(looked, table, columns) + 0.1 * Math.log10(looked.source.rows.length);
  const sure = needed(table).map((column) => columns.find(({ ours }) => ours === column)?.confidence ?? 0);
  const confidence = Math.min(
    0.98,
    Math.min(...sure) * 0.6 + 0.2 * Math.min(1, fit / 4) + 0.2 * Math.min(1, named) + 0.1,
  );
  return {
    match: { table, looked, columns, score, confidence, why: whyOf(columns.length, named, looked) },
    missing,
  };
}

function needed(table: CsvFile): readonly string[] {
  return CSV_COLUMNS[table].needed;
}

/** One column of each list must be there, beside those that are needed by name, for the table to make sense. */
const ONE_OF: Partial<Record<CsvFile, readonly string[]>> = {
  'lives.csv': ['fitted', 'removed'],
  'readings.csv': ['strokes', 'steam_cycles', 'hot_cleans'],
  'orders.csv': ['placed', 'due', 'received'],
};

function missingOf(table: CsvFile, found: ReadonlySet<string>): string[] {
  const missing = needed(table).filter((column) => !found.has(column));
  const oneOf = ONE_OF[table] ?? [];
  return oneOf.length > 0 && !oneOf.some((column) => found.has(column))
    ? [...missing, oneOf.join(' or ')]
    : missing;
}

/** How much the name of the file or sheet speaks for the table, 0 to 1; our own name decides. */
function nameHint({ source }: LookedAt, table: CsvFile): number {
  const names = [source.sheet, source.file.replace(/(\.[a-z]{2,4}|\.gz)+$/i, '').replace(/^.*\//, '')];
  const own = plainWord(tableName(table)).joined;
  if (names.some((name) => name !== null && plainWord(name).joined === own)) return OUR_OWN;
  return Math.max(...names.map((name) => (name === null ? 0 : (tablesLike(name).get(table)?.score ?? 0))));
}

/** A table that has our own name is read by it. */
const OUR_OWN = 10;

/** A position stands once among positions and often among lives. */
function shapeOf({ profiles }: LookedAt, table: CsvFile, columns: readonly ColumnProposal[]): number {
  const tag = columns.find(({ ours }) => ours === 'position');
  const profile = tag === undefined ? undefined : profiles[tag.place];
  if (profile === undefined || profile.filled === 0) return 0;
  const once = profile.texts.size >= 0.95 * profile.filled;
  if (table === 'positions.csv') return once ? 0.5 : -1;
  return OFTEN.includes(table) ? (once ? -0.2 : 0.5) : 0;
}

/** Tables that have many rows of a position. */
const OFTEN: readonly CsvFile[] = ['lives.csv', 'work-orders.csv', 'readings.csv'];

function whyOf(columns: number, named: number, { source }: LookedAt): string {
  const name = source.sheet === null ? 'the file' : 'the file or sheet';
  const says =
    named >= OUR_OWN ? `${name} has our name` : named >= 0.5 ? `the name of ${name} speaks for it` : null;
  const fits = `${columns} of its columns are known`;
  return says === null ? fits : `${says}, and ${fits}`;
}
