/**
 * Two kinds of things go wrong, and each has its class.
 *
 * `InputError`: the plant's files or settings cannot be used. The message is for the person who keeps
 * them: it names file, row, column and value and says what to do.
 * `UsageError`: a function was called with nonsense. The message is for the programmer: it names the
 * function, the rule and the value received.
 */

/** Where in the plant's files a fault sits. Rows count data rows from 1, so row 1 is the line under the header. */
export interface Place {
  file?: string;
  row?: number;
  column?: string;
  value?: string;
}

/** The plant's files or settings cannot be used as they are. */
export class InputError extends Error {
  override readonly name = 'InputError';
  readonly place: Place;
  /** What the reader of the message should do. */
  readonly todo: string;

  constructor(what: string, place: Place, todo: string) {
    super(`${placeText(place)}${what} ${todo}`.trim());
    this.place = place;
    this.todo = todo;
  }
}

/** A function was called with arguments that make no sense. */
export class UsageError extends Error {
  override readonly name = 'UsageError';

  constructor(where: string, rule: string, received?: unknown) {
    super(`${where}: ${rule}${received === undefined ? '' : ` Received ${show(received)}.`}`);
  }
}

function placeText({ file, row, column, value }: Place): string {
  const parts = [
    file,
    row === undefined ? undefined : `row ${row}`,
    column === undefined ? undefined : `column ${column}`,
    value === undefined ? undefined : `value "${value}"`,
  ].filter((part) => part !== undefined);
  return parts.length === 0 ? '' : `${parts.join(', ')}: `;
}

function show(value: unknown): string {
  return typeof value === 'string' ? `"${value}"` : String(value);
}
