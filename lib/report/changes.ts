/** Which groups change, from which interval to which, and what each saves. */

import { moneyWords } from '../chart/money.js';
import { chanceWords, count, range, spanWords } from '../chart/words.js';
import { type AdviceKind, countDirections, isChange, kindOf } from '../interval/adviceKind.js';
import type { IntervalAdvice } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import { bullets, dataTable, type Html, html, prose } from './markup.js';
import { COLUMN, SENTENCE } from './texts.js';

/** Rows of the table; the rest is in intervals.csv. */
const MOST_CHANGES = 15;
/** An interval and what the calendar makes of it are told apart from this share on. */
const PRACTICE_SHARE = 0.1;

const KINDS: readonly [kind: AdviceKind, one: string, many: string][] = [
  ['shorten', 'gets a shorter interval', 'get a shorter interval'],
  ['lengthen', 'gets a longer interval', 'get a longer interval'],
  ['start', 'gets a schedule for the first time', 'get a schedule for the first time'],
  [
    'run',
    'is run until it leaks: no wear-out that a schedule could prevent',
    'are run until they leak: no wear-out that a schedule could prevent',
  ],
  [
    'leave',
    'stays as it is: the best interval is about today’s',
    'stay as they are: the best interval is about today’s',
  ],
  [
    'near',
    'keeps today’s interval, because it is within 2 % of the least cost already',
    'keep today’s interval, because it is within 2 % of the least cost already',
  ],
  [
    'keep',
    'keeps today’s interval, because the records cannot yet tell a better one',
    'keep today’s interval, because the records cannot yet tell a better one',
  ],
  [
    'unpriced',
    'keeps today’s interval, because prices are missing',
    'keep today’s interval, because prices are missing',
  ],
  ['unused', 'is used by no position now', 'are used by no position now'],
];

export function changesPart(plan: Plan): Html {
  const { intervals } = plan;
  if (intervals.length === 0) return html`<p>${SENTENCE.noIntervalCouldBeWorkedOut}</p>`;
  const directions = countDirections(intervals);
  const points = KINDS.filter(([kind]) => directions[kind] > 0).map(([kind, one, many]) => {
    const list = intervals.filter((each) => kindOf(each) === kind);
    const positions = list.reduce((all, each) => all + each.positions, 0);
    return html`<b>${count(list.length, 'group')}</b> ${list.length === 1 ? one : many} (${count(positions, 'position')})`;
  });
  return html`${bullets(points)}${changesTable(plan)}${backlogText(plan)}`;
}

function changesTable({ intervals, cost, site }: Plan): Html | null {
  const money = moneyWords(cost);
  const savings = new Map(cost.groups.map((each) => [each.group, each]));
  const savingOf = ({ group }: IntervalAdvice): number => savings.get(group)?.perYear ?? 0;
  const changed = intervals.filter(isChange).sort((a, b) => savingOf(b) - savingOf(a));
  if (changed.length === 0) return null;
  const shown = changed.slice(0, MOST_CHANGES);
  const rest = changed.length - shown.length;
  return html`${dataTable({
    caption: `Groups whose interval changes; saving in ${site.currency} a year in the long run (5 % to 95 %), without planned stops, which are paid once per line and stop`,
    columns: [
      { title: COLUMN.group },
      { title: COLUMN.positions, number: true },
      { title: COLUMN.todayToProposed },
      { title: COLUMN.savingAYear, number: true },
      { title: COLUMN.chanceItSaves, number: true },
    ],
    rows: shown.map((each) => {
      const saving = savings.get(each.group);
      return [
        prose(each.group),
        each.positions,
        html`<span class="day">${fromTo(each)}</span>${practiceNote(each)}`,
        saving === undefined
          ? ''
          : html`<span class="day">${money(saving.perYear)}</span><br><span class="small">${range(saving.low, saving.high, money)}</span>`,
        saving === undefined ? '' : chanceWords(saving.chance),
      ];
    }),
    cards: true,
  })}${rest > 0 ? html`<p class="small">${count(rest, 'more group changes', 'more groups change')}: see intervals.csv.</p>` : null}<p class="small">${SENTENCE.pageEachThemApproveChangeSheets}</p>`;
}

function fromTo({ today, days, action }: IntervalAdvice): string {
  const now = spanWords(today);
  return `${now} → ${action === 'run' ? 'run until it leaks' : spanWords(days)}`;
}

/** "in practice every 6 months: the line stops every 3 months", where that differs from the interval. */
function practiceWords({ days, inPractice }: IntervalAdvice): string | null {
  if (days === null || inPractice === null) return null;
  if (Math.abs(inPractice.days / days - 1) <= PRACTICE_SHARE) return null;
  return `in practice every ${spanWords(inPractice.days)}: the line stops every ${spanWords(inPractice.windowDays)}`;
}

/** The same as a small line below the interval. */
export function practiceNote(each: IntervalAdvice): Html | null {
  const words = practiceWords(each);
  return words === null ? null : html`<br><span class="small note">${words}</span>`;
}

function backlogText({ backlog }: Plan): Html | null {
  if (backlog.overdueNow === 0) return null;
  const gone =
    backlog.goneAfter === null
      ? 'The calendar given is too short to clear them.'
      : `None is left after ${backlog.goneAfter}.`;
  return html`<p>${count(backlog.overdueNow, 'position is', 'positions are')} past the proposed interval today; the first year carries that work. ${prose(gone)}</p>`;
}
