/** A workbook (ISO/IEC 29500-1, SpreadsheetML) as its sheets, each a grid of texts in the plain form of our tables. */
import { workbookEntries } from './entries.js';
import { type Grid, readSheet } from './sheet.js';
import { numberStyles } from './styles.js';
import { readXml } from './xml.js';

export interface Sheet {
  name: string;
  /** Reads the cells, when they are asked for. */
  grid(): Grid;
}

/** @throws InputError where the file is no workbook or unpacks to more than `mostBytes` */
export function openWorkbook(file: string, bytes: Uint8Array, mostBytes: number): Sheet[] {
  const entries = workbookEntries(file, bytes, mostBytes);
  const targets = new Map<string, string>();
  readXml(file, 'xl/_rels/workbook.xml.rels', entries['xl/_rels/workbook.xml.rels'], {
    open: (name, { Id, Target }) => {
      if (name === 'Relationship' && Id !== undefined && Target !== undefined)
        targets.set(Id, partOf(Target));
    },
  });
  const sheets: { name: string; part: string }[] = [];
  let since1904 = false;
  readXml(file, 'xl/workbook.xml', entries['xl/workbook.xml'], {
    open: (tag, attributes) => {
      if (tag === 'workbookPr') since1904 = ['1', 'true'].includes(attributes.date1904 ?? '');
      if (tag !== 'sheet') return;
      const part = targets.get(attributes['r:id'] ?? '');
      if (part !== undefined) sheets.push({ name: attributes.name ?? '', part });
    },
  });
  const shared = once(() => sharedTexts(file, entries['xl/sharedStrings.xml']));
  const styles = once(() => numberStyles(file, entries['xl/styles.xml']));
  return sheets.map(({ name, part }) => ({
    name,
    grid: once(() => readSheet(file, part, entries[part], { shared: shared(), styles: styles(), since1904 })),
  }));
}

/** The place of a part in the file, from how the list of parts names it. */
function partOf(target: string): string {
  return target.startsWith('/') ? target.slice(1) : `xl/${target}`;
}

/** Texts that cells refer to by number: what is spoken above a letter (furigana) is no part of them. */
function sharedTexts(file: string, bytes: Uint8Array | undefined): string[] {
  const texts: string[] = [];
  const inside = { text: false, spoken: false };
  readXml(file, 'xl/sharedStrings.xml', bytes, {
    open: (name) => {
      if (name === 'si') texts.push('');
      if (name === 't') inside.text = true;
      if (name === 'rPh') inside.spoken = true;
    },
    close: (name) => {
      if (name === 't') inside.text = false;
      if (name === 'rPh') inside.spoken = false;
    },
    text: (text) => {
      if (inside.text && !inside.spoken) texts[texts.length - 1] += text;
    },
  });
  return texts;
}

function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
