/** The bytes of a fleet folder, read once. */
import { createHash } from 'node:crypto';
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError } from '../errors.js';
import { CSV_FILES, NEEDED_FILES, SITE_FILE } from './columnNames.js';

export interface FolderBytes {
  files: ReadonlyMap<string, Uint8Array>;
  /** SHA-256 over the bytes of the files, one after the other in name order, in hexadecimal. */
  hash: string;
  /** Other tables in the folder, which are not read. */
  unread: string[];
}

const KNOWN: readonly string[] = [...CSV_FILES, SITE_FILE];
const TABLE = /\.(csv|tsv|xlsx?|parquet)$/i;
/** Longest text that the language can hold in one string. */
const MOST_BYTES = 0x1fffffe8;

/**
 * Reads the known files of a folder.
 * @throws InputError where the folder cannot be read or a needed file is missing, naming what is there instead.
 */
export async function readFolder(folder: string): Promise<FolderBytes> {
  const names = (await listFolder(folder)).sort();
  const missing = NEEDED_FILES.find((name) => !names.includes(name));
  if (missing !== undefined) throw missingFile(folder, missing, names);
  const files = new Map<string, Uint8Array>();
  const hash = createHash('sha256');
  for (const name of names.filter((known) => KNOWN.includes(known))) {
    const bytes = await readBytes(folder, name);
    files.set(name, bytes);
    hash.update(bytes);
  }
  const unread = names.filter((name) => TABLE.test(name) && !KNOWN.includes(name));
  return { files, hash: hash.digest('hex'), unread };
}

async function listFolder(folder: string): Promise<string[]> {
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
      'Name a folder that holds positions.csv and lives.csv.',
    );
  }
  if (code === 'ENOTDIR') {
    return new InputError(
      'This is not a folder.',
      { file: folder },
      'Name the folder that holds positions.csv and lives.csv, not a file.',
    );
  }
  return new InputError(
    `The folder cannot be read (${code}).`,
    { file: folder },
    'Check that you may read it.',
  );
}

function missingFile(folder: string, missing: string, names: readonly string[]): InputError {
  const alike = names.find((name) => name.toLowerCase() === missing);
  const tables = names.filter((name) => TABLE.test(name));
  const there =
    tables.length === 0 ? 'There is no table in it.' : `Found: ${tables.slice(0, 10).join(', ')}.`;
  return new InputError(
    `The folder ${folder} does not hold this file. ${there}`,
    { file: missing },
    alike === undefined
      ? 'Save the table as CSV (comma, UTF-8) under this name.'
      : `Rename ${alike} to ${missing}.`,
  );
}

async function readBytes(folder: string, name: string): Promise<Uint8Array> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(join(folder, name));
  } catch (cause) {
    throw new InputError(
      `The file cannot be read (${codeOf(cause)}).`,
      { file: name },
      'Check that it is a file and that you may read it.',
    );
  }
  if (bytes.length > MOST_BYTES) {
    throw new InputError(
      'The file is larger than 512 MB.',
      { file: name },
      'Leave out columns that are not needed, or plan the plant in parts.',
    );
  }
  return bytes;
}

function codeOf(cause: unknown): string {
  return cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
}
