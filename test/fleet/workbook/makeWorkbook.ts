/** Workbooks for tests, written part by part as ISO/IEC 29500-1 has them. */
import { strToU8, zipSync } from 'fflate';

/** A text, a number, a day (serial number in a date format), a number padded to five digits, or nothing. */
export type TestCell = string | number | { day: number } | { padded: number } | null;

export interface TestSheet {
  name: string;
  rows: TestCell[][];
  merged?: string[];
}

export function makeWorkbook(sheets: TestSheet[], since1904 = false): Uint8Array {
  const texts: string[] = [];
  const parts = sheets.map(({ rows, merged = [] }) => sheetXml(rows, merged, texts));
  const files: Record<string, Uint8Array> = {
    'xl/workbook.xml': strToU8(workbookXml(sheets, since1904)),
    'xl/_rels/workbook.xml.rels': strToU8(relationsXml(sheets)),
    'xl/styles.xml': strToU8(STYLES),
  };
  parts.forEach((xml, i) => {
    files[`xl/worksheets/sheet${i + 1}.xml`] = strToU8(xml);
  });
  files['xl/sharedStrings.xml'] = strToU8(
    `<sst>${texts.map((text) => `<si><r><t>${text}</t></r><rPh><t>spoken</t></rPh></si>`).join('')}</sst>`,
  );
  return zipSync(files);
}

const STYLES =
  '<styleSheet><numFmts><numFmt numFmtId="164" formatCode="[$-407]dd/mm/yy;@"/><numFmt numFmtId="165" formatCode="00000"/><numFmt numFmtId="166" formatCode="&quot;day&quot; 0.0"/></numFmts>' +
  '<cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="166"/><xf numFmtId="164"/><xf numFmtId="165"/></cellXfs></styleSheet>';

function workbookXml(sheets: TestSheet[], since1904: boolean): string {
  const list = sheets.map(({ name }, i) => `<x:sheet name="${name}" sheetId="${i + 1}" r:id="r${i + 1}"/>`);
  return `<x:workbook xmlns:x="a" xmlns:r="b"><x:workbookPr date1904="${since1904 ? 1 : 0}"/><x:sheets>${list.join('')}</x:sheets></x:workbook>`;
}

function relationsXml(sheets: TestSheet[]): string {
  const list = sheets.map((_, i) => `<Relationship Id="r${i + 1}" Target="worksheets/sheet${i + 1}.xml"/>`);
  return `<Relationships>${list.join('')}</Relationships>`;
}

function sheetXml(rows: TestCell[][], merged: string[], texts: string[]): string {
  const lines = rows.map((cells, i) => {
    const written = cells.map((cell, j) => cellXml(cell, `${letters(j)}${i + 1}`, texts));
    return `<row r="${i + 1}">${written.join('')}</row>`;
  });
  const areas = merged.map((area) => `<mergeCell ref="${area}"/>`).join('');
  return `<worksheet><sheetData>${lines.join('')}</sheetData><mergeCells>${areas}</mergeCells></worksheet>`;
}

function cellXml(cell: TestCell, place: string, texts: string[]): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return `<c r="${place}" s="0"><v>${cell}</v></c>`;
  if (typeof cell === 'string') {
    texts.push(cell);
    return `<c r="${place}" t="s"><v>${texts.length - 1}</v></c>`;
  }
  if ('day' in cell) return `<c r="${place}" s="1"><f>TODAY()</f><v>${cell.day}</v></c>`;
  return `<c r="${place}" s="2"><v>${cell.padded}</v></c>`;
}

function letters(column: number): string {
  const last = String.fromCharCode(65 + (column % 26));
  return column < 26 ? last : `${letters(Math.floor(column / 26) - 1)}${last}`;
}
