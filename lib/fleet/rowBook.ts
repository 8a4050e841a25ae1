/** Keeps the books of reading: how many rows came in, which were set aside, and every problem found. */
import type { Done, Findings, Problem, RowCount, RuleExample } from '../findings.js';
import type { Fault } from './cell.js';
import { type CodeTally, countRules, MOST_EXAMPLES } from './cleaning/countRules.js';
import type { Cleaning } from './cleaning/rules.js';
import { CSV_FILES, type CsvFile } from './columnNames.js';

/** Problems of one code and file that are listed one by one; further ones are counted in one line. */
export const MOST_LISTED = 5_000;
/** Longest piece of a cell that a problem repeats. */
const MOST_LETTERS = 120;

/** A small mend that is said once for a column. */
export interface Tidied {
  code: string;
  /** The sentence that begins with '3 cells were'. */
  says(cells: string): string;
  todo: string;
}

const SPELLING: Tidied = {
  code: 'tidied',
  says: (cells) => `${cells} read after spaces, capitals or spelling were evened out.`,
  todo: 'Nothing, if each means what it says without them.',
};

/** The book of one file. Rows count data rows from 1. */
export interface RowBook {
  readonly file: string;
  /** Counts a data row. */
  rowIn(): void;
  /** Counts a row as set aside and says why. Call it at most once a row. */
  setAside(row: number, column: string | null, value: string | null, fault: Fault): void;
  /** Says that a value of a row was put right or left out, while the row is used. */
  mend(row: number | null, column: string | null, value: string | null, fault: Fault): void;
  /** Asks about something that is used as it stands, here and in so many places altogether. */
  ask(row: number | null, column: string | null, value: string | null, fault: Fault, times?: number): void;
  /** Counts a small mend that is said once per column, such as spaces taken off (unless another is given). */
  tidy(row: number, column: string, value: string, what?: Tidied): void;
  /** Notes on a file or setting that is left out as a whole; no row is counted. */
  leaveOut(column: string | null, value: string | null, fault: Fault): void;
  count(): RowCount;
  problems(): Problem[];
  /** Where a row stands, in words, for tables that are joined from several files. */
  namePlaces(of: (row: number) => string): void;
  /** How often each code was met, with the first examples. */
  tallies(): CodeTally[];
}

interface Tally {
  what: Tidied;
  column: string;
  row: number;
  value: string;
  times: number;
}

export function rowBook(file: string): RowBook {
  const listed = new Map<string, Problem[]>();
  const beyond = new Map<string, number>();
  const tidied = new Map<string, Tally>();
  const met = new Map<string, CodeTally>();
  let rowsIn = 0;
  let rowsSetAside = 0;
  let placeOf: ((row: number) => string) | null = null;

  function placed(problem: Problem): Problem {
    if (placeOf === null || problem.row === null) return problem;
    return { ...problem, text: `${placeOf(problem.row)}: ${problem.text}` };
  }

  function add(
    done: Done,
    row: number | null,
    column: string | null,
    value: string | null,
    fault: Fault,
    times = 1,
  ): void {
    meet(met, { file, row, column, value, done }, fault.code, times);
    const key = `${fault.code} ${done}`;
    const list = listed.get(key) ?? [];
    listed.set(key, list);
    if (list.length >= MOST_LISTED) beyond.set(key, (beyond.get(key) ?? 0) + 1);
    else list.push({ ...fault, file, row, column, value: value === null ? null : shortened(value), done });
  }

  return {
    file,
    rowIn: () => {
      rowsIn += 1;
    },
    setAside: (row, column, value, fault) => {
      rowsSetAside += 1;
      add('set aside', row, column, value, fault);
    },
    mend: (row, column, value, fault) => add('mended', row, column, value, fault),
    ask: (row, column, value, fault, times) => add('used', row, column, value, fault, times),
    leaveOut: (column, value, fault) => add('set aside', null, column, value, fault),
    tidy: (row, column, value, what = SPELLING) => {
      meet(met, { file, row, column, value, done: 'mended' }, what.code, 1);
      const key = what === SPELLING ? column : `${column} ${what.code}`;
      const tally = tidied.get(key);
      if (tally === undefined) tidied.set(key, { what, column, row, value, times: 1 });
      else tally.times += 1;
    },
    count: () => ({ file, rowsIn, rowsUsed: rowsIn - rowsSetAside, rowsSetAside }),
    problems: () =>
      [
        ...[...listed.values()].flat().sort((a, b) => (a.row ?? 0) - (b.row ?? 0)),
        ...[...beyond].flatMap(([key, times]) => beyondProblems(listed.get(key)?.[0], times)),
        ...[...tidied.values()].map((tally) => tidyProblem(file, tally)),
      ].map(placed),
    namePlaces: (of) => {
      placeOf = of;
    },
    tallies: () => [...met.values()],
  };
}

function meet(met: Map<string, CodeTally>, place: RuleExample, code: string, times: number): void {
  const key = `${code} ${place.done}`;
  let tally = met.get(key);
  if (tally === undefined) {
    tally = { code, done: place.done, times: 0, examples: [] };
    met.set(key, tally);
  }
  tally.times += times;
  if (tally.examples.length >= MOST_EXAMPLES) return;
  tally.examples.push({ ...place, value: place.value === null ? null : shortened(place.value) });
}

function beyondProblems(first: Problem | undefined, times: number): Problem[] {
  if (first === undefined) return [];
  const text = `${times} more rows have the same problem; the first ${MOST_LISTED} are listed. ${first.text}`;
  return [{ ...first, row: null, value: null, text }];
}

function tidyProblem(file: string, { what, column, row, value, times }: Tally): Problem {
  return {
    code: what.code,
    file,
    row,
    column,
    value: shortened(value),
    done: 'mended',
    text: what.says(times === 1 ? '1 cell was' : `${times} cells were`),
    todo: what.todo,
  };
}

function shortened(value: string): string {
  const letters = [...value.slice(0, 2 * MOST_LETTERS)];
  return letters.length <= MOST_LETTERS ? value : `${letters.slice(0, MOST_LETTERS).join('')}…`;
}

/** The books of all files as one: totals are sums over the files. */
export function findingsOf(books: readonly RowBook[], livesBuilt: number, cleaning: Cleaning): Findings {
  const counted = books.map((book) => book.count());
  const files = counted.filter(({ file }) => CSV_FILES.includes(file as CsvFile));
  const total = (of: (count: RowCount) => number): number => files.reduce((sum, count) => sum + of(count), 0);
  return {
    rowsIn: total((count) => count.rowsIn),
    rowsUsed: total((count) => count.rowsUsed),
    rowsSetAside: total((count) => count.rowsSetAside),
    files,
    livesBuilt,
    problems: books.flatMap((book) => book.problems()),
    rules: countRules(
      books.flatMap((book) => book.tallies()),
      cleaning,
    ),
  };
}
