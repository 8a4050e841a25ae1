/** Positions, lots, fitters and weeks of fitting that leak more often than their groups. */

import { amount, count, dateWords, listed, money, pValueWords, range } from '../chart/words.js';
import type { StandOutKind } from '../group/standOut/types.js';
import type { Plan } from '../planTypes.js';
import type { LotRecall, StandOutRow } from '../yearly/standOuts/types.js';
import { bullets, dataTable, folded, type Html, html, name, prose } from './markup.js';
import { COLUMN, HEADING } from './texts.js';

const MOST_ROWS = 100;
const MOST_NAMED = 8;
const MANY: Readonly<Record<StandOutKind, string>> = {
  position: 'positions',
  lot: 'lots',
  fitter: 'fitters',
  week: 'weeks of fitting',
};
const ONE: Readonly<Record<StandOutKind, string>> = {
  position: 'position',
  lot: 'lot',
  fitter: 'fitter',
  week: 'week of fitting',
};

/** For the engineer: what was found, what mending it would save, how sure, and what could not have been found. */
export function standOutsPart({ standOuts, site }: Plan): Html {
  const { rows, warnings } = standOuts;
  const told = warnings.map(({ text, todo }) => html`${prose(text)} <b>${prose(todo)}</b>`);
  const table = rows.length === 0 ? null : standOutTable(rows, site.currency);
  return html`<h3>${HEADING.whatStandsOut}</h3>
<p>${prose(summary(standOuts))}</p>${table}${bullets(told)}${rows.flatMap(recallPart)}${howPart(standOuts)}`;
}

function summary({ rows, searches, rate }: Plan['standOuts']): string {
  const looked = searches
    .filter(({ tested }) => tested > 0)
    .map(({ kind, tested }) => count(tested, ONE[kind], MANY[kind]));
  if (looked.length === 0) return 'Nothing was looked through: no life could be followed.';
  const found =
    rows.length === 0
      ? 'none leaks more often than chance explains'
      : `${count(rows.length, 'leaks', 'leak')} more often than chance explains; of those about one in ${Math.round(1 / rate)} may be chance all the same`;
  return `Of ${listed(looked)}, ${found}.`;
}

function standOutTable(rows: readonly StandOutRow[], currency: string): Html {
  const shown = rows.slice(0, MOST_ROWS);
  const rest =
    rows.length > shown.length ? ` (first ${shown.length} of ${rows.length}; all in stand-outs.csv)` : '';
  return dataTable({
    caption: `Strongest first. Ratio and savings with the 80 % range; savings in ${currency} in the year to come, not to be added where two stand for the same lives${rest}`,
    columns: [
      { title: COLUMN.what },
      { title: COLUMN.leaksExpected },
      { title: COLUMN.timesAsOften },
      { title: COLUMN.tooMany },
      { title: COLUMN.mendingSaves },
      { title: COLUMN.whatToDo },
    ],
    rows: shown.map((row) => [
      html`<b>${titleOf(row)}</b><br><span class="small">${prose(placeWords(row))}</span>`,
      html`<span class="day">${amount(row.leaks, 9)} / ${amount(row.expected, 2)}</span><br><span class="small">${pValueWords(row.p)}</span>`,
      html`<span class="day">${amount(row.ratio.estimate, 2)}</span><br><span class="small">${range(row.ratio.low, row.ratio.high, twoDigits)}</span>`,
      row.excess,
      savesCell(row),
      html`${prose(row.todo)}${sameWords(row)}`,
    ]),
    cards: true,
  });
}

function titleOf({ kind, name: own }: StandOutRow): Html {
  if (kind === 'week') return html`week of ${dateWords(own)}`;
  return kind === 'position' ? name(own) : html`${kind} ${name(own)}`;
}

function placeWords({ kind, lives, lines, groups }: StandOutRow): string {
  if (kind === 'position') return groups[0] ?? '';
  return `${count(lives, 'diaphragm')} on ${listed(lines, 4)}; ${count(groups.length, 'group')}`;
}

function savesCell({ saves }: StandOutRow): Html | string {
  const { leaks, money: cost } = saves;
  if (!(leaks.mean > 0)) return 'nothing any more';
  return html`<span class="day">${amount(cost.mean, 2)}</span><br><span class="small">${range(cost.low, cost.high, twoDigits)}; ${amount(leaks.mean, 2)} leaks</span>`;
}

function sameWords({ sameAs }: StandOutRow): Html | null {
  if (sameAs.length === 0) return null;
  const others = sameAs.map(({ kind, name: other }) =>
    kind === 'week' ? `week of ${dateWords(other)}` : `${kind} ${other}`,
  );
  return html` <b>${prose(`Cannot be told from ${listed(others)}.`)}</b>`;
}

function twoDigits(value: number): string {
  return amount(value, 2);
}

/** Where the pieces of a lot are, and what happens if they are left. */
function recallPart({ kind, name: own, recall }: StandOutRow): Html[] {
  if (recall === null || recall.fitted.length === 0) return [];
  const { fitted, ifLeft, replacing } = recall;
  const shown = fitted.slice(0, MOST_ROWS);
  const table = dataTable({
    caption: `Still fitted${fitted.length > shown.length ? ` (first ${shown.length} of ${fitted.length})` : ''}`,
    compact: true,
    columns: [{ title: COLUMN.position }, { title: COLUMN.line }, { title: COLUMN.ageDays, number: true }],
    rows: shown.map(({ position, line, age }) => [
      name(position),
      line === '' ? 'no line given' : name(line),
      age === null ? 'not known' : amount(age, 9),
    ]),
  });
  const title = kind === 'week' ? html`week of ${dateWords(own)}` : html`${kind} ${name(own)}`;
  const work = `Replacing all takes ${count(replacing.pieces, 'piece')}, ${amount(replacing.fitterHours)} hours of fitters and ${amount(replacing.instrumentHours)} of instrument fitters.`;
  return [
    folded(
      html`<b>Recall of ${title}</b>: ${count(fitted.length, 'piece')} still fitted, ${amount(recall.onShelf, 9)} on the shelf`,
      html`<p>${prose(`${leftWords(ifLeft)} ${work}`)}</p>${table}`,
      'see stand-outs in plan.json',
    ),
  ];
}

function leftWords(ifLeft: LotRecall['ifLeft']): string {
  const each = ifLeft.map(
    ({ months, leaks, usual }) =>
      `${amount(leaks.mean, 2)} within ${months} months (80 % range ${range(leaks.low, leaks.high, twoDigits)}; others like them ${amount(usual, 2)})`,
  );
  return `If left, leaks: ${each.join('; ')}.`;
}

function howPart({ searches, recorded, explained }: Plan['standOuts']): Html | null {
  const smallest = searches.flatMap(({ kind, smallest: effect }) =>
    effect === null
      ? []
      : [
          html`${prose(`${MANY[kind]}: a typical one (${amount(effect.typical.expected, 2)} leaks expected) would have to leak ${amount(effect.typical.times, 2)} times as often to be found in four of five cases; one of the best watched tenth ${amount(effect.bestWatched.times, 2)} times.`)}`,
        ],
  );
  if (smallest.length === 0) return null;
  const lost =
    recorded > 0.995
      ? ''
      : ` Leaks without a reason on record (${amount(100 * (1 - recorded), 2)} % of all) are neither counted nor expected.`;
  const others = explained.map(
    ({ kind, name: own, by }) =>
      html`${prose(`${kind} ${own} would stand out too, but only by lives of ${by.kind} ${by.name}.`)}`,
  );
  return folded(
    html`<b>How it was looked for</b>, and the smallest effect that could have been found`,
    html`<p>${prose(`Leaks of each are held against those its groups’ laws expect of its lives at their ages, with its own lives taken out of the fit. Positions and lots are judged by all leaks, fitters and weeks by those before 60 days: that is where bad fitting shows. Nothing is said on under three leaks. Times as often is drawn towards 1 by how alike the others are.${lost}`)}</p>${bullets([...smallest, ...others])}`,
    'see stand-outs in plan.json',
  );
}

/** For the supervisor: which positions to look at while at them. */
export function standOutSentence({ standOuts, site }: Plan): Html | null {
  const { rows } = standOuts;
  if (rows.length === 0) return null;
  const points = (Object.keys(MANY) as StandOutKind[]).flatMap((kind) => {
    const own = rows.filter((row) => row.kind === kind);
    return own.length === 0 ? [] : [html`${sentenceOf(kind, own, site.currency)}`];
  });
  return html`<h3>${HEADING.lookTheseWhileYouAre}</h3>
${bullets(points)}`;
}

function sentenceOf(kind: StandOutKind, rows: readonly StandOutRow[], currency: string): Html {
  const names = rows.map(({ name: own }) => (kind === 'week' ? dateWords(own) : own));
  const saved = rows.reduce((all, { saves }) => all + saves.money.mean, 0);
  const worth = saved > 0 ? ` Mended, they save about ${money(saved, currency)} in the year to come.` : '';
  const what = {
    position:
      'leak far more often than others like them: look for torque, seat, heat, strokes and water hammer before the next diaphragm goes in.',
    lot: 'leak far more often than other lots: do not fit what is left of them, and replace what is fitted.',
    fitter: 'have more early leaks than others: go through a fitting together.',
    week: 'had many bad fittings: find out what was special then.',
  }[kind];
  return html`<b>${prose(`${MANY[kind].charAt(0).toUpperCase()}${MANY[kind].slice(1)} ${listed(names, MOST_NAMED)}`)}</b> ${prose(`${what}${worth}`)} See What stands out, and stand-outs.csv.`;
}
