/**
 * The plant's own names of columns: each stands for one column of ours, or for several that are read from its text, as
 * `{ "Date in": "fitted", "Item text": ["material", "size"] }`.
 */
import { InputError } from '../errors.js';
import { type CsvFile, columnsOf, SITE_FILE } from './columnNames.js';

export interface ColumnWords {
  /** The plant's name in small letters, and the name it is read as. */
  renamed: ReadonlyMap<string, string>;
  /** The plant's name in small letters, and the columns that are read from its text. */
  joint: ReadonlyMap<string, readonly string[]>;
}

export const NO_COLUMN_WORDS: ColumnWords = { renamed: new Map(), joint: new Map() };

/** @throws InputError where a column of ours is not one of the file */
export function readColumnWords(path: string[], file: CsvFile, given: unknown): ColumnWords {
  if (typeof given !== 'object' || given === null || Array.isArray(given))
    throw mappingError(path, 'must be an object { "yours": "ours" }');
  const renamed = new Map<string, string>();
  const joint = new Map<string, string[]>();
  for (const [theirs, ours] of Object.entries(given as Record<string, unknown>)) {
    const key = theirs.trim().toLowerCase();
    const at = [...path, theirs.trim()];
    if (Array.isArray(ours)) {
      if (ours.length === 0) throw mappingError(at, 'must name a column of ours');
      joint.set(
        key,
        ours.map((one: unknown) => knownColumn(at, file, one, false)),
      );
    } else renamed.set(key, knownColumn(at, file, ours, true));
  }
  return { renamed, joint };
}

function knownColumn(path: string[], file: CsvFile, given: unknown, orNone: boolean): string {
  if (typeof given !== 'string') throw mappingError(path, 'must be a text, or a list of texts');
  const ours = given.trim();
  const known = columnsOf(file);
  if (known.includes(ours) || (ours === '' && orNone)) return ours;
  throw mappingError(path, `must name one of ${known.join(', ')}, or "" for a column not to be read`);
}

/** What holds for one file over what holds for all of its kind. */
export function columnWordsOver(over: ColumnWords, all: ColumnWords): ColumnWords {
  const own = new Set([...over.renamed.keys(), ...over.joint.keys()]);
  const taken = new Set([...over.renamed.values(), ...[...over.joint.values()].flat()]);
  const isLeft = (theirs: string, ours: readonly string[]): boolean =>
    !own.has(theirs) && !ours.some((one) => one !== '' && taken.has(one));
  return {
    renamed: new Map([
      ...[...all.renamed].filter(([theirs, ours]) => isLeft(theirs, [ours])),
      ...over.renamed,
    ]),
    joint: new Map([...[...all.joint].filter(([theirs, ours]) => isLeft(theirs, ours)), ...over.joint]),
  };
}

/** Only those that are read as one of these columns. */
export function columnWordsFor(words: ColumnWords, columns: readonly string[]): ColumnWords {
  return {
    renamed: new Map([...words.renamed].filter(([, ours]) => columns.includes(ours))),
    joint: new Map(
      [...words.joint].flatMap(([theirs, ours]) => {
        const kept = ours.filter((one) => columns.includes(one));
        return kept.length === 0 ? [] : [[theirs, kept] as const];
      }),
    ),
  };
}

export function mappingError(path: string[], rule: string): InputError {
  return new InputError(
    `The setting "${path.join('.')}" ${rule}.`,
    { file: SITE_FILE },
    'Write your own word on the left and ours on the right.',
  );
}
