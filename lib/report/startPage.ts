/** The page of an empty fleet folder: what to fill first, where plants usually find it, and what each column means. */
import { COLUMN_GUIDE } from '../fleet/columnGuide.js';
import { CSV_COLUMNS, CSV_FILES, type CsvFile } from '../fleet/columnNames.js';
import { dataTable, type Html, html } from './markup.js';
import { wholePage } from './page.js';
import { STYLE } from './style.js';

/** What to do, in the order that soonest gives an answer. Where things are found is common practice, no source. */
const STEPS: readonly { files: string; what: string; where: string; gives: string }[] = [
  {
    files: 'positions.csv',
    what: 'One row for each diaphragm valve that is in service: tag and size; then line and criticality.',
    where:
      'Valve list of the engineering department, list of technical places in the maintenance system, flow diagrams.',
    gives: 'Nothing yet, but everything stands on it.',
  },
  {
    files: 'lives.csv',
    what: 'One row for each diaphragm that was ever fitted, those still in place too: position, material, fitted, removed, reason.',
    where:
      'Work orders with a diaphragm among their parts, log books at the line, qualification and leak-test records, issues of stores by cost centre.',
    gives: 'Life of each group with its range, interval, demand. Fifty rows are enough to begin.',
  },
  {
    files: 'work-orders.csv',
    what: 'In place of lives.csv: one row for each job at a valve, as the maintenance system has them: position, date, what was done, reason.',
    where:
      'Export of the work orders of the valves. Say in site.json under "values", "work", what your words mean.',
    gives: 'The same: lives are built from one opening to the next.',
  },
  {
    files: 'site.json: records_from, data_until',
    what: 'The first day from which no replacement is missing, and the day of the export.',
    where: 'The day the maintenance system came into use, or the first page of the log book.',
    gives: 'Ages that are neither too long nor too short.',
  },
  {
    files: 'site.json: money',
    what: 'An hour of downtime, how long a leak stops a line, what a batch is worth and how often a leak loses one.',
    where: 'Controlling, production planning, deviation reports of the last leaks.',
    gives: 'Intervals at least cost; without them only what is known of wear.',
  },
  {
    files: 'shutdowns.csv',
    what: 'The windows of the next two years, with the hours that the crew has for diaphragms.',
    where: 'Production calendar, shutdown planning.',
    gives: 'A list for each shutdown and what its kit needs.',
  },
  {
    files: 'items.csv, orders.csv, lots.csv',
    what: 'Part number of each material and size, price, lead time, what is on the shelf and what is on order; lots with their cure dates.',
    where: 'Stores system, open orders of purchasing, labels and certificates of the lots.',
    gives: 'What to order by when, what expires, what is short.',
  },
  {
    files: 'readings.csv',
    what: 'Counters of strokes, steam cycles and hot cleans, a few a year for each position.',
    where: 'Control system: counters of valves and of sterilising cycles; batch records.',
    gives: 'Intervals by what wears a diaphragm, not by days alone.',
  },
  {
    files: 'positions.csv: steam_temperature_c, steam_hold_minutes, ...',
    what: 'How hot steam and hot cleans are and how long they are held; what runs through the valve the rest of the time.',
    where: 'Recipes of sterilising and cleaning, qualification records.',
    gives: 'Heat as one more clock: hotter or longer steam counts for more cycles.',
  },
];

export function startPage(): string {
  const body = html`<h1>Start here</h1>
<p class="lead">Fill the tables in this order. Positions and a history give a first answer; each further one adds what stands beside it.</p>
<p>Each table has one row of examples, which begins with EXAMPLE. It is never read as data; write your own rows below it and take it
out. An export of your own may take the place of a table as it is, with its own names of columns: say in site.json which is which,
or let <code>weirwise map</code> propose it.</p>
${stepsTable()}
<p class="caution">Results support a decision and do not replace it. The maker's limits, local codes for pressure equipment, change control
and qualified practice come first. Before a valve is opened: isolate, depressurise, drain, cool and lock out.</p>
<h2>What each column means</h2>
${CSV_FILES.map(columnTable)}`;
  return wholePage({ title: 'Start here: an empty fleet folder', style: STYLE, body });
}

function stepsTable(): Html {
  return dataTable({
    caption: 'What to fill first, and where plants usually find it (common practice, no source)',
    columns: ['File', 'What to fill in', 'Where it usually is', 'What it gives'].map((title) => ({ title })),
    rows: STEPS.map(({ files, what, where, gives }, i) => [`${i + 1}. ${files}`, what, where, gives]),
    cards: true,
  });
}

function columnTable(file: CsvFile): Html {
  const { about, columns } = COLUMN_GUIDE[file];
  const needed: readonly string[] = CSV_COLUMNS[file].needed;
  return html`<h3>${file}</h3>
${dataTable({
  caption: about,
  columns: ['Column', 'Meaning', 'Unit', 'Needed', 'Example'].map((title) => ({ title })),
  rows: Object.entries(columns).map(([column, { meaning, unit, example }]) => [
    column,
    meaning,
    unit,
    needed.includes(column) ? 'yes' : '',
    example,
  ]),
  cards: true,
})}`;
}
