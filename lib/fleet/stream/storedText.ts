/** The text of a table that is decoded only when it is known in which way. */
import { InputError } from '../../errors.js';
import { SITE_FILE } from '../columnNames.js';
import { MOST_BYTES, megabytes, textOf } from '../csvText.js';
import type { RowBook } from '../rowBook.js';
import { type ByteSource, heldBytes } from './byteSource.js';

export interface StoredText {
  readonly kind: 'stored';
  source: ByteSource;
  /** As the plant gives it; found where it is left out. */
  encoding?: string | undefined;
  /** Line of the header, from 1; null for the first that is not blank. */
  headerRow: number | null;
  /** Bytes that it may unpack to. */
  mostBytes: number;
}

export function storedText(bytes: Uint8Array): StoredText {
  return { kind: 'stored', source: heldBytes(bytes), headerRow: null, mostBytes: bytes.length };
}

/**
 * The text as a whole.
 * @throws InputError where it is none, or longer than a text can be
 */
export function wholeText(file: string, stored: StoredText, book: RowBook): string {
  const { source, encoding, headerRow, mostBytes } = stored;
  if (source.size > MOST_BYTES) throw notWhole(file);
  const text = textOf(file, source.whole(), encoding, book, Math.min(mostBytes, MOST_BYTES));
  return headerRow === null ? text : textFrom(text, headerRow, file);
}

/** What is longer than a text can be is read in pieces, which is not done where marks or bytes are out of order. */
function notWhole(file: string): InputError {
  return new InputError(
    `The file is larger than ${megabytes(MOST_BYTES)} MB, and at that size it must be plain: the header in one line, every quoted cell closed, one encoding from begin to end. It is not.`,
    { file },
    'Look for a quotation mark that is never closed, save the file as UTF-8, or split it into parts to find the place.',
  );
}

/** The text from a line on, lines counted from 1. */
function textFrom(text: string, line: number, file: string): string {
  const from = lineStart(text, line);
  if (from === null) {
    throw new InputError(
      `The file has fewer lines than the ${line} at which its header should be.`,
      { file: SITE_FILE, column: `files.${file}` },
      'Give the line of the header, the first line of the file being 1.',
    );
  }
  return text.slice(from);
}

/** The place at which a line begins, lines counted from 1; null where there are fewer. */
export function lineStart(text: string, line: number): number | null {
  const ends = /\r\n|\n|\r/g;
  for (let left = line - 1; left > 0; left--) if (ends.exec(text) === null) return null;
  return ends.lastIndex;
}
