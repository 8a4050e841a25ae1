/** Plain text for a screen: tables, lines of one width, and what is left out. */
import { count } from '../numeric/words.js';

/** Characters of a line. */
export const WIDTH = 110;

/** Columns padded to their widest cell; the first to the left, the rest to the right. */
export function table(head: string[], rows: string[][]): string[] {
  const all = [head, ...rows];
  const widths = head.map((_, column) => Math.max(...all.map((row) => (row[column] ?? '').length)));
  const line = (row: string[]): string =>
    row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i] ?? 0) : cell.padStart(widths[i] ?? 0))).join('  ');
  return all.map((row) => `  ${line(row)}`.trimEnd());
}

/** What is left out, and in which file it is. */
export function more(number: number, one: string, where = ''): string[] {
  return number > 0 ? [`  and ${count(number, `more ${one}`)}${where}`] : [];
}

export function wrapped(text: string, first = '', rest = ''): string[] {
  const lines: string[] = [];
  let line = first;
  for (const word of text.split(' ')) {
    const empty = line === first || line === rest;
    if (!empty && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = rest + word;
    } else line += empty ? word : ` ${word}`;
  }
  return [...lines, line];
}
