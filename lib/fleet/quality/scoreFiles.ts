/** How good each table of a folder is, as a score from 0 to 100 that says what it is made of. */
import type { RowCount } from '../../findings.js';
import { CLEANING_RULES } from '../cleaning/rules.js';
import { CSV_COLUMNS, type CsvFile } from '../columnNames.js';
import type { FleetRecords } from '../read.js';
import { type FilledCells, USEFUL } from './useful.js';

/**
 * What each part weighs in a score. Our judgement: a row that is set aside is lost whole; a missing column and an empty cell
 * lose a part of it; what a cleaning rule asks about is usually used all the same.
 */
export const SCORE_WEIGHTS = { rows: 50, columns: 20, cells: 20, rules: 10 } as const;

export interface FileScore extends RowCount {
  /** 0 to 100, whole; 0 for a table without a row. */
  score: number;
  /** Columns, needed and useful, that are there, of all such; the names of those that are not. */
  columnsThere: number;
  columnsOf: number;
  columnsMissing: string[];
  /** By column; only rows that are used count. */
  cells: FilledCells[];
  /** Times that a cleaning rule found something in the file. */
  ruleHits: number;
}

const RULE_CODES: ReadonlySet<string> = new Set(CLEANING_RULES.flatMap(({ codes }) => codes));

const OVERLAP = 'row-in-two-files';

/** Every table that was read, in the order of the documentation. */
export function scoreFiles(records: FleetRecords): FileScore[] {
  return records.fleet.findings.files.map((count) => scoreFile(records, count));
}

function scoreFile({ fleet, columns, found }: FleetRecords, count: RowCount): FileScore {
  const file = count.file as CsvFile;
  const there = columns.get(file) ?? [];
  const wanted = [...CSV_COLUMNS[file].needed, ...USEFUL[file].columns];
  const missing = wanted.filter((names) => !names.split('|').some((name) => there.includes(name)));
  const cells = USEFUL[file].cells(fleet);
  const times = (is: (code: string) => boolean): number =>
    found
      .filter((tally) => tally.file === file && is(tally.code))
      .reduce((sum, tally) => sum + tally.times, 0);
  const ruleHits = times((code) => RULE_CODES.has(code) && code !== OVERLAP);
  // Exports that overlap are no fault: what two of them have counts once.
  const once = { ...count, rowsIn: count.rowsIn - times((code) => code === OVERLAP) };
  return {
    ...count,
    score: scoreOf(once, 1 - missing.length / wanted.length, filledShare(cells), ruleHits),
    columnsThere: wanted.length - missing.length,
    columnsOf: wanted.length,
    columnsMissing: missing.map((names) => names.split('|').join(' or ')),
    cells: cells.filter(({ of }) => of > 0),
    ruleHits,
  };
}

/** Null where no cell counts. */
function filledShare(cells: readonly FilledCells[]): number | null {
  const of = cells.reduce((sum, cell) => sum + cell.of, 0);
  return of === 0 ? null : cells.reduce((sum, cell) => sum + cell.filled, 0) / of;
}

/** The mean of the parts by their weights; cells that cannot be counted leave their weight to the others. */
function scoreOf(
  { rowsIn, rowsUsed }: RowCount,
  columns: number,
  cells: number | null,
  ruleHits: number,
): number {
  if (rowsIn === 0) return 0;
  const { rows, columns: ofColumns, cells: ofCells, rules } = SCORE_WEIGHTS;
  const parts: [weight: number, share: number][] = [
    [rows, rowsUsed / rowsIn],
    [ofColumns, columns],
    [cells === null ? 0 : ofCells, cells ?? 0],
    [rules, 1 - Math.min(1, ruleHits / rowsIn)],
  ];
  const weight = parts.reduce((sum, [of]) => sum + of, 0);
  const sum = parts.reduce((total, [of, share]) => total + of * share, 0);
  // 100 is said only of a table with no fault at all.
  return Math.floor((100 * sum) / weight + 1e-9);
}
