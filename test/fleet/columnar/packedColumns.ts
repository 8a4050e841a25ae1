/** A table of some thousand lives, and where it lies as a Parquet file that the reference program of Zstandard packed. */
import type { ColumnSource } from 'hyparquet-writer';

export const ZSTD_FILE = 'test/fixtures/parquet/zstd.parquet';
export const ROWS = 4000;

const FIRST_DAY = Date.UTC(2020, 0, 1);
const WORDS = ['leak', 'scheduled', 'schedule moved', 'found torn'];

/** Texts by dictionary and plain, days, numbers and wholes, some of them empty. */
export function packedColumns(): { columnData: ColumnSource[]; rowGroupSize: number } {
  const each = <T>(value: (i: number) => T): T[] => Array.from({ length: ROWS }, (_, i) => value(i));
  const day = (i: number): Date => new Date(FIRST_DAY + (i % 1500) * 86_400_000);
  const columnData: ColumnSource[] = [
    { name: 'position', data: each((i) => `V${i % 700}`), type: 'STRING' },
    {
      name: 'notes',
      data: each((i) => `${WORDS[(i * i) % 4]} ${i % 89}`),
      type: 'STRING',
      encoding: 'PLAIN',
    },
    {
      name: 'removed',
      data: each((i) => (i % 5 === 0 ? null : day(i))),
      type: 'TIMESTAMP',
      encoding: 'PLAIN',
    },
    {
      name: 'size',
      data: each((i) => (i % 7 === 0 ? null : 8 + (i % 3) / 4)),
      type: 'DOUBLE',
      encoding: 'PLAIN',
    },
    { name: 'strokes', data: each((i) => i * 37), type: 'INT32', encoding: 'DELTA_BINARY_PACKED' },
  ];
  return { columnData, rowGroupSize: 1500 };
}
