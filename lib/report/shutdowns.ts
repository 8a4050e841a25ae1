/** The work list: load per shutdown, then positions by line with hours by craft, folded. */
import { shutdownLoad } from '../chart/shutdownLoad.js';
import { amount, count, dateWords, percent } from '../chart/words.js';
import type { ShutdownTask } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { dataTable, folded, type Html, html, name, prose } from './markup.js';

/** Positions listed in the page; longer lists are in shutdown-plan.csv. */
const MOST_POSITIONS = 600;
const MOST_LINES = 60;

export async function shutdownPart(plan: Plan, figures: Figures): Promise<Html> {
  if (plan.shutdownPlan.length === 0)
    return html`<h3>Shutdown list</h3><p>No replacement falls into the time planned.</p>`;
  const load =
    plan.shutdowns.length === 0
      ? null
      : html`<div class="figures">${await figures.draw(shutdownLoad(plan.shutdowns))}</div>`;
  const windows = byKey(plan.shutdownPlan, (task) => JSON.stringify([task.start, task.shutdown]));
  let room = MOST_POSITIONS;
  const lists: Html[] = [];
  for (const tasks of windows) {
    if (room <= 0) break;
    lists.push(windowPart(tasks, room, lists.length === 0));
    room -= tasks.length;
  }
  const left = Math.max(0, plan.shutdownPlan.length - MOST_POSITIONS);
  const rest =
    left === 0
      ? null
      : html`<p class="small">${count(left, 'more row is', 'more rows are')} in shutdown-plan.csv.</p>`;
  return html`<h3>Shutdown list</h3>
${load}${lists}${rest}`;
}

function byKey(tasks: readonly ShutdownTask[], key: (task: ShutdownTask) => string): ShutdownTask[][] {
  const groups = new Map<string, ShutdownTask[]>();
  for (const task of tasks) {
    const list = groups.get(key(task));
    if (list === undefined) groups.set(key(task), [task]);
    else list.push(task);
  }
  return [...groups.values()];
}

/** One shutdown, folded; on paper only the next one is spread out. */
function windowPart(tasks: ShutdownTask[], room: number, print: boolean): Html {
  const first = tasks[0] as ShutdownTask;
  const lines = byKey(tasks, (task) => task.line);
  const fitting = tasks.filter(({ fits }) => fits).length;
  const summary = html`<b>${name(first.shutdown)}</b>, ${dateWords(first.start)}: ${count(fitting, 'replacement')}${fitting < tasks.length ? `, ${tasks.length - fitting} do not fit` : ''}, ${hoursText(tasks)}`;
  return folded(summary, html`${lineTable(lines)}${positionTable(tasks.slice(0, room))}`, print);
}

const fitters = (tasks: readonly ShutdownTask[]): number =>
  tasks.reduce((all, task) => all + task.fitterHours, 0);
const instruments = (tasks: readonly ShutdownTask[]): number =>
  tasks.reduce((all, task) => all + task.instrumentHours, 0);

function hoursText(tasks: readonly ShutdownTask[]): string {
  return `${amount(fitters(tasks), 3)} h fitters, ${amount(instruments(tasks), 3)} h instruments`;
}

function lineTable(lines: ShutdownTask[][]): Html {
  const rows = lines
    .slice(0, MOST_LINES)
    .map((tasks) => [
      name((tasks[0] as ShutdownTask).line),
      amount(tasks.filter(({ fits }) => fits).length, 9),
      amount(tasks.filter(({ fits }) => !fits).length, 9),
      amount(fitters(tasks), 3),
      amount(instruments(tasks), 3),
    ]);
  return dataTable({
    caption: `By line${lines.length > MOST_LINES ? ` (first ${MOST_LINES} of ${lines.length})` : ''}`,
    columns: [
      { title: 'Line' },
      { title: 'Replacements', number: true },
      { title: 'Do not fit', number: true },
      { title: 'Fitter hours', number: true },
      { title: 'Instrument hours', number: true },
    ],
    rows,
  });
}

/** Tasks that every row has are said once, above. */
function positionTable(tasks: readonly ShutdownTask[]): Html {
  const common = (tasks[0] as ShutdownTask).tasks.filter((each) =>
    tasks.every((task) => task.tasks.includes(each)),
  );
  return dataTable({
    caption: `By position${common.length === 0 ? '' : `; at each: ${common.join(', ')}`}`,
    compact: true,
    columns: [
      { title: 'Position' },
      { title: 'Line' },
      { title: 'Item' },
      { title: 'Age, days', number: true },
      { title: 'Still due', number: true },
      { title: 'Hours, fitter + instruments', number: true },
      { title: 'Because, and what else to do' },
    ],
    rows: tasks.map((task) => [
      name(task.position),
      name(task.line),
      task.item === null ? prose(`${task.material} DN ${task.size}`) : name(task.item),
      task.ageDays === null ? 'not known' : amount(Math.round(task.ageDays), 9),
      percent(task.chanceStillDue),
      `${amount(task.fitterHours, 2)} + ${amount(task.instrumentHours, 2)}`,
      html`<div class="reason">${task.fits ? null : html`<span class="hurry">does not fit</span> `}${prose(reasonOf(task, common))}</div>`,
    ]),
  });
}

function reasonOf(task: ShutdownTask, common: readonly string[]): string {
  const further = task.tasks.filter((each) => !common.includes(each));
  return further.length === 0 ? task.because : `${task.because.replace(/\.$/, '')}; ${further.join(', ')}`;
}
