/** The text of a file from its bytes: unpacked, and decoded by its byte-order mark, as UTF-8, or else as the site or Windows has it. */
import { gunzipSync } from 'node:zlib';
import { InputError } from '../errors.js';
import { fault } from './cell.js';
import type { RowBook } from './rowBook.js';

const SAVE = 'Save it as CSV, comma-separated, UTF-8.';
/** Longest text that the language can hold in one string. */
export const MOST_BYTES = 0x1fffffe8;

/**
 * @throws InputError where the file is empty, is not text, or is not text in the encoding that is given; where it unpacks to more than
 * `mostBytes`
 */
export function textOf(
  file: string,
  bytes: Uint8Array,
  encoding?: string,
  book?: RowBook,
  mostBytes = MOST_BYTES,
): string {
  if (bytes.length === 0) throw refuse(file, 'The file is empty.', fill(file));
  const plain = unpacked(file, bytes, mostBytes);
  const text = decoded(file, plain, encoding, book);
  if (text.trim() === '') throw refuse(file, 'The file is empty.', fill(file));
  return text;
}

function fill(file: string): string {
  return file.endsWith('.csv')
    ? 'Save the table again, with its header row.'
    : 'Write the settings into it, {} for none, or take the file away.';
}

/** What a gzip file holds (RFC 1952); other bytes as they are. */
function unpacked(file: string, bytes: Uint8Array, mostBytes: number): Uint8Array {
  if (bytes[0] !== 0x1f || bytes[1] !== 0x8b) return bytes;
  try {
    return gunzipSync(bytes, { maxOutputLength: mostBytes });
  } catch (cause) {
    const tooLong = cause instanceof RangeError;
    throw tooLong
      ? packsTooMuch(file, mostBytes)
      : refuse(
          file,
          'The file is packed (gzip) and cannot be unpacked.',
          'Pack it again, or save it unpacked.',
        );
  }
}

export function packsTooMuch(file: string, mostBytes: number): InputError {
  return refuse(
    file,
    `The packed file holds more than ${megabytes(mostBytes)} MB.`,
    'Leave out columns that are not needed, plan the plant in parts, or raise the limit.',
  );
}

export function megabytes(bytes: number): number {
  return Math.round(bytes / 2 ** 20);
}

/** The decoders take a byte-order mark off. */
function decoded(file: string, bytes: Uint8Array, given?: string, book?: RowBook): string {
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) {
    throw refuse(file, 'The file is a workbook or an archive under another name, not a text.', SAVE);
  }
  const encoding = given ?? wideEncoding(bytes);
  if (encoding !== null) {
    tellEncoding(book, given === undefined ? encoding : null);
    return strictly(file, bytes, encoding);
  }
  if (bytes.includes(0)) throw refuse(file, 'The file is not a text.', SAVE);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return eightBits(file, bytes, book);
  }
}

/** UTF-16 by its byte-order mark, or by every other byte being zero. */
export function wideEncoding(bytes: Uint8Array): string | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  if (bytes.length < 4 || bytes.length % 2 !== 0) return null;
  const seen = Math.min(bytes.length, LOOKED_AT);
  const zeros = [0, 0];
  for (let i = 0; i < seen; i++) if (bytes[i] === 0) zeros[i % 2] = (zeros[i % 2] ?? 0) + 1;
  const [even = 0, odd = 0] = zeros;
  if (odd > 0.4 * seen && even === 0) return 'utf-16le';
  return even > 0.4 * seen && odd === 0 ? 'utf-16be' : null;
}

const LOOKED_AT = 4096;

function strictly(file: string, bytes: Uint8Array, encoding: string): string {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    throw refuse(
      file,
      `The file is not written in ${encoding}.`,
      'Say in site.json under "formats" in which encoding it is, or save it as UTF-8.',
    );
  }
}

/** What is not UTF-8 is most often the western code page of Windows; five of its codes are no letter, which tells other files. */
function eightBits(file: string, bytes: Uint8Array, book: RowBook | undefined): string {
  const line = new TextDecoder().decode(bytes).split('\ufffd', 1)[0]?.split('\n').length ?? 1;
  const inVain = book === undefined || bytes.some((byte) => NO_LETTER.includes(byte));
  if (inVain) {
    throw refuse(
      file,
      `The file is not written in UTF-8: line ${line} holds a letter that cannot be read.`,
      file.endsWith('.csv')
        ? `${SAVE} Or say in site.json under "formats" in which encoding it is.`
        : 'Save it as UTF-8.',
    );
  }
  const text = new TextDecoder(WESTERN).decode(bytes);
  const example = text.split(/\r\n|\n|\r/)[line - 1] ?? '';
  if (book !== undefined) tellWestern(book, line, example);
  return text;
}

/** The western code page of Windows. */
export const WESTERN = 'windows-1252';

/** Tells that a file is read in it: the first line that shows it, counted from 1, and that line. */
export function tellWestern(book: RowBook, line: number, example: string): void {
  book.mend(
    null,
    null,
    example.slice(0, 80),
    fault(
      'written-as',
      `The file is not UTF-8 and is read as ${WESTERN}; line ${line} is the first that shows it.`,
      'Look whether names with accents read right; otherwise say in site.json under "formats" in which encoding it is.',
    ),
  );
}

/** Bytes that are no letter of it. */
export const NO_LETTER = [0x81, 0x8d, 0x8f, 0x90, 0x9d];

export function tellEncoding(book: RowBook | undefined, found: string | null): void {
  if (found === null) return;
  book?.mend(
    null,
    null,
    null,
    fault('written-as', `The file is written in ${found.toUpperCase()}.`, 'Nothing.'),
  );
}

function refuse(file: string, what: string, todo: string): InputError {
  return new InputError(what, { file }, todo);
}
