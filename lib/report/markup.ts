/** Markup that cannot be broken by what a user typed: every value is escaped unless it is markup itself. */
import type { Cell } from '../chart/types.js';
import { plainName } from '../chart/words.js';
import { escapeText } from '../render/escape.js';
import { LONG_TABLE } from './script/tables.js';
import { sortValues } from './sortValue.js';

/** Finished markup. */
export interface Html {
  readonly markup: string;
}

type Piece = Html | string | number | null | readonly Piece[];

/** html`<p>${text}</p>`: texts and numbers are escaped, markup and lists of it go in as they are, null is nothing. */
export function html(parts: TemplateStringsArray, ...values: Piece[]): Html {
  let markup = parts[0] ?? '';
  for (let i = 0; i < values.length; i++) markup += written(values[i] ?? null) + (parts[i + 1] ?? '');
  return { markup };
}

/** Text that is markup already, such as a finished picture. */
export function trusted(markup: string): Html {
  return { markup };
}

function written(value: Piece): string {
  if (value === null) return '';
  if (typeof value === 'string') return escapeText(value);
  if (typeof value === 'number') return escapeText(String(value));
  return 'markup' in value ? value.markup : value.map(written).join('');
}

/** A name from the plant's files, kept as it is, its direction of writing shut in. */
export function name(text: string): Html {
  return html`<bdi>${text}</bdi>`;
}

/** A sentence that may hold names: marks that steer the direction of writing are taken out. */
export function prose(text: string): Html {
  return html`<span dir="auto" class="prose">${unbroken(plainName(text))}</span>`;
}

/** A sentence whose percentages do not part at the end of a line. */
export function unbroken(text: string): string {
  return text.replace(/(\d) %/g, '$1\u00a0%');
}

export interface Column {
  title: string;
  /** Numbers stand to the right. */
  number?: boolean;
}

export interface Table {
  /** Says what the table holds; read aloud and shown above it. */
  caption: string;
  columns: readonly Column[];
  /** Rows of cells; the first heads its row. */
  rows: readonly (readonly (Html | Cell)[])[];
  /** True where the last row sums the others: it stays last, and goes where the search leaves only some of them. */
  total?: boolean;
  /** Shows each row as a card on a narrow screen. */
  cards?: boolean;
  /** Small print on paper, for long lists. */
  compact?: boolean;
  /** Hides the caption from view where the heading above says the same. */
  quiet?: boolean;
}

/** A table with headers for columns and rows, in a box that scrolls sideways by itself where it must. */
export function dataTable({
  caption,
  columns,
  rows,
  cards = false,
  quiet = false,
  compact = false,
  total = false,
}: Table): Html {
  const role = (which: string): Html => trusted(cards ? ` role="${which}"` : '');
  const head = columns.map(
    (column) => html`<th scope="col"${role('columnheader')}${numberClass(column)}>${column.title}</th>`,
  );
  const values = columns.map((column, i) => valuesOf(rows, column, i));
  const body = rows.map(
    (row, r) =>
      html`<tr${role('row')}>${row.map((cell, i) => tableCell(cell, columns[i], i, role, values[i]?.[r]))}</tr>`,
  );
  const foot = total ? body.pop() : undefined;
  return html`<div class="scroll" tabindex="0" role="group" aria-label="${caption}"><table${trusted(classOf(cards, compact))}${role('table')}>
<caption${trusted(quiet ? ' class="aside"' : '')}>${caption}</caption>
<thead${role('rowgroup')}><tr${role('row')}>${head}</tr></thead>
<tbody${role('rowgroup')}>${body}</tbody>${foot === undefined ? null : html`<tfoot${role('rowgroup')}>${foot}</tfoot>`}</table></div>
`;
}

function classOf(cards: boolean, compact: boolean): string {
  const names = [...(cards ? ['cards'] : []), ...(compact ? ['compact'] : [])];
  return names.length === 0 ? '' : ` class="${names.join(' ')}"`;
}

function tableCell(
  cell: Html | Cell,
  column: Column | undefined,
  i: number,
  role: (which: string) => Html,
  sortedBy: number | null | undefined,
): Html {
  const title = role('cell').markup === '' ? '' : html` data-title="${column?.title ?? ''}"`.markup;
  const by = sortedBy === null || sortedBy === undefined ? '' : ` data-value="${sortedBy}"`;
  const label = trusted(`${title}${by}`);
  const value = typeof cell === 'string' && DATE.test(cell) ? cell.replaceAll(' ', '\u00a0') : (cell ?? '');
  if (i === 0) return html`<th scope="row"${role('rowheader')}${numberClass(column)}${label}>${value}</th>`;
  return html`<td${role('cell')}${numberClass(column)}${label}>${value}</td>`;
}

/** What to sort a column by where its text does not tell, of tables that are sorted; plain numbers for a CSV in all. */
function valuesOf(rows: Table['rows'], column: Column, i: number): readonly (number | null)[] {
  const [isNumber, isLong] = [column.number === true, rows.length >= LONG_TABLE];
  if (!isNumber && !isLong) return [];
  const texts = rows.map((row) => shownText(row[i] ?? ''));
  return sortValues(
    texts.map((text) => (isLong || PLAIN.test(text) ? text : '')),
    isNumber,
  ).map((value, r) => (String(value) === texts[r] ? null : value));
}

/** Nothing but a date: kept on one line. */
const DATE = /^\d{1,2}\.? \p{L}+\.? \d{4}$/u;
/** Nothing but a number. */
const PLAIN = /^[−+]?\d[\d.,'’ \u00a0]*$/;

/** The start of what a cell shows: numbers and dates stand there. */
function shownText(cell: Html | Cell): string {
  const isMarkup = typeof cell === 'object' && cell !== null;
  if (!isMarkup) return String(cell ?? '');
  const start = cell.markup.slice(0, LOOKED_AT);
  return /\d/.test(start) ? start.replace(/<[^>]*>?/g, ' ').trim() : 'words';
}

/** Letters of markup. */
const LOOKED_AT = 160;

function numberClass(column: Column | undefined): Html {
  return trusted(column?.number === true ? ' class="number"' : '');
}

/** A list of points, or nothing where there are none. */
export function bullets(points: readonly Html[]): Html | null {
  if (points.length === 0) return null;
  return html`<ul>${points.map((point) => html`<li>${point}</li>`)}</ul>
`;
}

/**
 * A part that is folded until it is wanted. On paper it stands open where `print` is true; else the paper says where to
 * find it: `print` in words, or that it is on the screen.
 */
export function folded(
  summary: string | Html,
  content: Html | readonly Html[],
  print: boolean | string = false,
): Html {
  if (print === true)
    return html`<details class="print"><summary>${summary}</summary>${content}</details>
`;
  const instead = print === false ? 'open it on the screen' : print;
  return html`<details><summary>${summary}<span class="paper"> (not printed: ${instead})</span></summary>${content}</details>
`;
}
