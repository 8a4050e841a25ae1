/** Why a file of columns is not read. */
import { InputError } from '../../errors.js';
import { megabytes } from '../csvText.js';

export function unpacksTooLarge(file: string, mostBytes: number): InputError {
  return new InputError(
    `The file unpacks to more than ${megabytes(mostBytes)} MB.`,
    { file },
    'Leave out columns that are not needed, plan the plant in parts, or raise the limit.',
  );
}

export function tooManyCells(file: string, rows: number, columns: number, mostCells: number): InputError {
  return new InputError(
    `The file says that it holds ${rows} rows of ${columns} columns; at most ${mostCells} cells are read.`,
    { file },
    'Leave out columns that are not needed, plan the plant in parts, or raise the limit.',
  );
}

/** What a reader says of a file that it cannot make out. */
export function notReadable(file: string, format: string, cause: unknown): InputError {
  if (cause instanceof InputError) return cause;
  const reason = cause instanceof Error ? cause.message : String(cause);
  return new InputError(
    `The file cannot be read as ${format}: ${reason.slice(0, 200).replace(/\.?$/, '.')}`,
    { file },
    'Save the table again, or save it as CSV.',
  );
}
