/** The manager's questions beyond the saving: how often, what it hangs on, when it pays back. */

import { costByIntervalChart } from '../chart/costByInterval.js';
import { downtimeChart } from '../chart/downtime.js';
import { moneyWords } from '../chart/money.js';
import { payBackChart, payBackWords } from '../chart/payBack.js';
import { assumptionName, swingChart } from '../chart/swing.js';
import type { Chart } from '../chart/types.js';
import { amount, percent, pieces, plainName, range } from '../chart/words.js';
import { at } from '../numeric/columns.js';
import type { Plan } from '../planTypes.js';
import type { BreakEven } from '../yearly/outlookTypes.js';
import type { CostComparison } from '../yearly/types.js';
import type { Figures } from './figure.js';
import { lineNote } from './lineNote.js';
import { dataTable, folded, type Html, html } from './markup.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';

/** Pictures of this part, in order. */
export function outlookCharts(cost: CostComparison, currency: string): { often: Chart[]; hangs: Chart[] } {
  const { front } = cost.outlook;
  return {
    often: [costByIntervalChart(cost, currency), ...(front === null ? [] : [downtimeChart(front, currency)])],
    hangs: [swingChart(cost, currency), payBackChart(cost, currency)],
  };
}

/** Nothing where no cost could be worked out; nothing of a saving where none is claimed. */
export function outlookPart({ cost, site }: Plan, figures: Figures): Html | null {
  if (cost.today.perYear === 0 && cost.proposed.perYear === 0) return null;
  const { often, hangs } = outlookCharts(cost, site.currency);
  return html`<h3>${HEADING.whatShorterLongerIntervalsWould}</h3>
<p>${SENTENCE.whatShorterLongerMeans}</p>
<div class="figures">${figures.all(often)}</div>
${linesTable(cost, site.currency)}<h3>${HEADING.whatSavingHangsOnWhen}</h3>
${
  cost.saving.claimed
    ? html`<p>${payBackWords(cost, site.currency)}. ${rateSentence(cost)}</p>
<div class="figures">${figures.all(hangs)}</div>
${breakEvenTable(cost, site.currency)}`
    : html`<p>${SENTENCE.noSavingClaimedAsRecordsFormula}</p>
`
}`;
}

/** When it pays back and what moves the saving most, in two sentences; nothing where no saving is claimed. */
export function outlookSentence(cost: CostComparison, currency: string): string {
  const [first] = cost.outlook.swings.ranked;
  if (!cost.saving.claimed || first === undefined || first.width === 0) return '';
  const ends = [first.savingAtLow, first.savingAtHigh].sort((a, b) => a - b) as [number, number];
  return `${payBackWords(cost, currency)}. The saving hangs most on ${assumptionName(first.assumption)}: ${range(...ends, moneyWords(cost))} ${currency} a year.`;
}

function rateSentence({ outlook }: CostComparison): string {
  const { discountRate } = outlook.payBack;
  return discountRate === 0
    ? 'Money of later years counts as much as money of today: discount_rate_per_year is 0 or not given.'
    : `Money counts ${amount(discountRate * 100, 3)} % a year less the later it comes, at the end of its year.`;
}

function linesTable({ outlook, ...cost }: CostComparison, currency: string): Html {
  const { factor, lines } = outlook.byInterval;
  const money = moneyWords({ ...cost, outlook });
  const proposed = factor.indexOf(1);
  const [shorter, longer] = [proposed - 1, proposed + 1];
  const note = lineNote(outlook.byInterval);
  const rows = lines.map((line) => [
    line.line === '' ? '(no name)' : plainName(line.line),
    money(line.today.perYear),
    ...[proposed, shorter, longer].map((i) => money(at(line.perYear, i))),
    ...[line.parts, line.labour, line.plannedStop, line.leakDowntime, line.lostBatches].map((column) =>
      money(at(column, proposed)),
    ),
    pieces(at(line.leaksPerYear, proposed)),
    pieces(at(line.replacementsPerYear, proposed)),
  ]);
  const titles = [
    'Today',
    'Proposed',
    `At ${percent(at(factor, shorter))}`,
    `At ${percent(at(factor, longer))}`,
    'Of proposed: parts',
    'Labour',
    'Planned stops',
    'Leaks: downtime and clean-up',
    'Lost batches',
    'Leaks',
    'Fitted',
  ];
  return folded(
    html`Line by line<span class="aside">: cost today, proposed, and with shorter or longer intervals</span>`,
    html`${note === null ? null : html`<p>${plainName(note)}</p>`}${dataTable({
      caption: `Cost by line, ${currency} a year in the long run, at each line’s own prices; leaks and diaphragms fitted a year at the proposal`,
      columns: [{ title: COLUMN.line }, ...titles.map((title) => ({ title, number: true }))],
      rows,
    })}`,
  );
}

function breakEvenTable({ outlook }: CostComparison, currency: string): Html {
  return dataTable({
    caption: `Break-even: what decides whether the proposal pays, all else at its mean (${currency}); range over all else`,
    columns: [
      { title: COLUMN.setting },
      { title: COLUMN.givenMean },
      { title: COLUMN.itPays },
      { title: COLUMN.fiveToNinetyFivePercent },
    ],
    cards: true,
    rows: outlook.breakEven.map((each) => [
      assumptionName(each.setting),
      givenWords(each),
      breakEvenWords(each),
      rangeWords(each),
    ]),
  });
}

function givenWords({ given, unit, timesGiven }: BreakEven): string {
  if (given !== null) return `${amount(given)} ${unit}`;
  return timesGiven === null ? 'not given' : 'by line';
}

/** "while it is above 8 400 EUR per batch", "while it is below 3.2 times what is given", or why no value decides. */
export function breakEvenWords({ value, timesGiven, pays, unit, why }: BreakEven): string {
  if (why !== null || pays === null) return why ?? '';
  const times = timesGiven === null ? '' : `${timesWords(timesGiven)} of what is given`;
  if (value === null) return `while it is ${pays} ${times}`;
  return `while it is ${pays} ${amount(value, 2)} ${unit}${times === '' ? '' : ` (${times})`}`;
}

function timesWords(times: number): string {
  return times < 10 ? percent(times) : `${amount(times, 2)} times`;
}

function rangeWords({ range: ends, value, unit, pays }: BreakEven): string {
  if (ends === null) return '';
  const [low, high] = ends;
  const words = (each: number): string => (value === null ? timesWords(each) : amount(each, 2));
  const tail = value === null ? ' of what is given' : ` ${unit}`;
  if (high !== null) return `${range(low, high, words)}${tail}`;
  return `${words(low)}${tail} to ${pays === 'above' ? 'no value at all' : 'any value'}`;
}
