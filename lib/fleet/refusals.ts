/** What is said when a whole file cannot be used. */

import { InputError } from '../errors.js';
import { amount } from '../numeric/words.js';
import type { RowBook } from './rowBook.js';

/** A header alone. */
export function noRows(file: string): InputError {
  return new InputError('The file has a header and no rows.', { file }, 'Export the rows as well.');
}

/** No row of a needed file can be used: the first reason stands for all, with how many rows have each. */
export function nothingUsable(book: RowBook): InputError {
  const problems = book.problems().filter((problem) => problem.done === 'set aside' && problem.row !== null);
  const first = problems[0];
  const rows = book.count().rowsIn;
  return new InputError(
    `${rows === 1 ? 'The only row cannot' : `None of the ${amount(rows, 9)} rows can`} be used. ${first?.text ?? ''}`.trim(),
    {
      file: book.file,
      ...(first === undefined || first.row === null ? {} : { row: first.row }),
      ...(first === undefined || first.column === null ? {} : { column: first.column }),
      ...(first === undefined || first.value === null ? {} : { value: first.value }),
    },
    first?.todo ?? 'Check the file.',
  );
}
