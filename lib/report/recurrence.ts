/** Leaks that come again: lines that leak more than others, and whether new diaphragms last as long as old ones did. */
import { leaksByLine } from '../chart/leaksByLine.js';
import { differingLines, lineName } from '../chart/leaksByLineWords.js';
import type { Chart } from '../chart/types.js';
import { amount, count, listed, pValueWords, range } from '../chart/words.js';
import type { LineLeaks, Recurrence, RenewalFinding } from '../group/recurrence/types.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { bullets, dataTable, folded, type Html, html, name, prose } from './markup.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';

const MOST_ROWS = 100;
const MOST_NAMED = 6;

/** The charts of the part: known as soon as leaks are counted. */
export function recurrenceCharts({ recurrence }: Pick<Plan, 'recurrence'>): Chart[] {
  return recurrence.plant.curve === null ? [] : [leaksByLine(recurrence)];
}

/** Nothing where no position was watched. */
export function recurrencePart({ recurrence }: Pick<Plan, 'recurrence'>, figures: Figures): Html | null {
  const { plant, renewal, notes } = recurrence;
  if (plant.curve === null) return null;
  return html`<h3>${HEADING.leaksThatComeAgain}</h3>
<p><b>${SENTENCE.doNewOnesLastAsLong}</b> ${prose(renewal.plant.text)} ${prose(renewal.plant.todo)}</p>
<div class="figures">${figures.all(recurrenceCharts({ recurrence }))}</div>
${lineTable(recurrence)}${renewalPart(renewal.groups)}${ratePart(recurrence)}${bullets(notes.map((note) => prose(note)))}`;
}

/** Lines that differ first, the clearest of them on top. */
function ordered({ lines }: Pick<Recurrence, 'lines'>): LineLeaks[] {
  const [more, less] = [differingLines(lines, 'more'), differingLines(lines, 'less')];
  return [...more, ...less, ...lines.filter((line) => !more.includes(line) && !less.includes(line))];
}

function lineTable(recurrence: Recurrence): Html {
  const { lines, rate } = recurrence;
  const shown = ordered(recurrence).slice(0, MOST_ROWS);
  const rest =
    lines.length > shown.length ? ` (first ${shown.length} of ${lines.length}; all in recurrence.csv)` : '';
  return dataTable({
    caption: `Leaks by line, those that differ first: of these about one in ${Math.round(1 / rate)} may do so by chance. Ranges at 90 %${rest}`,
    columns: [
      { title: COLUMN.line },
      { title: COLUMN.leaks, number: true },
      { title: COLUMN.positions, number: true },
      { title: COLUMN.leaksPerPositionYear },
      { title: COLUMN.timesAsOften },
      { title: COLUMN.difference },
    ],
    rows: shown.map((line) => [
      name(lineName(line)),
      line.leaks,
      line.positions,
      line.perYear === null ? 'not watched' : rangedCell(line.perYear),
      line.times === null ? '' : rangedCell(line.times),
      differenceCell(line),
    ]),
    cards: true,
  });
}

function rangedCell({ estimate, low, high }: { estimate: number; low: number; high: number | null }): Html {
  const bounds = high === null ? `${amount(low, 2)} or more` : range(low, high, (each) => amount(each, 2));
  return html`<span class="day">${amount(estimate, 2)}</span><br><span class="small">${bounds}</span>`;
}

function differenceCell({ differs, text, todo }: LineLeaks): Html | string {
  if (differs === 'no') return todo === '' ? 'none seen' : html`none seen. ${prose(todo)}`;
  if (differs === 'cannot tell') return prose(text);
  return html`<b>${differs} often</b>. ${prose(todo)}`;
}

function renewalPart(groups: readonly RenewalFinding[]): Html | null {
  if (groups.length === 0) return null;
  const rank = { trend: 0, renewal: 1, 'cannot tell': 2 };
  const sorted = [...groups].sort((a, b) => rank[a.verdict] - rank[b.verdict]);
  const points = sorted
    .slice(0, MOST_ROWS)
    .map(
      ({ group, verdict, text, todo }) =>
        html`<b>${prose(group ?? '')}</b>: ${prose(text)} ${verdict === 'renewal' ? null : html`${prose(todo)}`}`,
    );
  const told = groups.filter(({ verdict }) => verdict === 'trend').length;
  return folded(
    html`<b>Do new diaphragms last as long, group by group</b>: ${told === 0 ? 'no clear change in any' : `lives change in ${count(told, 'group')}`}`,
    html`<p>${SENTENCE.howRenewalIsJudged}</p>
${bullets(points)}`,
    true,
  );
}

/** Tests of a constant rate, under their label. */
function ratePart({ plant, lines, trendLabel, spread }: Recurrence): Html | null {
  if (plant.trend === null) return null;
  const { laplace, chiSquare, direction } = plant.trend;
  const leaning = direction === 'none' ? 'evenly' : direction;
  const small = lines.filter(
    ({ trend }) => trend !== null && Math.min(trend.laplace, trend.chiSquare) < 0.05,
  );
  const byLine =
    lines.length < 2
      ? ''
      : ` By line one of the two is below ${amount(0.05)} on ${amount(small.length, 9)} of ${count(lines.length, 'line')} (all in recurrence.csv).`;
  return folded(
    html`<b>Laplace’s and the chi-square test</b> (${trendLabel})`,
    html`<p>${prose(`Over the plant leaks come ${leaning} as the calendar goes on: Laplace ${pValueWords(laplace)}, chi-square ${pValueWords(chiSquare)}.${byLine}`)} ${SENTENCE.whatRateTestsSay}</p>
<p>${prose(`Positions of one line differ in their rates by a variance of ${amount(spread, 2)} round a mean of 1 (0 is chance alone); ranges and the choice of lines allow for it.`)}</p>`,
    true,
  );
}

/** For the supervisor: lines that clearly leak more than the others. */
export function lineSentence({ recurrence }: Pick<Plan, 'recurrence'>): Html | null {
  const more = differingLines(recurrence.lines, 'more');
  const first = more[0];
  if (first === undefined) return null;
  const times = first.times === null ? '' : ` (${lineName(first)} ${amount(first.times.estimate, 2)} times)`;
  const names = listed(more.map(lineName), MOST_NAMED);
  return html`<p><b>${prose(`${more.length === 1 ? 'Line' : 'Lines'} ${names}`)}</b> ${prose(`${more.length === 1 ? 'leaks' : 'leak'} clearly more often than the other lines${times}.`)} ${SENTENCE.lookAtTheseLines}</p>
`;
}
