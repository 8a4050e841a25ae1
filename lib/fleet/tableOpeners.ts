/** How a table is opened once it is known where it comes from. */
import { tidyText } from './cell.js';
import { type Cleaning, isOn } from './cleaning/rules.js';
import type { CsvFile, HistoryFile } from './columnNames.js';
import { type ColumnWords, columnWordsFor, columnWordsOver } from './columnWords.js';
import { type CsvTable, openTable } from './csvTable.js';
import { distinctPositions } from './distinctPositions.js';
import { joinedTable, type PlainText } from './joinedTable.js';
import { type OpenedText, withJointColumns } from './jointColumns.js';
import { columnWordsOf, type Mappings, wordsOf } from './mappings.js';
import { type RowBook, rowBook } from './rowBook.js';
import type { FileFormat } from './written/types.js';

/** Opens a table with the plant's own words, telling its book where it comes from. */
export type TableOpener = (mappings: Mappings, book: RowBook) => CsvTable;

/** The text of a table with how it is written, beyond what is said of its format. */
export type Source = (format: FileFormat, book: RowBook) => OpenedText;

export interface FoundPart {
  source: Source;
  workbook: string | null;
  /** What it is called among several; null where it is the only one. */
  name: string | null;
  /** Names of columns and format of its own. */
  columns: ColumnWords;
  format: FileFormat;
}

/** One file, or several that are joined. */
export type Found = readonly FoundPart[];

/** The table of one file, or of several that are joined. */
export function opensTable(file: CsvFile, found: Found): TableOpener {
  return (mappings, book) => {
    const { cleaning } = mappings;
    const format = mappings.formats.get(file) ?? {};
    const words = columnWordsOf(mappings, file);
    const open = (part: FoundPart, own: RowBook): CsvTable =>
      openPart(
        file,
        part,
        { ...format, ...part.format },
        columnWordsOver(part.columns, words),
        cleaning,
        own,
      );
    const sameRows = isOn(cleaning, 'repeated_rows') ? plainTexts(mappings) : null;
    return openAll(file, found, open, book, sameRows);
  };
}

/** The table of one file, or that of several. */
function openAll(
  file: CsvFile,
  found: Found,
  open: (part: FoundPart, book: RowBook) => CsvTable,
  book: RowBook,
  sameRows: PlainText | null,
): CsvTable {
  const [first] = found;
  if (first?.name === null) return open(first, book);
  const parts = found.map((part) => ({ name: part.name ?? '', open: (own: RowBook) => open(part, own) }));
  return joinedTable(file, parts, book, sameRows);
}

function openPart(
  file: CsvFile,
  { source }: FoundPart,
  format: FileFormat,
  words: ColumnWords,
  cleaning: Cleaning,
  book: RowBook,
): CsvTable {
  const opened = withJointColumns(file, source(format, book), words, book);
  const ways = { renamed: opened.renamed, format: { ...opened.format, cleaning } };
  return openTable(file, opened.text, ways, book);
}

/** Words and tags as they will be read. */
function plainTexts(mappings: Mappings): PlainText {
  return (column, raw) => {
    const text = tidyText(raw);
    if (column === 'position') return (mappings.aliases.get(text) ?? text).toLowerCase();
    return wordsOf(mappings, column).get(text.toLowerCase()) ?? text.toLowerCase();
  };
}

/** The positions of a table of the history; what is told of the file itself is told with the history. */
export function opensPositions(from: HistoryFile, found: Found): TableOpener {
  return (mappings, book) => {
    const aside = rowBook('positions.csv');
    const format = mappings.formats.get(from) ?? {};
    const own = mappings.formats.get('positions.csv')?.units;
    const words = columnWordsOf(mappings, 'positions.csv');
    const open = (part: FoundPart, partAside: RowBook): CsvTable => {
      const units = { ...format.units, ...part.format.units, ...own };
      const shared = columnWordsFor(part.columns, SHARED);
      const ways = { ...format, ...part.format, units };
      const one = { ...part, source: (given: FileFormat) => part.source(given, rowBook('positions.csv')) };
      return openPart(
        'positions.csv',
        one,
        ways,
        columnWordsOver(shared, words),
        mappings.cleaning,
        partAside,
      );
    };
    const rows = openAll('positions.csv', found, open, aside, null);
    for (const problem of aside.problems()) {
      if (problem.code === 'column-mapping-unused') book.leaveOut(problem.column, problem.value, problem);
    }
    return distinctPositions(rows, book, mappings.aliases, from);
  };
}

/** Columns of a history that positions taken from it have too. */
const SHARED = ['position', 'size'];
