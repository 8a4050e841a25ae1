/** Rows as a table in a notebook: markup where pages are shown, aligned text elsewhere. */
import type { Cell, ChartTable } from '../chart/types.js';
import { UsageError } from '../errors.js';
import { amount } from '../numeric/words.js';
import { escapeText } from './escape.js';
import { displayInNotebook, type Kinds } from './tslab.js';

/** Cells by column name, with the unit in the name; null is an empty cell. */
export type TableRow = Readonly<Record<string, Cell>>;

/** Digits of a number that is not written as text already; a whole number keeps all of its own. */
const DIGITS = 4;
const WHOLE_DIGITS = 15;
/** Columns of cells up to this many characters stay on one line each; names in the first may be longer. */
const ONE_LINE = 26;
const NAME_ON_ONE_LINE = 40;
/** A number, with what belongs to it: a range, a unit. Nothing is one too. */
const NUMBER = /^$|^[−-]?\d.{0,24}$/;

/**
 * Shows rows, or the numbers of a chart (`chart.table`), below the cell, with what they are as caption. Numbers that are not whole are rounded to
 * four digits; columns of numbers stand to the right. Throws UsageError without a row, where a row has other columns than the first, and
 * outside a running notebook.
 */
export function showTable(table: readonly TableRow[] | ChartTable, caption: string): void {
  displayInNotebook(tableData(table, caption), (tslab, kinds) => tslab.html(String(kinds['text/html'])));
}

/** The same as a display: its kinds. */
export function tableData(table: readonly TableRow[] | ChartTable, caption: string): Kinds {
  const { columns, rows } = 'columns' in table ? table : tableOf(table);
  const cells = rows.map((row) => row.map(cellText));
  const right = columns.map((_, c) => c > 0 && cells.every((row) => NUMBER.test(row[c] ?? '')));
  return {
    'text/html': markup(columns, cells, right, caption),
    'text/plain': `${caption}\n${aligned([columns, ...cells], right)}`,
  };
}

function tableOf(rows: readonly TableRow[]): ChartTable {
  const columns = columnsOf(rows);
  return { columns, rows: rows.map((row) => columns.map((column) => row[column] ?? null)) };
}

function columnsOf(rows: readonly TableRow[]): string[] {
  const [first] = rows;
  if (first === undefined) throw new UsageError('showTable', 'there must be at least one row.', rows);
  const columns = Object.keys(first);
  const other = rows.find((row) => Object.keys(row).join() !== columns.join());
  if (other !== undefined)
    throw new UsageError('showTable', `every row needs the columns ${columns.join(', ')}.`, other);
  return columns;
}

function cellText(cell: Cell): string {
  if (typeof cell !== 'number') return cell ?? '';
  return amount(cell, Number.isInteger(cell) ? WHOLE_DIGITS : DIGITS);
}

function markup(columns: string[], cells: string[][], right: boolean[], caption: string): string {
  const side = (c: number): string => (right[c] ? ' style="text-align:right"' : ' style="text-align:left"');
  const head = columns.map((column, c) => `<th scope="col"${side(c)}>${escapeText(column)}</th>`).join('');
  const whole = columns.map((_, c) =>
    cells.every((row) => (row[c]?.length ?? 0) <= (c === 0 ? NAME_ON_ONE_LINE : ONE_LINE)),
  );
  const body = cells.map((row) => {
    const tags = row.map((text, c) => {
      const style = ` style="text-align:${right[c] ? 'right' : 'left'}${whole[c] ? ';white-space:nowrap' : ';min-width:14em'}"`;
      return c === 0
        ? `<th scope="row"${style}>${escapeText(text)}</th>`
        : `<td${style}>${escapeText(text)}</td>`;
    });
    return `<tr>${tags.join('')}</tr>`;
  });
  return `<table><caption style="text-align:left">${escapeText(caption)}</caption>\n<thead><tr>${head}</tr></thead>\n<tbody>\n${body.join('\n')}\n</tbody></table>`;
}

/** Columns two blanks apart, with a line under the heads. */
function aligned(lines: string[][], right: boolean[]): string {
  const widths = right.map((_, c) => Math.max(...lines.map((line) => line[c]?.length ?? 0)));
  const text = (line: string[]): string =>
    line
      .map((cell, c) => (right[c] ? cell.padStart(widths[c] ?? 0) : cell.padEnd(widths[c] ?? 0)))
      .join('  ')
      .trimEnd();
  const [head = [], ...rows] = lines;
  return [text(head), widths.map((width) => '-'.repeat(width)).join('  '), ...rows.map(text)].join('\n');
}
