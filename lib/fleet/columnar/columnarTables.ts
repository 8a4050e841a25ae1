/** Tables of a folder that are kept by columns: Parquet and Arrow. Their readers are loaded where there is such a file, and only there. */
import type { CodedTable } from '../coded/types.js';
import { type CsvFile, tableName } from '../columnNames.js';
import type { ShareTold } from '../stream/byteSource.js';

export const COLUMNAR = /\.(parquet|arrow|feather)$/i;

/** The endings, the one that is read first where a folder has the table in several. */
const ENDINGS = ['.parquet', '.arrow', '.feather'];

/** The file kept by columns that holds a table; null where there is none. */
export function columnarName(file: CsvFile, isThere: (name: string) => boolean): string | null {
  return ENDINGS.map((ending) => `${tableName(file)}${ending}`).find(isThere) ?? null;
}

/**
 * By the name of the file.
 * @throws InputError where one cannot be read, or holds or unpacks to more than `mostBytes`
 */
export async function columnarTables(
  files: ReadonlyMap<string, Uint8Array>,
  mostBytes: number,
  told: (file: string, share: number) => void = () => undefined,
): Promise<Map<string, CodedTable>> {
  const tables = new Map<string, CodedTable>();
  for (const [name, bytes] of files) {
    if (COLUMNAR.test(name)) {
      const toldShare = (share: number): void => told(name, share);
      tables.set(name, await columnarTable(name, bytes, mostBytes, toldShare));
    }
  }
  return tables;
}

async function columnarTable(
  file: string,
  bytes: Uint8Array,
  mostBytes: number,
  told: ShareTold,
): Promise<CodedTable> {
  if (/\.parquet$/i.test(file)) {
    const { parquetTable } = await import('./parquetFile.js');
    return parquetTable(file, bytes, mostBytes, told);
  }
  const { arrowTable } = await import('./arrowFile.js');
  return arrowTable(file, bytes, mostBytes, told);
}
