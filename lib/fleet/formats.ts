/** What site.json says of how files are written: `"formats": { "all": { "dates": "day first" }, "lives.csv": { "decimal": "," } }`. */
import { InputError } from '../errors.js';
import { CSV_FILES, type CsvFile, columnsOf, SITE_FILE } from './columnNames.js';
import { settingError } from './settingError.js';
import { formatSchema, type SiteFile } from './siteSchema.js';
import type { FileFormat } from './written/types.js';
import { unitsOf } from './written/units.js';

/** The name that stands for all files. */
const ALL = 'all';

/**
 * The format of each file: what is said of it, over what is said of all.
 * @throws InputError where a file, an encoding, a column or a unit is not known
 */
export function readFormats({ formats = {} }: SiteFile): ReadonlyMap<CsvFile, FileFormat> {
  const names: readonly string[] = [ALL, ...CSV_FILES];
  for (const [name, given] of Object.entries(formats)) {
    if (!names.includes(name)) throw formatError(['formats', name], `must be one of ${names.join(', ')}`);
    checkEncoding(['formats', name], given.encoding);
    checkUnits(['formats', name], name, given.units ?? {});
  }
  return new Map(CSV_FILES.map((file) => [file, definedOf({ ...formats[ALL], ...formats[file] })]));
}

/**
 * The format of one file of several, as its entry in the list says it.
 * @throws InputError as `readFormats` does
 */
export function readOwnFormat(path: string[], file: CsvFile, given: unknown): FileFormat {
  const result = formatSchema.safeParse(given);
  if (!result.success) throw settingError(result.error, given, path);
  checkEncoding(path, result.data.encoding);
  checkUnits(path, file, result.data.units ?? {});
  return definedOf(result.data);
}

/** zod leaves keys with no value. */
function definedOf(given: NonNullable<SiteFile['formats']>[string]): FileFormat {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
}

function checkEncoding(path: string[], encoding: string | undefined): void {
  if (encoding === undefined) return;
  try {
    new TextDecoder(encoding);
  } catch {
    throw formatError(
      [...path, 'encoding'],
      `"${encoding}" is no encoding that is known (such as windows-1252)`,
    );
  }
}

function checkUnits(path: string[], name: string, units: Readonly<Record<string, string>>): void {
  for (const [column, unit] of Object.entries(units)) {
    const there = name === ALL || columnsOf(name as CsvFile).includes(column);
    const known = unitsOf(column);
    if (!there || known.length === 0) {
      throw formatError([...path, 'units', column], 'names no column that has a unit');
    }
    if (!known.includes(unit)) {
      throw formatError([...path, 'units', column], `must be one of ${known.join(', ')}`);
    }
  }
}

function formatError(path: string[], rule: string): InputError {
  return new InputError(
    `The setting "${path.join('.')}" ${rule}.`,
    { file: SITE_FILE },
    'See "formats" in the documentation of site.json.',
  );
}
