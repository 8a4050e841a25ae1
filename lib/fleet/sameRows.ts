/** Rows that two files of one table both have. Within one file nothing is said of rows that are alike: other rules look at them. */
import type { CsvFile } from './columnNames.js';
import type { CsvRow } from './csvTable.js';

/** A row of one file, its texts by column of the joined table; null where the file has no such column. */
export interface Known {
  part: number;
  /** Its number in the joined table. */
  row: number;
  inner: CsvRow;
  texts: readonly (string | null)[];
}

export interface Copies {
  /** The row that is used in place of a row, and why; undefined where the row is used itself. */
  copyOf(row: number): { of: number; kind: 'same' | 'removed later' } | undefined;
  /** A copy of a used row that may have columns which it lacks. */
  twinOf(row: number): { row: CsvRow; part: number } | undefined;
}

/** Of these at least one must be in both files, or rows are not told apart by day. */
const DAYS: Partial<Record<CsvFile, readonly string[]>> = {
  'lives.csv': ['fitted', 'removed'],
  'orders.csv': ['placed', 'due', 'received'],
};
/** When a row was written down says nothing of what it says. */
const NOT_COMPARED = ['recorded'];
/** What is known of a life only when it has ended. */
const AT_THE_END = ['removed', 'reason', 'finding', 'last_tight'];

export function copiesIn(file: CsvFile, columns: readonly string[], rows: readonly Known[]): Copies {
  const copies = new Map<number, { of: number; kind: 'same' | 'removed later' }>();
  const twins = new Map<number, Known>();
  const used = sameInTwo(file, columns, rows, (copy, of) => {
    copies.set(copy.row, { of: of.row, kind: 'same' });
    if (!twins.has(of.row)) twins.set(of.row, copy);
  });
  if (file === 'lives.csv')
    endedLater(columns, used, (open, ended) =>
      copies.set(open.row, { of: ended.row, kind: 'removed later' }),
    );
  return {
    copyOf: (row) => copies.get(row),
    twinOf: (row) => {
      const twin = twins.get(row);
      return twin === undefined ? undefined : { row: twin.inner, part: twin.part };
    },
  };
}

/** Calls back for each row that an earlier file has too, and returns the others. A row stands for one copy in each later file. */
function sameInTwo(
  file: CsvFile,
  columns: readonly string[],
  rows: readonly Known[],
  onCopy: (copy: Known, of: Known) => void,
): Known[] {
  const days = (DAYS[file] ?? []).map((column) => columns.indexOf(column)).filter((c) => c >= 0);
  const compared = columns.flatMap((column, c) => (NOT_COMPARED.includes(column) ? [] : [c]));
  const keys = compared.filter((c) => inAll(rows, c));
  const byKey = new Map<string, { row: Known; in: Set<number> }[]>();
  const used: Known[] = [];
  for (const row of rows) {
    const key = keys.map((c) => row.texts[c] ?? '').join('\n');
    const alike = byKey.get(key) ?? [];
    byKey.set(key, alike);
    const first = alike.find(
      (one) => !one.in.has(row.part) && saysTheSame(one.row, row, compared) && share(one.row, row, days),
    );
    if (first === undefined) {
      alike.push({ row, in: new Set([row.part]) });
      used.push(row);
    } else {
      first.in.add(row.part);
      onCopy(row, first.row);
    }
  }
  return used;
}

/** Whether every file has a column. */
function inAll(rows: readonly Known[], column: number): boolean {
  return rows.every(({ texts }) => texts[column] !== null);
}

/** Whether all columns that both have are the same. */
function saysTheSame(a: Known, b: Known, compared: readonly number[]): boolean {
  return compared.every((c) => {
    const [one, other] = [a.texts[c] ?? null, b.texts[c] ?? null];
    return one === null || other === null || one === other;
  });
}

function share(a: Known, b: Known, days: readonly number[]): boolean {
  return days.length === 0 || days.some((c) => a.texts[c] !== null && b.texts[c] !== null);
}

/** A life in place in one file whose removal another file has. */
function endedLater(
  columns: readonly string[],
  rows: readonly Known[],
  onOpen: (open: Known, ended: Known) => void,
): void {
  const [position, fitted, removed] = ['position', 'fitted', 'removed'].map((name) => columns.indexOf(name));
  if (position === undefined || fitted === undefined || removed === undefined) return;
  if (fitted < 0 || removed < 0) return;
  const compared = columns.flatMap((column, c) =>
    [...AT_THE_END, ...NOT_COMPARED].includes(column) ? [] : [c],
  );
  const keyOf = ({ texts }: Known): string => `${texts[position] ?? ''}\n${texts[fitted] ?? ''}`;
  const ended = new Map<string, Known[]>();
  for (const row of rows) {
    if ((row.texts[removed] ?? '') === '') continue;
    const alike = ended.get(keyOf(row)) ?? [];
    ended.set(keyOf(row), alike);
    alike.push(row);
  }
  for (const row of rows) {
    if (row.texts[removed] !== '' || row.texts[fitted] === null) continue;
    const later = (ended.get(keyOf(row)) ?? []).find(
      (one) => one.part !== row.part && saysTheSame(one, row, compared),
    );
    if (later !== undefined) onOpen(row, later);
  }
}
