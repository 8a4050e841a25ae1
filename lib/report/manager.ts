/** The manager's part: what changes, what it saves or costs, and how far the records bear that out. */
import { COST_PARTS, costSplit } from '../chart/costSplit.js';
import { countDirections } from '../chart/intervalsOverview.js';
import { recordedLeaks } from '../chart/recordedLeaks.js';
import { amount, chanceWords, count, pieces, plainName, range } from '../chart/words.js';
import { yearlyCostPath, yearlyWorkPath } from '../chart/yearlyPath.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { bullets, dataTable, type Html, html, prose } from './markup.js';
import { savingSentence } from './saving.js';

export async function managerPart(plan: Plan, figures: Figures): Promise<Html> {
  const { cost, site } = plan;
  const charts = [
    costSplit(cost, site.currency),
    recordedLeaks(cost),
    yearlyCostPath(cost, site.currency),
    yearlyWorkPath(cost),
  ];
  return html`<section id="manager" aria-labelledby="manager-title">
<h2 id="manager-title">Manager: what changes, and what it saves or costs</h2>
<p class="lead">${savingSentence(cost, site.currency)}</p>
${keyFigures(plan)}<h3>What changes</h3>
${changesPart(plan)}<h3>Where the money goes</h3>
${moneyPart(plan)}<div class="figures">${await figures.all(charts)}</div>
<h3>How to read these amounts</h3>
${readingPart(plan)}</section>
`;
}

const two = (value: number): string => amount(value, 2);
const three = (value: number): string => amount(value, 3);

function keyFigures({ cost, site }: Plan): Html {
  const { today, proposed, saving } = cost;
  const keys: [string, string, string][] = [
    [
      `Cost a year today, ${site.currency}`,
      three(today.perYear),
      `range ${range(today.low, today.high, two)}`,
    ],
    [
      `Cost a year proposed, ${site.currency}`,
      three(proposed.perYear),
      `range ${range(proposed.low, proposed.high, two)}`,
    ],
    [
      `First year, ${site.currency}`,
      three(proposed.firstYear),
      `${three(today.firstYear)} by today’s practice`,
    ],
    ['Leaks a year', pieces(proposed.leaksPerYear), `${pieces(today.leaksPerYear)} today, by the formula`],
    [
      'Replacements a year',
      pieces(proposed.replacementsPerYear),
      `${pieces(today.replacementsPerYear)} today`,
    ],
    [
      'Chance that it is cheaper',
      saving.claimed ? chanceWords(saving.chance) : 'not claimed',
      `saving a year ${range(saving.low, saving.high, two)} ${site.currency}`,
    ],
  ];
  return html`<dl class="keys">${keys
    .slice(0, 6)
    .map(
      ([term, value, note]) => html`<div><dt>${term}</dt><dd>${value}<span>${note}</span></dd></div>`,
    )}</dl>
`;
}

function changesPart(plan: Plan): Html {
  if (plan.intervals.length === 0) return html`<p>No interval could be worked out.</p>`;
  const directions = countDirections(plan.intervals);
  const positions = (kind: keyof typeof directions): string => {
    const list = plan.intervals.filter((each) => countDirections([each])[kind] === 1);
    return count(
      list.reduce((all, each) => all + each.positions, 0),
      'position',
    );
  };
  const lines: [keyof typeof directions, string, string][] = [
    ['shorten', 'gets a shorter interval', 'get a shorter interval'],
    ['lengthen', 'gets a longer interval', 'get a longer interval'],
    ['start', 'gets a schedule for the first time', 'get a schedule for the first time'],
    [
      'leave',
      'stays as it is: the best interval is about today’s',
      'stay as they are: the best interval is about today’s',
    ],
    [
      'keep',
      'keeps today’s interval, because the records cannot yet tell a better one',
      'keep today’s interval, because the records cannot yet tell a better one',
    ],
    [
      'run',
      'is run until it leaks: no wear-out that a schedule could prevent',
      'are run until they leak: no wear-out that a schedule could prevent',
    ],
  ];
  const points = lines
    .filter(([kind]) => directions[kind] > 0)
    .map(
      ([kind, one, many]) =>
        html`<b>${count(directions[kind], 'group')}</b> ${directions[kind] === 1 ? one : many} (${positions(kind)})`,
    );
  return html`${bullets(points)}${backlogText(plan)}`;
}

function backlogText({ backlog }: Plan): Html | null {
  if (backlog.overdueNow === 0) return null;
  const gone =
    backlog.goneAfter === null
      ? 'The calendar given is too short to clear them.'
      : `None is left after ${backlog.goneAfter}.`;
  return html`<p>${count(backlog.overdueNow, 'position is', 'positions are')} past the proposed interval today; the first year carries that work. ${prose(gone)}</p>`;
}

function moneyPart({ cost, site }: Plan): Html {
  const { today, proposed, saving } = cost;
  const change = (value: number): string =>
    Math.abs(value) < 0.5 ? '0' : `${value > 0 ? '+' : ''}${two(value)}`;
  const rows = COST_PARTS.map(({ field, name, cash }): string[] => [
    name,
    cash ? 'cash' : 'expected loss',
    field === 'lostBatches' && cost.covers === 'downtime only' ? 'not given' : three(today[field]),
    field === 'lostBatches' && cost.covers === 'downtime only' ? 'not given' : three(proposed[field]),
    change(proposed[field] - today[field]),
  ]);
  rows.push([
    'Together',
    '',
    three(today.perYear),
    three(proposed.perYear),
    change(proposed.perYear - today.perYear),
  ]);
  const cash = `Cash (parts and labour) ${moved(-saving.cash, site.currency)}; expected loss (stops, downtime, batches) ${moved(-saving.expectedLoss, site.currency)}.`;
  return html`<p>${cash} Cash is paid for certain; expected loss is an average over good and bad years.</p>
${dataTable({
  caption: `Expected cost, ${site.currency} a year in the long run${cost.covers === 'downtime only' ? ', downtime only: no batch value is given' : ''}`,
  columns: [
    { title: 'Part' },
    { title: 'Kind' },
    { title: 'Today', number: true },
    { title: 'Proposed', number: true },
    { title: 'Change', number: true },
  ],
  rows,
})}`;
}

function moved(value: number, currency: string): string {
  if (Math.abs(value) < 0.5) return 'does not change';
  return `${value > 0 ? 'rises' : 'falls'} by ${two(Math.abs(value))} ${currency} a year`;
}

function readingPart({ cost, site }: Plan): Html {
  const { saving, today, proposed } = cost;
  const points: Html[] = [];
  if (cost.covers === 'downtime only')
    points.push(html`<b>Downtime only.</b> No batch value is given, so a lost batch counts as nothing here.`);
  if (saving.breakEvenBatchValue !== null) {
    points.push(
      html`<b>Break-even.</b> The proposal pays while a lost batch costs above ${two(saving.breakEvenBatchValue)} ${site.currency}.`,
    );
  }
  points.push(
    html`<b>First year and long run.</b> First year ${three(proposed.firstYear)} proposed against ${three(today.firstYear)} by today’s practice; in the long run ${three(proposed.perYear)} against ${three(today.perYear)} ${site.currency} a year.`,
  );
  if (!saving.claimed && today.perYear > 0) {
    points.push(
      html`<b>No saving claimed.</b> The number of leaks on record lies outside what the formula says of today’s practice. Find out why before relying on any amount here.`,
    );
  }
  for (const { text, todo } of cost.warnings) points.push(html`${prose(text)} ${prose(todo)}`);
  points.push(
    html`<b>Ranges</b> run from 5 % to 95 % of what is not known: the life models and the prices given.`,
  );
  const missing = cost.missing.map((setting) => plainName(setting)).join(', ');
  if (missing !== '') points.push(html`<b>Not given</b> and left out of the sums: ${missing}.`);
  return html`${bullets(points)}`;
}
