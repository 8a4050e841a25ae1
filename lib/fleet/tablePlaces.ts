/**
 * Where site.json says that a table is: `"files": { "lives.csv": "Export 2024.csv" }`, a sheet of a workbook with the row of its header,
 * several of these in a list, each with names of columns and formats of its own, or, for positions, the table of lives or of work orders
 * itself.
 */
import * as z from 'zod';
import { InputError } from '../errors.js';
import { CSV_FILES, type CsvFile, HISTORY_FILES, type HistoryFile, SITE_FILE } from './columnNames.js';
import { type ColumnWords, readColumnWords } from './columnWords.js';
import { readOwnFormat } from './formats.js';
import { settingError } from './settingError.js';
import type { SiteFile } from './siteSchema.js';
import type { FileFormat } from './written/types.js';

export interface FilePlace {
  file: string;
  sheet: string | null;
  headerRow: number | null;
}

/** One file of several. */
export interface FilePart extends FilePlace {
  columns: ColumnWords;
  format: FileFormat;
}

export type TablePlace =
  | ({ kind: 'file' } & FilePlace)
  | { kind: 'files'; parts: readonly FilePart[] }
  /** The positions that the table of lives, or that of work orders, names, each once. */
  | { kind: 'from history'; from: HistoryFile };

const name = z.string('must be a text').min(1, 'must not be empty');
const nameAlone = name.transform((file) => ({ file, sheet: undefined, header_row: undefined }));
const place = {
  file: name,
  sheet: name.optional(),
  header_row: z
    .int('must be a whole number')
    .min(1, 'must be 1 or more')
    .max(10_000, 'must be at most 10000')
    .optional(),
};
const LIST =
  'must be a list of files, each a name or { "file": , "sheet": , "header_row": , "columns": , "formats": }';
const partSchema = z.union(
  [
    nameAlone.transform((named) => ({ ...named, columns: undefined, formats: undefined })),
    z.strictObject({ ...place, columns: z.unknown().optional(), formats: z.unknown().optional() }),
  ],
  LIST,
);
const partsSchema = z.array(partSchema, LIST).min(1, LIST).max(1000, 'must list at most 1000 files');
const placeSchema = z.union(
  [
    nameAlone,
    z.strictObject(place),
    z.strictObject({ from: z.enum(HISTORY_FILES, 'must be "lives.csv" or "work-orders.csv"') }),
  ],
  'must be the name of a file, { "file": , "sheet": , "header_row": }, a list of these or, for positions.csv, { "from": "lives.csv" } or { "from": "work-orders.csv" }',
);

/**
 * The place of each table that site.json names one for.
 * @throws InputError where a table is not known, or a file is outside of the folder by its name
 */
export function readPlaces({ files = {} }: SiteFile): ReadonlyMap<CsvFile, TablePlace> {
  return new Map(
    Object.entries(files).map(([name, given]) => {
      const table = tableOf(name);
      return [table, placeOf(table, given)];
    }),
  );
}

function tableOf(table: string): CsvFile {
  const known = CSV_FILES.find((file) => file === table);
  if (known === undefined) throw placeError(['files', table], `must be one of ${CSV_FILES.join(', ')}`);
  return known;
}

function placeOf(table: CsvFile, given: unknown): TablePlace {
  if (Array.isArray(given)) return { kind: 'files', parts: partsOf(table, given) };
  const result = placeSchema.safeParse(given);
  if (!result.success) throw settingError(result.error, given, ['files', table]);
  const place = result.data;
  if ('from' in place) {
    if (table === 'positions.csv') return { kind: 'from history', from: place.from };
    throw placeError(['files', table], 'must name a file: only positions can be taken from another table');
  }
  return { kind: 'file', ...filePlace(table, place) };
}

function filePlace(
  table: string,
  given: { file: string; sheet?: string | undefined; header_row?: number | undefined },
): FilePlace {
  const { file, sheet = null, header_row: headerRow = null } = given;
  return { file: pathInside(table, file), sheet, headerRow };
}

function partsOf(table: CsvFile, given: unknown[]): FilePart[] {
  const result = partsSchema.safeParse(given);
  if (!result.success) throw settingError(result.error, given, ['files', table]);
  return result.data.map((part, i) => {
    const path = ['files', table, String(i)];
    return {
      ...filePlace(table, part),
      columns: readColumnWords([...path, 'columns'], table, part.columns ?? {}),
      format: readOwnFormat([...path, 'formats'], table, part.formats ?? {}),
    };
  });
}

/** The files that a place names. */
export function filesOf(place: TablePlace): string[] {
  if (place.kind === 'file') return [place.file];
  return place.kind === 'files' ? place.parts.map(({ file }) => file) : [];
}

/** The path with forward slashes, below the folder; nothing outside of it is ever opened. */
function pathInside(table: string, file: string): string {
  const parts = file.split('/').filter((part) => part !== '.' && part !== '');
  const outside = /^[/\\]|^[a-z]:/i.test(file) || parts.includes('..') || file.split('\\').includes('..');
  if (outside || parts.length === 0) {
    throw placeError(
      ['files', table],
      'must name a file in the fleet folder, without "..", a drive or a slash in front',
      file,
    );
  }
  if (file.includes('\\') || file.includes('\0')) {
    throw placeError(['files', table], 'must be written with forward slashes', file);
  }
  return parts.join('/');
}

function placeError(path: string[], rule: string, value?: string): InputError {
  return new InputError(
    `The setting "${path.join('.')}" ${rule}.`,
    { file: SITE_FILE, ...(value === undefined ? {} : { value }) },
    'For example: "files": { "lives.csv": "Export 2024.csv" }. Copy the file into the folder if it is elsewhere.',
  );
}
