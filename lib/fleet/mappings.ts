/** The plant's own names for columns, words and tags, from site.json: simple replacements, theirs to ours. */
import { tidyText } from './cell.js';
import { readCleaning } from './cleaning/readCleaning.js';
import type { Cleaning } from './cleaning/rules.js';
import { CSV_FILES, type CsvFile } from './columnNames.js';
import { type ColumnWords, mappingError, NO_COLUMN_WORDS, readColumnWords } from './columnWords.js';
import { readFormats } from './formats.js';
import type { SiteFile } from './siteSchema.js';
import { readPlaces, type TablePlace } from './tablePlaces.js';
import type { FileFormat } from './written/types.js';

export interface Mappings {
  /** Per file: the plant's names of columns. */
  columns: ReadonlyMap<CsvFile, ColumnWords>;
  /** Per column: the plant's word in small letters, and the word it is read as. */
  values: ReadonlyMap<string, ReadonlyMap<string, string>>;
  /** What the plant says of how each file is written. */
  formats: ReadonlyMap<CsvFile, FileFormat>;
  cleaning: Cleaning;
  /** A tag, and the tag it is read as. */
  aliases: ReadonlyMap<string, string>;
  /** Where the plant says that a table is. */
  places: ReadonlyMap<CsvFile, TablePlace>;
}

/** Columns whose words may be replaced. */
const WORD_COLUMNS = ['reason', 'finding', 'work', 'criticality', 'stop_for', 'material', 'line', 'duty'];

/**
 * Reads `"columns": { "lives.csv": { "Date in": "fitted" } }`, `"values": { "reason": { "Leakage": "leak" } }` and
 * `"aliases": { "V-0017": "V-17" }`.
 * @throws InputError where one names a file, column or form that does not exist.
 */
export function readMappings(file: SiteFile): Mappings {
  return {
    columns: new Map(Object.entries(file.columns ?? {}).map(([name, given]) => columnMapping(name, given))),
    values: new Map(Object.entries(file.values ?? {}).map(([column, given]) => valueMapping(column, given))),
    formats: readFormats(file),
    cleaning: readCleaning(file.cleaning),
    aliases: textMap(['aliases'], file.aliases ?? {}, tidyText),
    places: readPlaces(file),
  };
}

/** Words of one column; empty where none is given. */
export function wordsOf(mappings: Mappings, column: string): ReadonlyMap<string, string> {
  return mappings.values.get(column) ?? new Map();
}

/** The plant's names of the columns of one file; none where it gives none. */
export function columnWordsOf(mappings: Mappings, file: CsvFile): ColumnWords {
  return mappings.columns.get(file) ?? NO_COLUMN_WORDS;
}

function columnMapping(name: string, given: unknown): [CsvFile, ColumnWords] {
  const file = CSV_FILES.find((known) => known === name);
  if (file === undefined) throw mappingError(['columns', name], `must be one of ${CSV_FILES.join(', ')}`);
  return [file, readColumnWords(['columns', name], file, given)];
}

function valueMapping(column: string, given: unknown): [string, ReadonlyMap<string, string>] {
  if (!WORD_COLUMNS.includes(column)) {
    throw mappingError(['values', column], `must be one of ${WORD_COLUMNS.join(', ')}`);
  }
  const pairs = textMap(['values', column], given, tidyText);
  return [column, new Map([...pairs].map(([theirs, ours]) => [theirs.toLowerCase(), ours]))];
}

function textMap(path: string[], given: unknown, tidy: (text: string) => string): Map<string, string> {
  if (typeof given !== 'object' || given === null || Array.isArray(given)) {
    throw mappingError(path, 'must be an object { "yours": "ours" }');
  }
  return new Map(
    Object.entries(given).map(([theirs, ours]) => {
      if (typeof ours !== 'string') throw mappingError([...path, theirs], 'must be a text');
      return [tidy(theirs), tidy(ours)];
    }),
  );
}
