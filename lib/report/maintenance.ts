/** The maintenance supervisor's part: the next shutdown, what fits, what is short, and the list to take along. */

import { backlogChart } from '../chart/backlogChart.js';
import { shutdownLoad } from '../chart/shutdownLoad.js';
import type { Chart } from '../chart/types.js';
import { amount, count, dateWords, hoursWords, listed, money, spanWords } from '../chart/words.js';
import { backlogAhead } from '../interval/backlogAhead.js';
import type { ShutdownLoad, ShutdownTask } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { kitTable } from './kits.js';
import { bullets, dataTable, folded, type Html, html, name, prose } from './markup.js';
import { optimumPart } from './optimum.js';
import { kitOf, type Window, windowsOf } from './pickLists.js';
import { lineSentence } from './recurrence.js';
import { shortPartsPoint } from './shortParts.js';
import {
  contentsText,
  craftHours,
  craftTable,
  craftText,
  lineTable,
  notFitting,
  planned,
  shortTable,
  taskTable,
} from './shutdowns.js';
import { standOutSentence } from './standOuts.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';

/** Positions of the next shutdown that are listed, and of all together; longer lists are in shutdown-plan.csv. */
const MOST_NEXT = 2000;
const MOST_POSITIONS = 600;
const MOST_PARTS = 60;
const MOST_LEFT = 60;

function windowKey({ start, shutdown }: { start: string; shutdown: string }): string {
  return JSON.stringify([start, shutdown]);
}

/** The first shutdown with something to do, or null. */
export function nextWindow(plan: Plan): Window | null {
  return windowsOf(plan).find(({ tasks, load }) => tasks.length + load.leftInPlace.length > 0) ?? null;
}

export function maintenancePart(plan: Plan, figures: Figures): Html {
  const next = nextWindow(plan);
  const body =
    next === null
      ? html`<p class="lead">${SENTENCE.noReplacementFallsIntoTimePlanned}</p>`
      : html`${nextPart(plan, next)}<h3>${HEADING.allShutdowns}</h3>
<div class="figures">${figures.all(shutdownCharts(plan))}</div>
${laterPart(plan, next)}${optimumPart(plan)}${opportunityPart(plan)}`;
  return html`<section id="maintenance" aria-labelledby="maintenance-title">
<h2 id="maintenance-title">${HEADING.maintenanceWhatReplaceNextShutdown}</h2>
${body}${lineSentence(plan)}${standOutSentence(plan)}</section>
`;
}

/** Hours against the crew's, and, where positions are past their interval, how that goes. */
function shutdownCharts({ shutdowns, shutdownPlan, dueDates, backlog, site }: Plan): Chart[] {
  const load = shutdownLoad(shutdowns, shutdownPlan);
  if (backlog.overdueNow === 0) return [load];
  return [load, backlogChart(backlogAhead(dueDates, shutdownPlan, site.dataUntil))];
}

function nextPart(plan: Plan, next: Window): Html {
  const { load, tasks } = next;
  const shown = tasks.slice(0, MOST_NEXT);
  const fits = planned(shown);
  const { currency } = plan.site;
  return html`<p class="lead"><b>${name(load.shutdown)}</b>, ${dateWords(load.start)} to ${dateWords(load.end)}: ${crewText(next)}</p>
${bullets([...shortPoints(next, currency), ...partsPoints(plan, load), ...afterPoints(next)])}${craftTable(tasks, load)}${shortTable(tasks, currency)}<h3>${HEADING.partsShortForIt}</h3>
${partsPart(plan, load)}<h3>${HEADING.workByLine}</h3>
${lineTable(tasks)}${leftTable(load)}<h3>Task list to take along: ${name(load.shutdown)}</h3>
<p class="small">${SENTENCE.printWithLotTakeEachRoom}</p>
${taskTable(fits, `${count(fits.length, 'replacement')} by line and position`)}${restText(tasks.length - shown.length)}`;
}

/** What to do where a line is down for another reason: nothing, or replace what is old enough. */
function opportunityPart({ intervals }: Plan): Html {
  const own = intervals.filter(({ opportunityDays, positions }) => opportunityDays !== null && positions > 0);
  const every = html`<p class="small">${SENTENCE.whereDueDaysAre}</p>`;
  if (own.length === 0) return every;
  const shown = own.slice(0, MOST_PARTS);
  const rest = own.length > shown.length ? ` (first ${MOST_PARTS} of ${own.length})` : '';
  return html`<h3>${HEADING.ifLineDownAnotherReason}</h3>
<p>${SENTENCE.whatIsOpenedGetsNew}</p>
${dataTable({
  caption: `Worth replacing while its line is down anyway${rest}`,
  compact: true,
  columns: [{ title: COLUMN.group }, { title: COLUMN.interval }, { title: COLUMN.fromThisAgeOn }],
  rows: shown.map(({ group, days, opportunityDays }) => [
    prose(group),
    spanWords(days),
    html`<b>${spanWords(opportunityDays)}</b>`,
  ]),
})}${every}`;
}

/** What fits, against the hours of the crew. */
function crewText({ load, tasks }: Window): Html {
  const [fits, rest] = [planned(tasks), notFitting(tasks)];
  const crew =
    load.crewHours === null
      ? 'no crew hours are given, so all of it is taken to fit'
      : `of ${hoursWords(load.crewHours)} of the crew`;
  const left = rest.length === 0 ? '' : ` ${count(rest.length, 'does', 'do')} not fit.`;
  return html`<b>${count(fits.length, 'replacement')}</b>, ${hoursWords(load.hoursPlanned)} ${crew}.${left}`;
}

/** How many hours of which craft would make all fit, and what waiting costs. */
function shortPoints({ load, tasks }: Window, currency: string): Html[] {
  const rest = notFitting(tasks);
  if (rest.length === 0) return [];
  const known = rest.flatMap(({ costOfWaiting }) => (costOfWaiting === null ? [] : [costOfWaiting]));
  const cost = known.reduce((all, each) => all + each, 0);
  const waiting =
    cost > 0
      ? `Leaving them until their next windows costs ${money(cost, currency)} on average: leaks if left, less the leaks of fresh ones over the same time.`
      : 'Leaving them until their next windows costs nothing on average: fresh ones are expected to leak for at least as much over the same time.';
  const lines = [...new Set(rest.map(({ line }) => (line === '' ? 'no line given' : line)))].sort();
  return [
    lackText(load, rest),
    html`${waiting}`,
    html`They are on ${prose(listed(lines, 12))}; the table below has them in the order in which to add them.`,
  ];
}

/** What would make all of it fit. */
function lackText(
  { crewHours, hoursPlanned, hoursNeeded }: ShutdownLoad,
  rest: readonly ShutdownTask[],
): Html {
  const work = craftText(craftHours(rest));
  if (crewHours !== null && rest.every(({ shortOf }) => shortOf === 'crew hours')) {
    const free = crewHours - hoursPlanned;
    const unused = free < 0.05 ? '' : `, less ${hoursWords(free)} of crew hours that are left over`;
    return html`<b>${hoursWords(hoursNeeded - crewHours)} more make all of it fit</b>: the work left over takes ${work}${unused}.`;
  }
  const free = (crewHours ?? Infinity) - hoursPlanned;
  const over =
    hoursNeeded - hoursPlanned > free
      ? `; of the crew’s hours ${hoursWords(Math.max(free, 0))} are left`
      : '';
  return html`<b>They do not fit: ${lackWords(rest)}</b>. The work left over takes ${work}${over}.`;
}

/** "6 for want of diaphragms that can be there by then". */
function lackWords(rest: readonly ShutdownTask[]): string {
  const short = Object.entries(LACK).flatMap(([kind, words]) => {
    const number = rest.filter(({ shortOf }) => shortOf === kind).length;
    return number === 0 ? [] : [`${amount(number, 9)} for want of ${words}`];
  });
  return listed(short);
}

/** What does not fit into a window and what would mend it, for the top of the page; nothing where all fits. */
export function shortAnswer({ load, tasks }: Window): string {
  const rest = notFitting(tasks);
  if (rest.length === 0) return '';
  const left = ` ${count(rest.length, 'does', 'do')} not fit: `;
  const hoursOnly = load.crewHours !== null && rest.every(({ shortOf }) => shortOf === 'crew hours');
  return hoursOnly
    ? `${left}${hoursWords(load.hoursNeeded - (load.crewHours ?? 0))} more of the crew would do.`
    : `${left}${lackWords(rest)}.`;
}

const LACK: Readonly<Record<NonNullable<ShutdownTask['shortOf']>, string>> = {
  'crew hours': 'crew hours',
  'fitter hours': 'hours of fitters',
  'instrument hours': 'hours of instrument fitters',
  replacements: 'replacements allowed (most_replacements)',
  lines: 'lines that may be down (most_lines)',
  stock: 'diaphragms that can be there by then',
  closed: 'leave to touch them (not_on)',
};

/** The slot after start-up, outside the window. */
function afterPoints({ load }: Window): Html[] {
  if (load.hoursAfterStartUp <= 0) return [];
  return [
    html`<b>After start-up:</b> plan ${hoursWords(load.hoursAfterStartUp)} of fitters to re-tighten, cold, after the first steam cycle. These hours lie outside the window and are not taken from its crew hours.`,
  ];
}

function leftTable({ leftInPlace }: ShutdownLoad): Html | null {
  if (leftInPlace.length === 0) return null;
  const shown = leftInPlace.slice(0, MOST_LEFT);
  const rest = leftInPlace.length > shown.length ? ` (first ${MOST_LEFT} of ${leftInPlace.length})` : '';
  return dataTable({
    caption: `Due by their interval and better left${rest}`,
    compact: true,
    cards: true,
    columns: [{ title: COLUMN.position }, { title: COLUMN.line }, { title: COLUMN.because }],
    rows: shown.map(({ position, line, because }) => [
      name(position),
      name(line),
      html`<div class="reason">${prose(because)}</div>`,
    ]),
  });
}

function partsPoints({ kits, site }: Plan, load: ShutdownLoad): Html[] {
  const point = shortPartsPoint(kitOf(kits, load), site.dataUntil);
  return point === null ? [] : [point];
}

/** Items whose kit for this shutdown takes more than the shelf is expected to hold on the day. */
function partsPart({ kits, stock, site }: Plan, load: ShutdownLoad): Html {
  if (stock.length === 0) return html`<p>${SENTENCE.noStockListForParts}</p>`;
  const rows = kitOf(kits, load);
  const lacking = rows.filter(({ layOut, taken }) => (taken?.shelf ?? 0) < layOut);
  if (lacking.length === 0) return html`<p>${SENTENCE.shelfHoldsEnoughEveryPartThis}</p>`;
  const rest = lacking.length > MOST_PARTS ? ` (first ${MOST_PARTS} of ${lacking.length})` : '';
  return kitTable(
    `Parts of which the kit takes more than the shelf is expected to hold on ${dateWords(load.start)}${rest}`,
    lacking.slice(0, MOST_PARTS),
    site.dataUntil,
  );
}

/** Later shutdowns, folded. */
function laterPart(plan: Plan, next: Window): Html {
  let room = Math.max(0, MOST_POSITIONS - next.tasks.length);
  let left = 0;
  const parts: Html[] = [];
  for (const window of windowsOf(plan)) {
    if (windowKey(window.load) === windowKey(next.load) || window.tasks.length === 0) continue;
    const shown = window.tasks.slice(0, room);
    left += window.tasks.length - shown.length;
    room -= shown.length;
    parts.push(laterWindow(window, shown, plan.site.currency));
  }
  return html`${parts}${restText(left)}`;
}

function laterWindow({ load, tasks }: Window, shown: readonly ShutdownTask[], currency: string): Html {
  const after =
    load.hoursAfterStartUp > 0 ? `; after start-up ${hoursWords(load.hoursAfterStartUp)} of fitters` : '';
  return folded(
    html`<b>${name(load.shutdown)}</b>, ${dateWords(load.start)}: ${contentsText(tasks)}${after}`,
    html`${lineTable(tasks)}${shortTable(tasks, currency)}${leftTable(load)}${taskTable(planned(shown), 'By line and position')}`,
    'see shutdown-plan.csv',
  );
}

function restText(left: number): Html | null {
  return left <= 0
    ? null
    : html`<p class="small">${count(left, 'more position is', 'more positions are')} in shutdown-plan.csv.</p>`;
}
