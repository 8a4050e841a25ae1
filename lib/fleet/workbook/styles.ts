/** What the number format of a cell says of its number: a day, a number padded with zeros, or nothing. */
import { readXml } from './xml.js';

/** By number of the cell's style: 'date', how many digits a number has at least, or null. */
export type NumberStyle = 'date' | number | null;

/** Formats with a date that files use by number alone (ISO/IEC 29500-1, 18.8.30), those of East Asia among them. */
const DATE_NUMBERS = new Set([14, 15, 16, 17, 22, 27, 28, 29, 30, 31, 36, 50, 51, 52, 53, 54, 57, 58]);

export function numberStyles(file: string, bytes: Uint8Array | undefined): NumberStyle[] {
  const codes = new Map<number, string>();
  const styles: NumberStyle[] = [];
  let inCells = false;
  readXml(file, 'xl/styles.xml', bytes, {
    open: (name, { numFmtId = '', formatCode = '' }) => {
      if (name === 'numFmt') codes.set(Number(numFmtId), formatCode);
      if (name === 'cellXfs') inCells = true;
      if (name === 'xf' && inCells) styles.push(styleOf(Number(numFmtId), codes));
    },
    close: (name) => {
      if (name === 'cellXfs') inCells = false;
    },
  });
  return styles;
}

function styleOf(id: number, codes: ReadonlyMap<number, string>): NumberStyle {
  if (DATE_NUMBERS.has(id)) return 'date';
  const code = codes.get(id);
  if (code === undefined) return null;
  // Texts in quotation marks, colours, languages and conditions in brackets, and escaped letters are no part of the date.
  const bare = code.replace(/"[^"]*"|\[[^\]]*\]|\\./g, '').split(';', 1)[0] ?? '';
  if (/[yd]/i.test(bare)) return 'date';
  return /^0{2,}$/.test(bare) ? bare.length : null;
}
