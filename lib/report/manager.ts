/** The manager's part: what changes, what it saves or costs, and how far the records bear that out. */

import { COST_PARTS, costSplit } from '../chart/costSplit.js';
import { moneyRounding, moneyWords } from '../chart/money.js';
import { recordedLeaks } from '../chart/recordedLeaks.js';
import { amount, chanceWords, count, pieces, plainName, range } from '../chart/words.js';
import { yearlyCostPath, yearlyWorkPath } from '../chart/yearlyPath.js';
import { countDirections } from '../interval/adviceKind.js';
import type { Plan } from '../planTypes.js';
import { changesPart } from './changes.js';
import type { Figures } from './figure.js';
import { bullets, dataTable, type Html, html, prose } from './markup.js';
import { outlookPart } from './outlook.js';
import { recordsSentence, savingSentence } from './saving.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';

export function managerPart(plan: Plan, figures: Figures): Html {
  const { cost, site } = plan;
  const records = recordsSentence(cost, site.currency);
  const charts = [
    costSplit(cost, site.currency),
    recordedLeaks(cost),
    yearlyCostPath(cost, site.currency),
    yearlyWorkPath(cost),
  ];
  return html`<section id="manager" aria-labelledby="manager-title">
<h2 id="manager-title">${HEADING.managerWhatChangesWhatSaves}</h2>
<p class="lead">${changedText(plan)} ${savingSentence(cost, site.currency)}</p>
${keyFigures(plan)}<h3>${HEADING.whatChanges}</h3>
${changesPart(plan)}<h3>${HEADING.whereTheMoneyGoes}</h3>
${moneyPart(plan)}${
  records === null
    ? null
    : html`<p><b>Held against the records.</b> ${records}</p>
`
}<div class="figures">${figures.all(charts)}</div>
${outlookPart(plan, figures)}<h3>${HEADING.howReadTheseAmounts}</h3>
${readingPart(plan)}</section>
`;
}

/** "10 of 24 intervals change.", said at the top of the page too. */
export function changedText({ intervals }: Pick<Plan, 'intervals'>): Html {
  const { shorten, lengthen, start, run } = countDirections(intervals);
  const changed = shorten + lengthen + start + run;
  if (changed === 0) return html`<b>${SENTENCE.noIntervalChanges}</b>`;
  return html`<b>${amount(changed, 9)} of ${count(intervals.length, 'interval')}</b> ${changed === 1 ? 'changes' : 'change'}.`;
}

function keyFigures({ cost, site }: Plan): Html {
  const { today, proposed, saving } = cost;
  const money = moneyWords(cost);
  const { claimed, firstYear } = saving;
  const keys: [string, string, string][] = [
    [
      `Cost a year today, ${site.currency}`,
      money(today.perYear),
      `range ${range(today.low, today.high, money)}`,
    ],
    [
      `Cost a year proposed, ${site.currency}`,
      money(proposed.perYear),
      `range ${range(proposed.low, proposed.high, money)}`,
    ],
    [
      `Saving a year in the long run, ${site.currency}`,
      claimed ? money(saving.perYear) : 'not claimed',
      claimed
        ? `range ${range(saving.low, saving.high, money)}; chance that it is cheaper ${chanceWords(saving.chance)}`
        : 'records and formula disagree',
    ],
    [
      `Saving in the first year, ${site.currency}`,
      claimed ? money(firstYear.saving) : 'not claimed',
      claimed ? `range ${range(firstYear.low, firstYear.high, money)}` : 'records and formula disagree',
    ],
    ['Leaks a year', pieces(proposed.leaksPerYear), `${pieces(today.leaksPerYear)} today, by the formula`],
    [
      'Diaphragms fitted a year',
      pieces(proposed.replacementsPerYear),
      `${pieces(today.replacementsPerYear)} today; on schedule, after leaks and openings`,
    ],
  ];
  return html`<dl class="keys">${keys.map(
    ([term, value, note]) => html`<div><dt>${term}</dt><dd>${value}<span>${note}</span></dd></div>`,
  )}</dl>
`;
}

function moneyPart({ cost, site }: Plan): Html {
  const { today, proposed, saving } = cost;
  const money = moneyWords(cost);
  const shown = (value: number, field: string): string =>
    field === 'lostBatches' && cost.covers === 'downtime only' ? 'not given' : money(value);
  // Of the amounts as printed, so that a row can be checked by eye.
  const rounded = moneyRounding(cost);
  const change = (before: number, after: number): string => {
    const difference = rounded(after) - rounded(before);
    return difference > 0 ? `+${money(difference)}` : money(difference);
  };
  const rows = COST_PARTS.map(({ field, name, kind }): string[] => [
    name,
    kind,
    shown(today[field], field),
    shown(proposed[field], field),
    change(today[field], proposed[field]),
  ]);
  rows.push([
    'Together',
    '',
    money(today.perYear),
    money(proposed.perYear),
    change(today.perYear, proposed.perYear),
  ]);
  const moved = (what: string, less: number): string => `${what} ${movedWords(-less, money, site.currency)}`;
  const kinds = [
    moved('Cash (parts and labour)', saving.cash),
    moved('planned line time (stops made for replacements, with re-sterilising)', saving.plannedStop),
    moved('what leaks cost (downtime, clean-up, lost batches)', saving.expectedLoss),
  ].join('; ');
  return html`<p>${kinds}. Cash and planned line time are certain once the intervals are followed; what leaks cost is an average over good and bad years.</p>
${dataTable({
  caption: `Expected cost, ${site.currency} a year in the long run${cost.covers === 'downtime only' ? ', downtime only: no batch value is given' : ''}`,
  columns: [
    { title: COLUMN.part },
    { title: COLUMN.kind },
    { title: COLUMN.today, number: true },
    { title: COLUMN.proposed, number: true },
    { title: COLUMN.difference, number: true },
  ],
  rows,
})}`;
}

function movedWords(value: number, money: (value: number) => string, currency: string): string {
  if (money(Math.abs(value)) === '0') return 'does not move';
  return `${value > 0 ? 'rises' : 'falls'} by ${money(Math.abs(value))} ${currency} a year`;
}

function readingPart({ cost, site }: Plan): Html {
  const { saving, today, proposed } = cost;
  const money = moneyWords(cost);
  const points: Html[] = [];
  if (cost.covers === 'downtime only')
    points.push(html`<b>Downtime only.</b> No batch value is given, so a lost batch counts as nothing here.`);
  if (saving.breakEvenBatchValue !== null) {
    points.push(
      html`<b>Break-even.</b> The proposal pays while a lost batch costs above ${amount(saving.breakEvenBatchValue, 2)} ${site.currency}.`,
    );
  }
  points.push(
    html`<b>First year and long run.</b> First year ${money(proposed.firstYear)} proposed against ${money(today.firstYear)} by today’s practice; in the long run ${money(proposed.perYear)} against ${money(today.perYear)} ${site.currency} a year. Both follow the same calendar and rule as the work list: what is due is replaced in the window before the next one would be too late. The first years keep to the crew hours of the known shutdowns, for both alike; the long run takes hours as enough.`,
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
