/** The header of a CSV text, looked for in its first bytes. */
import { LEADING_BLANKS, SEPARATOR_LINE } from '../csvRecords.js';
import { lineStart } from './storedText.js';
import { checkUtf8, stopped } from './utf8Pieces.js';

const LINE_FEED = 10;
const RETURN = 13;
/** Marks only around whole cells that hold no separator of any kind: such a header is its line, whatever stands between cells. */
const CLEAN = /^(?:"[^",;\t|]*"|[^",;\t|]*)(?:[,;\t|](?:"[^",;\t|]*"|[^",;\t|]*))*$/;

/**
 * The line of the header and the place behind it; null where the bytes end before it does.
 * @throws Error `as a whole` where it may run over several lines, `not UTF-8`
 */
export function headIn(
  bytes: Uint8Array,
  headerRow: number | null,
  isLast: boolean,
): { line: string; end: number } | null {
  const lines = isLast
    ? bytes
    : bytes.subarray(0, Math.max(bytes.lastIndexOf(LINE_FEED), bytes.lastIndexOf(RETURN)) + 1);
  checkUtf8(lines);
  const text = Buffer.from(lines.buffer, lines.byteOffset, lines.length).toString('utf8');
  const first = lineStart(text, headerRow ?? 1);
  if (first === null) return null;
  const blanks = LEADING_BLANKS.exec(text.slice(first))?.[0].length ?? 0;
  const mark = SEPARATOR_LINE.exec(text.slice(first + blanks))?.[0].length ?? 0;
  const start = first + blanks + mark;
  const line = text.slice(start).split(/\r\n|\n|\r/, 1)[0] ?? '';
  const isEnded = text.length > start + line.length;
  if (isLast ? start === text.length : !isEnded) return null;
  if (line.includes('"') && !CLEAN.test(line)) throw stopped('as a whole');
  const ends = /^(\r\n|\n|\r)?/.exec(text.slice(start + line.length))?.[0].length ?? 0;
  const after = start + line.length + ends;
  // What follows a carriage return may be its line feed.
  if (!isLast && after === text.length && text.endsWith('\r')) return null;
  return { line, end: Buffer.byteLength(text.slice(0, after)) };
}
