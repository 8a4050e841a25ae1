/**
 * A CSV table from pieces of its bytes: found is what stands between cells from its header, and its cells are coded as they come, so that
 * no more is held than the numbers and the distinct texts. What is out of order is left to the road that looks at the text as a whole.
 */
import { type RecordCoder, recordCoder } from '../coded/recordCoder.js';
import type { CodedTable } from '../coded/types.js';
import type { CsvFile } from '../columnNames.js';
import { firstRecord, mostPiecesOf } from '../csvRecords.js';
import { packsTooMuch, tellEncoding, tellWestern, WESTERN } from '../csvText.js';
import type { RowBook } from '../rowBook.js';
import { separatorOf } from '../written/separator.js';
import type { Separator } from '../written/types.js';
import { headIn } from './csvHead.js';
import { firstNotUtf8, westernLine } from './oddLines.js';
import type { StoredText } from './storedText.js';
import {
  checkUtf8,
  isStopped,
  stopped,
  unpackedPieces,
  utf8Pieces,
  type Written,
  westernPieces,
} from './utf8Pieces.js';

/** What the caller knows of columns. */
export interface HeaderWays {
  separator: Separator | undefined;
  isKnown(cell: string): boolean;
  /** The columns' names as the documentation has them. */
  namesOf(written: readonly string[]): string[];
}

export interface CodedText {
  header: string[];
  separator: Separator;
  table: CodedTable;
}

/** A record, or what stands before the header, that is longer is left to the other road. */
const MOST_RECORD = 2 ** 24;

/**
 * Null where the text must be looked at as a whole: marks that never close, a header over several lines, bytes that are no text.
 * @param book told the encoding that was found
 * @throws InputError where it unpacks to more than is allowed
 */
export function codeCsv(
  file: CsvFile,
  stored: StoredText,
  ways: HeaderWays,
  book: RowBook,
): CodedText | null {
  try {
    let found: string | null = null;
    const told = (encoding: string): void => {
      found = encoding;
    };
    const text = fromPieces(file, stored, ways, { ...givenOf(stored), found: told });
    tellEncoding(book, found);
    return text;
  } catch (cause) {
    if (isStopped(cause, 'not UTF-8')) return western(file, stored, ways, book);
    if (isStopped(cause, 'as a whole')) return null;
    throw cause;
  }
}

function givenOf({ encoding }: StoredText): Written {
  return encoding === undefined ? {} : { encoding };
}

function western(file: CsvFile, stored: StoredText, ways: HeaderWays, book: RowBook): CodedText | null {
  try {
    const text = fromPieces(file, stored, ways, { encoding: WESTERN, isWestern: true });
    const line = firstNotUtf8(rawPieces(file, stored));
    tellWestern(book, line, westernLine(rawPieces(file, stored), line));
    return text;
  } catch (cause) {
    if (isStopped(cause, 'as a whole')) return null;
    throw cause;
  }
}

function rawPieces(file: string, { source, mostBytes }: StoredText): Iterable<Uint8Array> {
  return unpackedPieces(source, mostBytes, () => packsTooMuch(file, mostBytes));
}

function fromPieces(
  file: CsvFile,
  stored: StoredText,
  ways: HeaderWays,
  { isWestern = false, ...written }: Written & { isWestern?: boolean },
): CodedText {
  const raw = rawPieces(file, stored);
  const pieces = utf8Pieces(isWestern ? westernPieces(raw) : raw, written);
  let rest: Uint8Array = new Uint8Array(0);
  let open: OpenTable | null = null;
  const take = (bytes: Uint8Array, isLast: boolean): void => {
    let from = 0;
    if (open === null) {
      const head = headIn(bytes, stored.headerRow, isLast);
      if (head !== null) open = openTable(file, head.line, ways);
      from = head?.end ?? 0;
    }
    const records = bytes.subarray(from);
    const used = open === null ? 0 : open.coder.add(records, isLast);
    checkUtf8(records.subarray(0, used));
    rest = records.subarray(used);
    if (open?.coder.inDoubt() || rest.length > MOST_RECORD) throw stopped('as a whole');
  };
  for (const piece of pieces) take(joined(rest, piece), false);
  take(rest, true);
  if (open === null) throw stopped('as a whole');
  return finished(open);
}

interface OpenTable {
  written: string[];
  header: string[];
  separator: Separator;
  coder: RecordCoder;
}

function openTable(file: CsvFile, line: string, ways: HeaderWays): OpenTable {
  const separator = ways.separator ?? separatorOf(line, ways.isKnown);
  const written = firstRecord(file, line, separator);
  const header = ways.namesOf(written);
  const coder = recordCoder({
    separator,
    columns: header.length,
    written: written.length,
    mostPieces: mostPiecesOf({ file, header }),
  });
  return { written, header, separator, coder };
}

function finished({ written, header, separator, coder }: OpenTable): CodedText {
  return { header, separator, table: coder.table(written) };
}

/** A column of its own, so that the innermost loops only ever see one kind. */
function joined(rest: Uint8Array, piece: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(rest.length + piece.length);
  bytes.set(rest);
  bytes.set(piece, rest.length);
  return bytes;
}
