/** Lines of a text that is no UTF-8, found in its pieces. */
import { WESTERN } from '../csvText.js';

/** The first line, from 1, with a letter that cannot be read as UTF-8; lines end with a line feed here. */
export function firstNotUtf8(pieces: Iterable<Uint8Array>): number {
  const decoder = new TextDecoder();
  let lines = 1;
  for (const piece of pieces) {
    const text = decoder.decode(piece, { stream: true });
    const odd = text.indexOf('\ufffd');
    lines += (odd < 0 ? text : text.slice(0, odd)).split('\n').length - 1;
    if (odd >= 0) break;
  }
  return lines;
}

/** A line of a text in the western code page of Windows, lines counted from 1; '' where there are fewer. */
export function westernLine(pieces: Iterable<Uint8Array>, line: number): string {
  const decoder = new TextDecoder(WESTERN);
  let at = 1;
  let held = '';
  for (const piece of pieces) {
    const parts = `${held}${decoder.decode(piece, { stream: true })}`.split(/\r\n|\n|\r(?!$)/);
    held = parts.pop() ?? '';
    if (at + parts.length > line) return parts[line - at] ?? '';
    at += parts.length;
  }
  const last = held.split('\r');
  return last[line - at] ?? '';
}
