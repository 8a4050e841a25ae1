/** Second piece of the page's script: tables that can be searched, sorted, paged and taken away. */

/** Rows from which on a table is searched and sorted, and rows of one page. */
export const LONG_TABLE = 26;
export const PAGE_ROWS = 50;

/**
 * Rows that the search leaves out are hidden everywhere; rows on another page carry a class that hides them on the
 * screen alone, so that paper has all that the search left, in its order.
 */
export const TABLES = String.raw`
const natural = new Intl.Collator('en', { numeric: true });
// A cell as it goes into a CSV: plain numbers with a decimal point, and nothing that a spreadsheet would run.
/** @param {HTMLTableCellElement} cell */
const field = (cell) => {
  const text = said(cell);
  const value = cell.dataset.value && /^[−-]?\d[\d .,'’]*$/.test(text) ? cell.dataset.value : text;
  const runs = /^[=+\-@\t\r\n＝＋－＠]/.test(value) && !/^[+-]?\d+(\.\d+)?$/.test(value);
  const calm = runs ? "'" + value : value;
  return /[",\r\n]/.test(calm) ? '"' + calm.replaceAll('"', '""') + '"' : calm;
};
// What a cell is sorted by: its number or day, else its text.
/** @param {HTMLTableCellElement | undefined} cell */
const keyOf = (cell) => {
  const text = said(cell);
  if (cell?.dataset.value) return Number(cell.dataset.value);
  return cell?.className === 'number' && /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text;
};
// Numbers before texts, empty cells last either way; rows that are equal keep their order.
/** @param {string | number} a @param {string | number} b @param {number} way */
const compare = (a, b, way) => {
  if (a === '' || b === '') return Number(a === '') - Number(b === '');
  if (typeof a === 'number' && typeof b === 'number') return way * (a - b);
  if (typeof a === 'string' && typeof b === 'string') return way * natural.compare(a, b);
  return typeof a === 'number' ? -1 : 1;
};
/** @param {HTMLTableElement} table */
const enliven = (table) => {
  const box = /** @type {HTMLElement} */ (table.parentElement);
  const body = /** @type {HTMLTableSectionElement} */ (table.tBodies[0]);
  const heads = [...(table.tHead?.rows[0]?.cells ?? [])];
  const titles = heads.map(said);
  const caption = said(table.caption);
  const rows = [...body.rows];
  const foot = table.tFoot;
  const tools = make('div', { className: 'tools' + (table.classList.contains('cards') ? ' cards-tools' : '') });
  let found = rows;
  const csv = button('CSV', caption, () => {
    const lines = [heads, ...[...found, ...(foot?.hidden === false ? foot.rows : [])].map((row) => [...row.cells])].map((cells) => cells.map(field).join(','));
    save(caption, '.csv', new Blob(['\ufeff' + lines.join('\r\n') + '\r\n'], { type: 'text/csv' }));
  });
  box.before(tools);
  if (rows.length < LONG) {
    tools.classList.toggle('short', table.caption?.className !== 'aside');
    return void tools.append(csv);
  }
  const texts = new Map(rows.map((row) => [row, said(row).toLowerCase()]));
  /** @type {Map<HTMLTableRowElement, string | number>} */
  let keys = new Map();
  let [by, way, page, whole] = [-1, 1, 0, false];
  const state = make('span', { className: 'state' });
  state.setAttribute('role', 'status');
  const pager = make('div', { className: 'tools' });
  const show = () => {
    // What is typed as it stands; where no row has that, rows with all of its words.
    const typed = search.value.toLowerCase().trim();
    found = rows.filter((row) => texts.get(row)?.includes(typed));
    if (found.length === 0) found = rows.filter((row) => typed.split(/\s+/).every((word) => texts.get(row)?.includes(word)));
    if (by >= 0) found.sort((a, b) => compare(keys.get(a) ?? '', keys.get(b) ?? '', way));
    const pages = Math.ceil(found.length / PAGE);
    page = Math.max(0, Math.min(page, pages - 1));
    const first = whole ? 0 : page * PAGE;
    const last = whole ? found.length : Math.min(first + PAGE, found.length);
    for (const row of rows) row.hidden = true;
    found.forEach((row, i) => {
      row.hidden = false;
      row.classList.toggle('off', i < first || i >= last);
    });
    body.append(...(by < 0 && found.length === rows.length ? rows : found));
    const part = last - first < found.length ? (first + 1) + ' ' + TEXT.to + ' ' + last + ' ' + TEXT.of + ' ' : '';
    const left = found.length < rows.length;
    state.textContent = part + found.length + (left ? ' ' + TEXT.of + ' ' + rows.length : '') + ' ' + TEXT.rows;
    tools.classList.toggle('part', left);
    if (foot) foot.hidden = left;
    pager.hidden = pages < 2;
    back.disabled = whole || page < 1;
    next.disabled = whole || page >= pages - 1;
    all.textContent = whole ? TEXT.inPages : TEXT.showAll.replace('#', String(found.length));
    heads.forEach((head, i) => {
      head.setAttribute('aria-sort', i !== by ? 'none' : way > 0 ? 'ascending' : 'descending');
    });
    picker.value = by < 0 ? '' : by + (way > 0 ? '+' : '-');
  };
  /** @param {number} column @param {number} turn */
  const sort = (column, turn) => {
    [by, way, page] = [column, turn, 0];
    keys = new Map(rows.map((row) => [row, keyOf(row.cells[column])]));
    show();
  };
  /** @param {number} step */
  const turn = (step) => {
    page += step;
    show();
    tools.scrollIntoView();
  };
  const search = make('input', { type: 'search', oninput: () => { page = 0; show(); } });
  const choices = titles.flatMap((title, i) => ['+', '-'].map((sign) =>
    make('option', { value: i + sign, textContent: title + (sign === '+' ? ' ▲' : ' ▼') })));
  const picker = make('select', { onchange: () => sort(picker.value === '' ? -1 : parseInt(picker.value, 10), picker.value.endsWith('-') ? -1 : 1) },
    make('option', { value: '', textContent: TEXT.given }), ...choices);
  const back = button('◀ ' + TEXT.back, caption, () => turn(-1));
  const next = button(TEXT.next + ' ▶', caption, () => turn(1));
  const all = button('', '', () => { whole = !whole; turn(0); });
  heads.forEach((head, i) => {
    // Up, down, and back to the order that was given.
    head.replaceChildren(button(titles[i] ?? '', '', () => i !== by ? sort(i, 1) : way > 0 ? sort(i, -1) : sort(-1, 1)));
  });
  search.setAttribute('aria-label', TEXT.search + ': ' + caption);
  tools.append(make('label', {}, TEXT.search + ' ', search), make('label', { className: 'sorter' }, TEXT.sortBy + ' ', picker), state, csv);
  pager.append(back, next, all);
  box.after(pager);
  table.classList.add('live');
  show();
};
for (const table of document.querySelectorAll('.scroll > table')) enliven(/** @type {HTMLTableElement} */ (table));
`;
