/** The bytes of a fleet folder, read once. */
import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { InputError } from '../errors.js';
import type { CodedTable } from './coded/types.js';
import { COLUMNAR, columnarName, columnarTables } from './columnar/columnarTables.js';
import { CSV_FILES, type CsvFile, missingNeeded, orOrders, SITE_FILE, tableName } from './columnNames.js';
import { MOST_BYTES, megabytes } from './csvText.js';
import { readSite } from './settings.js';
import { addToHash, type ByteSource, fileBytes, HELD_BYTES, newHash } from './stream/byteSource.js';
import { filesOf, readPlaces } from './tablePlaces.js';
import { WORKBOOK } from './workbook/sheetTables.js';

/** Told how much of a file has been read, from 0 to 1. */
export type ReadingTold = (file: string, share: number) => void;

export interface FolderBytes {
  /** By name; a packed table has the name of the table in it. Workbooks are among them, and files that site.json names, by their path. */
  files: ReadonlyMap<string, Uint8Array>;
  /** SHA-256 over the bytes of the files, one after the other in name order, in hexadecimal. */
  hash: string;
  /** Other tables in the folder, which are not read. */
  unread: string[];
  /** Files that are too large to be held, by name as in `files`, among which they are not. */
  large?: ReadonlyMap<string, ByteSource>;
  /** The files that are kept by columns (Parquet, Arrow), by name; they must be among `files` too. */
  tables?: ReadonlyMap<string, CodedTable>;
}

const KNOWN: readonly string[] = [...CSV_FILES, SITE_FILE];
const TABLE = /\.(csv|tsv|xls[xmb]?|ods|parquet|arrow|feather|gz)$/i;
const PACKED = /\.gz$/i;

/**
 * Reads the known files of a folder.
 * @throws InputError where the folder cannot be read or a needed file is missing, naming what is there instead.
 */
export async function readFolder(
  folder: string,
  mostBytes = MOST_BYTES,
  told: ReadingTold = () => undefined,
): Promise<FolderBytes> {
  const names = (await listFolder(folder)).sort();
  const placed = await placedFiles(folder, names);
  const missing = missingNeeded(
    (name) =>
      placed.tables.has(name) ||
      names.includes(name) ||
      names.includes(`${name}.gz`) ||
      columnarName(name, (other) => names.includes(other)) !== null,
  );
  if (missing !== null && !names.some((name) => WORKBOOK.test(name))) {
    throw missingFile(folder, missing, names);
  }
  const files = new Map<string, Uint8Array>();
  const large = new Map<string, ByteSource>();
  const hash = newHash();
  const usual = names.filter((name) => isRead(name, names, placed.tables));
  const read = [...new Set([...usual, ...placed.files])].sort();
  for (const name of read) {
    const path = placed.files.includes(name) ? await pathInside(folder, name) : join(folder, name);
    if (path === null) continue;
    const known = [
      ...(usual.includes(name) ? [name.replace(PACKED, '')] : []),
      ...(placed.files.includes(name) ? [name] : []),
    ];
    if (await isLarge(path, name, mostBytes)) {
      const source = fileBytes(path, name, (share) => told(name, share));
      for (const each of known) large.set(each, source);
      addToHash(hash, source);
      continue;
    }
    const bytes = await readBytes(path, name);
    for (const each of known) files.set(each, bytes);
    hash.update(bytes);
  }
  const unread = names.filter((name) => TABLE.test(name) && !read.includes(name));
  const tables = await columnarTables(files, mostBytes, told);
  return { files, hash: hash.digest('hex'), unread, large, tables };
}

/** The tables that site.json says are elsewhere, and the files that it names for them. */
async function placedFiles(folder: string, names: readonly string[]) {
  const site = names.includes(SITE_FILE) ? await readBytes(join(folder, SITE_FILE), SITE_FILE) : undefined;
  const places = readPlaces(readSite(site));
  const files = [...places.values()].flatMap(filesOf);
  return { tables: new Set<string>(places.keys()), files };
}

/**
 * Where a file that site.json names really lies; null where there is none.
 * @throws InputError where a link leads out of the folder, or it is no plain file
 */
export async function pathInside(folder: string, name: string): Promise<string | null> {
  let root: string;
  let path: string;
  try {
    root = await realpath(folder);
    path = await realpath(join(folder, name));
  } catch (cause) {
    if (['ENOENT', 'ENOTDIR'].includes(codeOf(cause))) return null;
    throw unreadable(name, cause);
  }
  if (!path.startsWith(root.endsWith(sep) ? root : `${root}${sep}`)) {
    throw new InputError(
      'The file is a link, or lies behind one, that leads out of the fleet folder; it is not followed.',
      { file: name },
      'Copy the file itself into the folder.',
    );
  }
  if (!(await stat(path)).isFile()) throw unreadable(name, 'it is not a plain file');
  return path;
}

/** Tables, packed ones where there is no other, workbooks and the settings; a program's own copy of an open workbook is none. */
function isRead(name: string, names: readonly string[], elsewhere: ReadonlySet<string>): boolean {
  if (WORKBOOK.test(name)) return !name.startsWith('~$');
  if (COLUMNAR.test(name)) {
    const csv = CSV_FILES.find((file) => name.replace(COLUMNAR, '') === tableName(file));
    if (csv === undefined || elsewhere.has(csv) || names.includes(csv) || names.includes(`${csv}.gz`))
      return false;
    return columnarName(csv, (other) => names.includes(other)) === name;
  }
  const table = name.replace(PACKED, '');
  if (elsewhere.has(table)) return false;
  return KNOWN.includes(table) && (table === name || !names.includes(table));
}

/** Names in a folder. */
export async function listFolder(folder: string): Promise<string[]> {
  try {
    const found = await stat(folder);
    if (found.isDirectory()) return await readdir(folder);
  } catch (cause) {
    throw folderError(folder, codeOf(cause));
  }
  throw folderError(folder, 'ENOTDIR');
}

function folderError(folder: string, code: string): InputError {
  if (code === 'ENOENT') {
    return new InputError(
      'There is no such folder.',
      { file: folder },
      'Name a folder that holds positions.csv and lives.csv or work-orders.csv.',
    );
  }
  if (code === 'ENOTDIR') {
    return new InputError(
      'This is not a folder.',
      { file: folder },
      'Name the folder that holds positions.csv and lives.csv or work-orders.csv, not a file.',
    );
  }
  return new InputError(
    `The folder cannot be read (${code}).`,
    { file: folder },
    'Check that you may read it.',
  );
}

function missingFile(folder: string, missing: CsvFile, names: readonly string[]): InputError {
  const alike = names.find((name) => name.toLowerCase() === missing);
  const tables = names.filter((name) => TABLE.test(name));
  const there =
    tables.length === 0 ? 'There is no table in it.' : `Found: ${tables.slice(0, 10).join(', ')}.`;
  return new InputError(
    `The folder ${folder} does not hold this file. ${there}`,
    { file: missing },
    alike === undefined
      ? `Save the table as CSV or XLSX under this name, or let "weirwise map folder" find it.${orOrders(missing)}`
      : `Rename ${alike} to ${missing}.`,
  );
}

/**
 * Whether a file is read in pieces: a text above a size.
 * @throws InputError where it is larger than may be read
 */
async function isLarge(path: string, name: string, mostBytes: number): Promise<boolean> {
  let size: number;
  try {
    size = (await stat(path)).size;
  } catch (cause) {
    throw unreadable(name, cause);
  }
  const isText = !WORKBOOK.test(name) && !COLUMNAR.test(name) && name !== SITE_FILE;
  const most = isText ? Math.max(mostBytes, MOST_BYTES) : MOST_BYTES;
  if (size > most) {
    throw new InputError(
      `The file is larger than ${megabytes(most)} MB.`,
      { file: name },
      `Leave out columns that are not needed, ${isText ? 'raise the limit with --most-mb, ' : ''}or plan the plant in parts.`,
    );
  }
  return isText && size > HELD_BYTES;
}

async function readBytes(path: string, name: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (cause) {
    throw unreadable(name, cause);
  }
}

function unreadable(name: string, cause: unknown): InputError {
  return new InputError(
    `The file cannot be read (${codeOf(cause)}).`,
    { file: name },
    'Check that it is a file and that you may read it.',
  );
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
}
