/** What was found in one file by kind, counted over all rows: problems are listed up to a limit, these counts have none. */
import type { Done } from '../../findings.js';
import type { RowBook } from '../rowBook.js';

/** How often one thing was found in one file. */
export interface FileTally {
  file: string;
  code: string;
  done: Done;
  /** Rows or cells. */
  times: number;
  /** Row of the first; null where a whole file, column or setting is meant, and then no row is counted. */
  row: number | null;
  /** Column and cell of the first; null where a whole row is meant. */
  column: string | null;
  value: string | null;
  /** What is said of the first. */
  text: string;
  /** What the plant can do about it. */
  todo: string;
}

export function fileTallies(book: RowBook): FileTally[] {
  const said = new Map(
    [...book.problems()].reverse().map((problem) => [`${problem.code} ${problem.done}`, problem]),
  );
  return book.tallies().map(({ code, done, times, examples }) => {
    const first = examples[0];
    const problem = said.get(`${code} ${done}`);
    return {
      file: book.file,
      code,
      done,
      times,
      row: first?.row ?? null,
      column: first?.column ?? null,
      value: first?.value ?? null,
      text: problem?.text ?? '',
      todo: problem?.todo ?? '',
    };
  });
}
