/** Tables of a shutdown: hours by craft, by line, what does not fit, and the list of tasks. */

import { amount, count, hoursText, money, percent } from '../chart/words.js';
import type { ShutdownLoad, ShutdownTask } from '../interval/types.js';
import { type Column, dataTable, type Html, html, name, prose } from './markup.js';
import { CAPTION, COLUMN } from './texts.js';
import { inWalkingOrder } from './walkingOrder.js';

const MOST_LINES = 60;
const MOST_SHORT = 100;

/** Hours of some tasks: within the window by craft, and after start-up. */
export interface CraftHours {
  fitters: number;
  instruments: number;
  afterStartUp: number;
}

/** Hours by craft of some tasks. */
export function craftHours(tasks: readonly ShutdownTask[]): CraftHours {
  return {
    fitters: tasks.reduce((all, task) => all + task.fitterHours, 0),
    instruments: tasks.reduce((all, task) => all + task.instrumentHours, 0),
    afterStartUp: tasks.reduce((all, task) => all + task.afterStartUpHours, 0),
  };
}

export const planned = (tasks: readonly ShutdownTask[]): ShutdownTask[] => tasks.filter(({ fits }) => fits);
export const notFitting = (tasks: readonly ShutdownTask[]): ShutdownTask[] =>
  tasks.filter(({ fits }) => !fits);

/** Lists of tasks with one key, in the order in which the keys first appear. */
export function byKey(tasks: readonly ShutdownTask[], key: (task: ShutdownTask) => string): ShutdownTask[][] {
  const groups = new Map<string, ShutdownTask[]>();
  for (const task of tasks) {
    const list = groups.get(key(task));
    if (list === undefined) groups.set(key(task), [task]);
    else list.push(task);
  }
  return [...groups.values()];
}

/** Hours of each craft for what fits and for what does not, with a total; crew hours are one amount for all crafts. */
export function craftTable(
  tasks: readonly ShutdownTask[],
  { crewHours, fitterHours, instrumentHours }: ShutdownLoad,
): Html {
  const fits = craftHours(planned(tasks));
  const rest = craftHours(notFitting(tasks));
  const row = (craft: string, inPlan: number, left: number, crew: string): (string | Html)[] => [
    craft,
    hoursText(inPlan),
    hoursText(left),
    hoursText(inPlan + left),
    crew,
  ];
  const crew = crewHours === null ? 'no limit given' : hoursText(crewHours);
  const own = (limit: number | null): string => (limit === null ? '' : hoursText(limit));
  return dataTable({
    caption: CAPTION.hoursByCraft,
    columns: [
      { title: COLUMN.craft },
      { title: COLUMN.plannedH, number: true },
      { title: COLUMN.doNotFitH, number: true },
      { title: COLUMN.togetherH, number: true },
      { title: COLUMN.crewHoursH, number: true },
    ],
    rows: [
      row('Fitters', fits.fitters, rest.fitters, own(fitterHours)),
      row('Instruments', fits.instruments, rest.instruments, own(instrumentHours)),
      row('Within the window', fits.fitters + fits.instruments, rest.fitters + rest.instruments, crew).map(
        (cell) => html`<b>${cell}</b>`,
      ),
      row('Fitters, after start-up', fits.afterStartUp, rest.afterStartUp, 'not counted'),
    ],
  });
}

/** What is done on each line, with a total. */
export function lineTable(tasks: readonly ShutdownTask[]): Html {
  const places = tasks.some(({ location }) => location !== '');
  const lines = byKey(inWalkingOrder(tasks), ({ line, location }) => JSON.stringify([line, location]));
  const row = (list: readonly ShutdownTask[]): string[] => {
    const [fits, rest] = [craftHours(planned(list)), craftHours(notFitting(list))];
    return [
      amount(planned(list).length, 9),
      hoursText(fits.fitters),
      hoursText(fits.instruments),
      hoursText(fits.afterStartUp),
      amount(notFitting(list).length, 9),
      hoursText(rest.fitters + rest.instruments),
    ];
  };
  return dataTable({
    caption: `By line${places ? ' and location' : ''}${lines.length > MOST_LINES ? ` (first ${MOST_LINES} of ${lines.length})` : ''}`,
    columns: [
      { title: COLUMN.line },
      ...placeColumn(places),
      { title: COLUMN.replacements, number: true },
      { title: COLUMN.fittersH, number: true },
      { title: COLUMN.instrumentsH, number: true },
      { title: COLUMN.fittersAfterStartUpH, number: true },
      { title: COLUMN.doNotFit, number: true },
      { title: COLUMN.theirHours, number: true },
    ],
    total: true,
    rows: [
      ...lines
        .slice(0, MOST_LINES)
        .map((list) => [lineName(headOf(list).line), ...placeCell(places, headOf(list)), ...row(list)]),
      ['All lines', ...(places ? [''] : []), ...row(tasks)].map((cell) => html`<b>${cell}</b>`),
    ],
  });
}

const headOf = (tasks: readonly ShutdownTask[]): ShutdownTask => tasks[0] as ShutdownTask;

/** Where on its line a position is: a column only where the plant says so. */
const placeColumn = (places: boolean): Column[] => (places ? [{ title: COLUMN.location }] : []);
const placeCell = (places: boolean, { location }: ShutdownTask): Html[] => (places ? [name(location)] : []);

const lineName = (line: string): Html => name(line === '' ? 'no line given' : line);

/** What does not fit, dearest to leave first, with what waiting costs. */
export function shortTable(tasks: readonly ShutdownTask[], currency: string): Html | null {
  const short = notFitting(tasks);
  if (short.length === 0) return null;
  const shown = short.slice(0, MOST_SHORT);
  const rest = short.length > shown.length ? ` (first ${MOST_SHORT} of ${short.length})` : '';
  return dataTable({
    caption: `Do not fit, first to add first, with what waiting for the next window costs on average${rest}`,
    compact: true,
    cards: true,
    columns: [
      { title: COLUMN.position },
      { title: COLUMN.line },
      { title: COLUMN.fittersH, number: true },
      { title: COLUMN.instrumentsH, number: true },
      { title: `Waiting, ${currency}`, number: true },
      { title: COLUMN.because },
    ],
    rows: shown.map((task) => [
      name(task.position),
      lineName(task.line),
      hoursText(task.fitterHours),
      hoursText(task.instrumentHours),
      waitingText(task.costOfWaiting, currency),
      html`<div class="reason">${prose(task.because)}</div>`,
    ]),
  });
}

/** "821" as a cell; a wait that costs nothing on balance is "nothing". */
function waitingText(cost: number | null, currency: string): string {
  if (cost === null) return 'not known';
  return cost > 0 ? money(cost, currency).replace(` ${currency}`, '') : 'nothing';
}

/**
 * The list to take along: by line and position, with room to tick off. Tasks that every row has are said once, above.
 */
export function taskTable(tasks: readonly ShutdownTask[], caption: string): Html | null {
  if (tasks.length === 0) return null;
  const common = (tasks[0] as ShutdownTask).tasks.filter((each) =>
    tasks.every((task) => task.tasks.includes(each)),
  );
  const places = tasks.some(({ location }) => location !== '');
  return dataTable({
    caption: `${caption}; still due: chance that no leak or opening had it replaced before; hours of fitters + instruments${common.length === 0 ? '' : `; at each: ${common.join(', ')}`}`,
    compact: true,
    cards: true,
    columns: [
      { title: COLUMN.position },
      { title: COLUMN.line },
      ...placeColumn(places),
      { title: COLUMN.partNumber },
      { title: COLUMN.ageDays, number: true },
      { title: COLUMN.stillDue, number: true },
      { title: COLUMN.hours, number: true },
      { title: COLUMN.because },
      { title: COLUMN.done },
    ],
    rows: inWalkingOrder(tasks).map((task) => [
      name(task.position),
      lineName(task.line),
      ...placeCell(places, task),
      task.item === null ? prose(`${task.material} DN ${task.size}`) : name(task.item),
      task.ageDays === null ? 'not known' : amount(Math.round(task.ageDays), 9),
      percent(task.chanceStillDue),
      `${hoursText(task.fitterHours)} + ${hoursText(task.instrumentHours)}`,
      html`<div class="reason">${task.fits ? null : html`<span class="hurry">does not fit</span> `}${prose(reasonOf(task, common))}</div>`,
      html`<span class="tick" aria-hidden="true"></span>`,
    ]),
  });
}

function reasonOf(task: ShutdownTask, common: readonly string[]): string {
  const further = task.tasks.filter((each) => !common.includes(each));
  return further.length === 0 ? task.because : `${task.because.replace(/\.$/, '')}; ${further.join(', ')}`;
}

/** "242 replacements, 5 do not fit", both with their hours by craft. */
export function contentsText(tasks: readonly ShutdownTask[]): string {
  const [fits, rest] = [planned(tasks), notFitting(tasks)];
  const left = rest.length === 0 ? '' : `; ${rest.length} do not fit (${craftText(craftHours(rest))})`;
  return `${count(fits.length, 'replacement')} (${craftText(craftHours(fits))})${left}`;
}

/** "252.4 h fitters, 77 h instruments". */
export function craftText({ fitters, instruments }: CraftHours): string {
  return `${hoursText(fitters)} h fitters, ${hoursText(instruments)} h instruments`;
}
