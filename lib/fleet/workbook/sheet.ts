/** The cells of one sheet as texts: dates as YYYY-MM-DD, numbers with a decimal point, merged cells filled downwards. */
import { isoOfSerial } from '../written/dates.js';
import type { NumberStyle } from './styles.js';
import { readXml } from './xml.js';

export interface Grid {
  /** Cells by row from 0; rows may be shorter than others. */
  rows: string[][];
  /** Cells that had their text from a cell they are merged with. */
  filled: number;
}

export interface SheetContext {
  shared: readonly string[];
  styles: readonly NumberStyle[];
  since1904: boolean;
}

/** Cells of a sheet that is read; a stray one far out must not make millions of empty ones. */
const MOST_COLUMNS = 1000;
const MOST_ROWS = 1_048_576;

interface OpenCell {
  row: number;
  column: number;
  type: string;
  style: number;
  text: string;
}

export function readSheet(
  file: string,
  part: string,
  bytes: Uint8Array | undefined,
  context: SheetContext,
): Grid {
  const rows: string[][] = [];
  const merges: string[] = [];
  let cell: OpenCell | null = null;
  let listening = false;
  let rowNumber = 0;
  let next = 0;
  readXml(file, part, bytes, {
    open: (name, { r = '', t = 'n', s = '', ref = '' }) => {
      if (name === 'row') {
        rowNumber = r === '' ? rowNumber + 1 : Number(r);
        next = 0;
      } else if (name === 'c') {
        const column = r === '' ? next : columnOfReference(r);
        next = column + 1;
        cell = { row: rowNumber - 1, column, type: t, style: Number(s), text: '' };
      } else if (name === 'v' || name === 't') listening = true;
      else if (name === 'mergeCell') merges.push(ref);
    },
    text: (text) => {
      if (listening && cell !== null) cell.text += text;
    },
    close: (name) => {
      if (name === 'v' || name === 't') listening = false;
      if (name !== 'c' || cell === null) return;
      place(rows, cell, textOfCell(cell, context));
      cell = null;
    },
  });
  return { rows, filled: fillMerged(rows, merges) };
}

function place(rows: string[][], { row, column }: OpenCell, text: string): void {
  if (text === '' || column >= MOST_COLUMNS || row < 0 || row >= MOST_ROWS) return;
  while (rows.length <= row) rows.push([]);
  const cells = rows[row] as string[];
  while (cells.length <= column) cells.push('');
  cells[column] = text;
}

function textOfCell({ type, style, text }: OpenCell, { shared, styles, since1904 }: SheetContext): string {
  if (type === 's') return shared[Number(text)] ?? '';
  if (type === 'b') return text === '1' ? 'TRUE' : 'FALSE';
  if (type === 'e') return '';
  if (type !== 'n' || text === '') return text;
  const number = Number(text);
  if (Number.isNaN(number)) return text;
  const shown = styles[style] ?? null;
  if (shown === 'date') return dateText(number, since1904);
  const plain = plainText(number);
  return typeof shown === 'number' && Number.isInteger(number) ? plain.padStart(shown, '0') : plain;
}

/** A number with the 15 digits that spreadsheets keep. */
function plainText(number: number): string {
  return String(Number(number.toPrecision(15)));
}

/** A day, with its time where it has one; the leap day of 1900 is written out, so that it is refused as a day that never was. */
function dateText(serial: number, since1904: boolean): string {
  if (serial < 0 || (serial < 1 && !since1904) || serial > 2_958_466) return plainText(serial);
  const iso = isoOfSerial(serial, since1904) ?? '1900-02-29';
  const minutes = Math.round((serial - Math.floor(serial)) * 1440);
  if (minutes === 0 || minutes === 1440) return iso;
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${iso} ${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

/** Column from 0 of a reference such as BC12. */
function columnOfReference(reference: string): number {
  let column = 0;
  for (const letter of reference) {
    const code = letter.charCodeAt(0) - 64;
    if (code < 1 || code > 26) break;
    column = column * 26 + code;
  }
  return column - 1;
}

const AREA = /^([A-Z]+)(\d+):([A-Z]+)(\d+)$/;

/** Gives each cell of a merged area the text of its first one, downwards only: a heading over several columns names none of them. */
function fillMerged(rows: string[][], merges: readonly string[]): number {
  let filled = 0;
  for (const area of merges) {
    const found = AREA.exec(area);
    if (found === null) continue;
    const [, first = '', from = '', , to = ''] = found;
    const column = columnOfReference(first);
    const text = rows[Number(from) - 1]?.[column] ?? '';
    if (text === '') continue;
    for (let row = Number(from); row < Math.min(Number(to), rows.length); row++) {
      const cells = rows[row] as string[];
      while (cells.length <= column) cells.push('');
      cells[column] = text;
      filled += 1;
    }
  }
  return filled;
}
