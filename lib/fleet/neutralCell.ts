/**
 * Cells that a spreadsheet would run: what begins with = + - @, their full-width forms, a tab or a line end. On the way out such a
 * text gets an apostrophe in front, which spreadsheets do not show; on the way in it is taken off again.
 */
const RUNS = /^'*[=+\-@\t\r\n＝＋－＠]/;
const MARKED = /^'+[=+\-@\t\r\n＝＋－＠]/;
const PLAIN_NUMBER = /^[+-]?\d+(\.\d+)?$/;
const APOSTROPHE = 39;

/** The text as it may stand in a file; plain numbers stay as they are, and a text that has an apostrophe there already gets one more. */
export function neutralCell(text: string): string {
  return RUNS.test(text) && !PLAIN_NUMBER.test(text) ? `'${text}` : text;
}

/** The text that `neutralCell` was given, and every text that it leaves alone. */
export function restoredCell(cell: string): string {
  return cell.charCodeAt(0) === APOSTROPHE && MARKED.test(cell) ? cell.slice(1) : cell;
}
