/** Writes the text of a CSV file as Parquet or Arrow, each column with the type that its cells have. */
import * as arrow from '@uwdata/flechette';
import { parse } from 'csv-parse/sync';
import { type ColumnSource, parquetWriteBuffer } from 'hyparquet-writer';
import { dayFromText, MS_PER_DAY } from '../../../lib/numeric/day.js';
import { type Codec, PACKERS } from './packers.js';

export interface TextColumn {
  name: string;
  /** Null for an empty cell. */
  cells: (string | null)[];
}

export function columnsOfCsv(text: string): TextColumn[] {
  const [header = [], ...rows] = parse(text, { relax_column_count: true }) as string[][];
  return header.map((name, i) => ({ name, cells: rows.map((row) => row[i] || null) }));
}

type Kind = 'date' | 'whole' | 'real' | 'text';

function kindOf({ cells }: TextColumn): Kind {
  const filled = cells.filter((cell) => cell !== null);
  if (filled.length === 0) return 'text';
  if (filled.every((cell) => dayFromText(cell) !== null)) return 'date';
  if (filled.every((cell) => /^-?(0|[1-9]\d{0,8})$/.test(cell))) return 'whole';
  return filled.every((cell) => /^-?(0|[1-9]\d{0,8})(\.\d*[1-9])?$/.test(cell)) ? 'real' : 'text';
}

/** Packed by Snappy unless another way is given. */
export function parquetOf(
  columns: readonly TextColumn[],
  typed: boolean,
  codec: Codec = 'SNAPPY',
): Uint8Array {
  const columnData = columns.map((column): ColumnSource => {
    const { name, cells } = column;
    const kind = typed ? kindOf(column) : 'text';
    if (kind === 'text') return { name, data: cells, type: 'STRING' };
    if (kind === 'date') {
      return { name, data: cells.map((cell) => (cell === null ? null : dateOf(cell))), type: 'TIMESTAMP' };
    }
    const numbers = cells.map((cell) => (cell === null ? null : Number(cell)));
    return { name, data: numbers, type: kind === 'whole' ? 'INT32' : 'DOUBLE' };
  });
  return new Uint8Array(parquetWriteBuffer({ columnData, rowGroupSize: 1000, codec, compressors: PACKERS }));
}

export function arrowOf(columns: readonly TextColumn[], typed: boolean): Uint8Array {
  const table = Object.fromEntries(
    columns.map((column) => {
      const kind = typed ? kindOf(column) : 'text';
      return [column.name, arrow.columnFromArray(column.cells.map(VALUES[kind]), TYPES[kind]())];
    }),
  );
  return arrow.tableToIPC(arrow.tableFromColumns(table), { format: 'file' }) as Uint8Array;
}

const TYPES = {
  date: () => arrow.dateDay(),
  whole: () => arrow.int64(),
  real: () => arrow.float64(),
  text: () => arrow.dictionary(arrow.utf8(), arrow.int32()),
};

const VALUES: Record<Kind, (cell: string | null) => unknown> = {
  date: (cell) => (cell === null ? null : dateOf(cell)),
  whole: (cell) => (cell === null ? null : BigInt(cell)),
  real: (cell) => (cell === null ? null : Number(cell)),
  text: (cell) => cell,
};

function dateOf(text: string): Date {
  return new Date((dayFromText(text) ?? Number.NaN) * MS_PER_DAY);
}
