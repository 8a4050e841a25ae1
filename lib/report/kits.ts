/** What to lay out for each shutdown, and what there is for it: pieces per item. */

import { amount, count, dateWords, percent, pieces } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import { WHOLE } from '../stock/follow.js';
import type { KitRow } from '../stock/kits.js';
import type { KitSource } from '../stock/types.js';
import { dataTable, folded, type Html, html, name } from './markup.js';
import { itemCell } from './orders.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';

const MOST_ROWS = 60;
const MOST_SHUTDOWNS = 8;

export function kitsPart({ kits, site }: Plan): Html | null {
  const shutdowns = [...byShutdown(kits).values()];
  if (shutdowns.length === 0) return null;
  const tables = shutdowns
    .slice(0, MOST_SHUTDOWNS)
    .map((rows, i) =>
      i === 0
        ? html`<p>${kitTitle(rows)}</p>${itemsTable(rows, site.dataUntil)}`
        : folded(kitTitle(rows), itemsTable(rows, site.dataUntil), true),
    );
  const rest =
    shutdowns.length > MOST_SHUTDOWNS ? html`<p class="small">${SENTENCE.laterOnesAreKitsCsv}</p>` : null;
  return html`<h3>${HEADING.kitsPerShutdown}</h3>
<p class="small">${kitWords(site)} Positions with their lots, to print: pick-lists.html.</p>
${tables}${rest}`;
}

/** What the numbers of a kit mean. */
export function kitWords({ kitComplete }: Pick<Plan['site'], 'kitComplete'>): string {
  return `Due if nothing leaks: all that falls due then. Expected: on average, because what leaks or is opened before is replaced then and drops off. With 95 % safety: enough of this part in 19 of 20 cases. Lay out: with so many of each, the whole kit is complete with a chance of ${percent(kitComplete)} (kit_complete in site.json); what is left goes back to the shelf.`;
}

function byShutdown(kits: readonly KitRow[]): Map<string, KitRow[]> {
  const shutdowns = new Map<string, KitRow[]>();
  for (const kit of kits) {
    const key = JSON.stringify([kit.start, kit.shutdown]);
    const known = shutdowns.get(key);
    if (known === undefined) shutdowns.set(key, [kit]);
    else known.push(kit);
  }
  return shutdowns;
}

function kitTitle(kits: readonly KitRow[]): Html {
  const { shutdown, start } = kits[0] as KitRow;
  const total = kits.reduce((all, { layOut }) => all + layOut, 0);
  const short = kits.reduce((all, kit) => all + (kit.short ?? 0), 0);
  const missing = short > 0 ? html`; <b>${count(short, 'piece')} short</b>` : null;
  return html`<b><bdi>${shutdown}</bdi></b>, ${dateWords(start)}: lay out ${count(total, 'piece')} of ${count(kits.length, 'item')}${missing}`;
}

function itemsTable(kits: readonly KitRow[], dataUntil: string): Html {
  const rest = kits.length > MOST_ROWS ? ` First ${MOST_ROWS} items of ${kits.length}.` : '';
  return kitTable(
    `Pieces, and where this kit is expected to take them from, after the leaks and kits before it.${rest}`,
    kits.slice(0, MOST_ROWS),
    dataUntil,
  );
}

/** A row per item: what to lay out, and where it comes from. */
export function kitTable(caption: string, kits: readonly KitRow[], dataUntil: string): Html {
  return dataTable({
    caption,
    columns: [
      { title: COLUMN.partNumber },
      { title: COLUMN.layOut, number: true },
      { title: COLUMN.dueIfNothingLeaks, number: true },
      { title: COLUMN.expected, number: true },
      { title: COLUMN.with95PercentSafety, number: true },
      { title: COLUMN.fromTheShelf, number: true },
      { title: COLUMN.fromOrdersPlaced, number: true },
      { title: COLUMN.stillToOrder, number: true },
      { title: COLUMN.short, number: true },
      { title: COLUMN.lastDayToOrder },
    ],
    rows: kits.map((kit) => [
      html`${itemCell(kit)}${substituteLine(kit)}`,
      html`<b>${amount(kit.layOut, 9)}</b>`,
      pieces(kit.ifNothingLeaks),
      pieces(kit.expected),
      pieces(kit.with95),
      piecesOf(kit, 'shelf'),
      wayCell(kit),
      piecesOf(kit, 'planned'),
      shortCell(kit),
      dayCell(kit, dataUntil),
    ]),
  });
}

function piecesOf({ taken }: KitRow, from: KitSource['from']): string {
  return taken === null ? 'not known' : amount(taken[from], 9);
}

/** What of the orders placed this kit takes, and what of it is overdue. */
function wayCell(kit: KitRow): string {
  const late = kit.taken?.late ?? 0;
  if (late === 0) return piecesOf(kit, 'on order');
  const coming = kit.taken?.['on order'] ?? 0;
  return `${coming === 0 ? '' : `${amount(coming, 9)} and `}${amount(late, 9)} overdue`;
}

/** Pieces missing, and how many more if what is overdue does not come. */
function shortCell({ short, layOut, onShelf, onTheWay, toOrder, late }: KitRow): Html {
  if (short === null) return html`not known`;
  const without = Math.ceil(layOut - (onShelf ?? 0) - (onTheWay ?? 0) - (toOrder ?? 0) - WHOLE);
  const more =
    (late ?? 0) > 0 && without > short ? html`, <b>${amount(without, 9)}</b> without the overdue` : null;
  return html`${short > 0 ? html`<b>${amount(short, 9)}</b>` : '0'}${more}`;
}

/** True where the shelf and the orders already placed hold all of it. */
export function isComplete({ taken, short }: KitRow): boolean {
  return (taken?.planned ?? 0) === 0 && (short ?? 0) === 0;
}

/** The last day to order what is not there yet; nothing where nothing is to be ordered. */
function dayCell(kit: KitRow, dataUntil: string): Html {
  const { orderBy } = kit;
  if (orderBy === null) return html`not known`;
  if (isComplete(kit)) return html`nothing to order`;
  const day = html`<span class="day">${dateWords(orderBy)}</span>`;
  return orderBy < dataUntil ? html`<b>past</b> <span class="small">(${day})</span>` : day;
}

function substituteLine({ substitute }: KitRow): Html | null {
  if (substitute === null) return null;
  const spare = substitute.spare === null ? 'none known' : `${amount(substitute.spare, 9)} to spare`;
  return html`<br><span class="small">may be replaced by ${name(substitute.item)}, ${spare}</span>`;
}
