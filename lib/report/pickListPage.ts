/** Printable pick lists: a shutdown a page or more, parts first, then positions line by line with room to tick off. */

import { count, dateWords, plainName } from '../chart/words.js';
import { shortReason } from '../interval/shutdownReason.js';
import { addMonths, dayFromText, textFromDay } from '../numeric/day.js';
import { inLocale } from '../numeric/locale.js';
import type { Plan } from '../planTypes.js';
import type { KitSource } from '../stock/types.js';
import { kitTable, kitWords } from './kits.js';
import { bullets, type Html, html, name, prose, trusted } from './markup.js';
import { wholePage } from './page.js';
import { type PickList, type PickRow, pickLists } from './pickLists.js';
import { STYLE } from './style.js';
import { HEADING, SENTENCE } from './texts.js';

/** Shutdowns within so many months have their pages; later ones are planned anew by then. */
const MONTHS = 12;
/** Positions in the page; a plant with more finds the rest in the table. */
const MOST_ROWS = 6000;

const PICK_STYLE = `.list{margin-top:44px}
.pick{table-layout:fixed;margin:0 0 18px}
.pick th,.pick td{padding:5px 8px 5px 0}
.pick .of{font:bold 16px/1.3 Georgia,"Liberation Serif",serif;border:0;padding-top:14px}
.pick .of span{font:13px Arial,"Liberation Sans",Helvetica,sans-serif;color:var(--text)}
.pick tbody th,.pick .part{font-size:15px}
.pick span.small{display:block;font-weight:normal;line-height:1.3}
.pick bdi,.pick td>.prose{min-width:0}
.pick tbody th{min-width:0}
.pick td:nth-child(n+6){border-left:1px solid var(--grid)}
.tick{width:17px;height:17px;border:1.5px solid var(--ink)}
@media (max-width:620px){
.pick,.pick tbody,.pick tr,.pick td,.pick tbody th,.pick thead,.pick .of{display:block;width:auto}
.pick tr+tr:not(tbody tr){display:none}
.pick tbody tr{position:relative;border-bottom:1.5px solid var(--rule);padding:8px 0 8px 34px}
.pick td,.pick tbody th{border:0;padding:1px 0}.pick td:nth-child(n+6){border:0}
.pick td:first-child{position:absolute;left:0}
.pick td:nth-child(6)::before{content:"Fitted by: "}.pick td:nth-child(7)::before{content:"Date: "}
.pick td:nth-child(n+6){color:var(--text)}
}
@media print{
.list{margin-top:0;break-before:page}.list:first-of-type{break-before:auto}
.list h2{break-before:auto}
.pick{font-size:9pt}.pick tbody th,.pick .part{font-size:11pt}.pick .small{font-size:8.5pt}
.pick th,.pick td{padding:4px 6px 4px 0}.pick tbody td{height:10mm}
.pick thead{break-inside:avoid;break-after:avoid}
.tick{width:4.5mm;height:4.5mm}
}`;

/** One HTML file without scripts and without anything from outside. Same plan, same bytes. */
export function pickListsHtml(plan: Plan, all = pickLists(plan)): string {
  return inLocale(plan.site.locale, () => pageOf(plan, all));
}

function pageOf(plan: Plan, all: ReturnType<typeof pickLists>): string {
  const shown = shownLists(all, plan.site.dataUntil);
  const body = html`<header><h1>${name(plan.site.name)}: pick lists for shutdowns</h1>
<p class="facts">Data until <b>${dateWords(plan.site.dataUntil)}</b>. weirwise ${plan.version}, seed ${plan.seed}, inputs ${plan.inputsHash}.</p>
${leftOut(all, shown)}<p class="caution"><b>Before you act.</b> ${plan.caution}</p></header>
<main>${shown.length === 0 ? html`<p class="lead">${SENTENCE.nothingBeReplacedShutdownsKnown}</p>` : shown.map((list) => listPart(plan, list))}</main>
`;
  return wholePage({
    title: `${plainName(plan.site.name)}: pick lists`,
    style: `${STYLE}${PICK_STYLE}`,
    body,
  });
}

/** Whole lists, in order of date: the first always, further ones within a year and as long as there is room. */
function shownLists(all: readonly PickList[], dataUntil: string): PickList[] {
  const today = dayFromText(dataUntil);
  const until = today === null ? '9999-12-31' : textFromDay(addMonths(today, MONTHS));
  const shown: PickList[] = [];
  let room = MOST_ROWS;
  for (const list of all) {
    if (shown.length > 0 && (list.load.start > until || list.rows.length > room)) break;
    shown.push({ ...list, rows: list.rows.slice(0, room) });
    room -= Math.min(room, list.rows.length);
  }
  return shown;
}

/** What the page does not hold, and where it is. */
function leftOut(all: readonly PickList[], shown: readonly PickList[]): Html | null {
  const cut = (all[0]?.rows.length ?? 0) - (shown[0]?.rows.length ?? 0);
  const parts = [
    ...(cut > 0 ? [`${count(cut, 'position')} of the first shutdown`] : []),
    ...(all.length > shown.length
      ? [
          `${count(all.length - shown.length, 'later shutdown')}, from ${dateWords(all[shown.length]?.load.start ?? '')} on`,
        ]
      : []),
  ];
  if (parts.length === 0) return null;
  return html`<p>Not in this page: ${parts.join('; ')}. They are in pick-lists.csv, and later shutdowns are planned anew by then.</p>
`;
}

function listPart(plan: Plan, list: PickList): Html {
  const { load, rows, items } = list;
  return html`<section class="list">
<h2>${name(load.shutdown)}</h2>
<p class="lead">${dateWords(load.start)} to ${dateWords(load.end)}: ${count(rows.length, 'position')}, ${count(items.length, 'part number')}.</p>
<h3>${HEADING.partsToLayOut}</h3>
${items.length === 0 ? null : html`<p class="small">${kitWords(plan.site)}</p>`}
${items.length === 0 ? html`<p>${SENTENCE.noPartKnownBeNeeded}</p>` : kitTable('Pieces, a row for each part number', items, plan.site.dataUntil)}${bullets(notes(list))}
<h3>${HEADING.positionsLineByLine}</h3>
<p class="small">${SENTENCE.lotsAreGivenFirstExpiredFirst}</p>
${linesOf(rows).map((line) => lineTable(line, list))}</section>
`;
}

/** What the list does not hold, and what is short. */
function notes({ load, items, rows }: PickList): Html[] {
  const short = items.filter((kit) => (kit.short ?? 0) > 0);
  const unknown = rows.filter(({ source }) => source === null).length;
  return [
    ...short.map((kit) => html`<b>${count(kit.short ?? 0, 'piece')} of ${name(kit.item)} short.</b>`),
    ...(unknown > 0
      ? [
          html`${count(unknown, 'position takes', 'positions take')} a part that items.csv does not list: nothing is known of its stock.`,
        ]
      : []),
    ...(load.doNotFit > 0
      ? [
          html`${count(load.doNotFit, 'position does', 'positions do')} not fit into this shutdown and ${load.doNotFit === 1 ? 'is' : 'are'} not on this list: see shutdown-plan.csv.`,
        ]
      : []),
  ];
}

function linesOf(rows: readonly PickRow[]): PickRow[][] {
  const lines: PickRow[][] = [];
  for (const row of rows) {
    const last = lines.at(-1);
    if (last !== undefined && last[0]?.task.line === row.task.line) last.push(row);
    else lines.push([row]);
  }
  return lines;
}

const HEADS = ['Done', 'Position', 'Part', 'Lot', 'Why', 'Fitted by', 'Date'];
/** Widths of the columns, in parts of a hundred. */
const COLUMNS = html`<colgroup>${[6, 14, 21, 16, 24, 10, 9].map((width) => trusted(`<col style="width:${width}%">`))}</colgroup>`;

/** A table a line, so that its name and the heads of its columns come again on every sheet of paper. */
function lineTable(rows: readonly PickRow[], { load }: PickList): Html {
  const line = rows[0]?.task.line ?? '';
  const title = line === '' ? html`No line given` : html`Line ${name(line)}`;
  return html`<table class="pick">${COLUMNS}<thead>
<tr><th class="of" colspan="7">${title} <span>${name(load.shutdown)}, ${dateWords(load.start)}; ${count(rows.length, 'position')}</span></th></tr>
<tr>${HEADS.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
<tbody>${rows.map((row) => rowPart(row, load.end))}</tbody></table>
`;
}

function rowPart({ task, source }: PickRow, end: string): Html {
  const where = task.location === '' ? null : html`<span class="small">${name(task.location)}</span>`;
  const kind = html`<span class="small">${plainName(task.material)} DN\u00a0${task.size}</span>`;
  const part = task.item === null ? html`no part number${kind}` : html`<b>${name(task.item)}</b>${kind}`;
  return html`<tr><td><span class="tick"></span></td><th scope="row">${name(task.position)}${where}</th><td class="part">${part}</td><td>${lotCell(source, end)}</td><td class="small">${prose(shortReason(task.because))}</td><td></td><td></td></tr>
`;
}

const ORDERED: Readonly<Record<Exclude<KitSource['from'], 'shelf'>, string>> = {
  'on order': 'on order',
  late: 'overdue order',
  planned: 'still to order',
};

/** The lot, with its last good day where it has one; bold where that falls into the shutdown. */
function lotCell(source: PickRow['source'], end: string): Html | null {
  if (source === null) return null;
  if (source === 'short') return html`<b>short</b>`;
  if (source.from !== 'shelf') return html`${ORDERED[source.from]}`;
  const lot = source.lot === null ? html`shelf` : name(source.lot);
  if (source.useBy === null) return lot;
  const until = `use by ${dateWords(source.useBy)}`;
  return html`${lot}<span class="small">${source.useBy < end ? html`<b>${until}</b>` : until}</span>`;
}
