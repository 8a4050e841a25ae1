/** Lots to issue first, and what will pass its use-by date even so. */

import { amount, dateWords } from '../chart/words.js';
import { addMonths, dayFromText, textFromDay } from '../numeric/day.js';
import type { Plan } from '../planTypes.js';
import type { LotUse, StockAdvice } from '../stock/types.js';
import { dataTable, type Html, html, name, prose } from './markup.js';
import { itemCell } from './orders.js';
import { CAPTION, COLUMN, HEADING } from './texts.js';

/** Lots with a use-by date within so many months are named. */
const SOON_MONTHS = 12;
const MOST_LOTS = 100;
const MOST_KITS = 3;

interface LotRow extends LotUse {
  item: StockAdvice;
}

export function lotsPart({ stock, site }: Plan): Html | null {
  const today = dayFromText(site.dataUntil);
  const until = today === null ? '9999' : textFromDay(addMonths(today, SOON_MONTHS));
  const lots = stock
    .flatMap((item) => item.lots.map((lot): LotRow => ({ ...lot, item })))
    .sort((a, b) => (a.useBy < b.useBy ? -1 : a.useBy > b.useBy ? 1 : 0));
  const first = lots.filter(({ useBy, expires, quantity }) => useBy <= until && expires < quantity);
  return html`${firstPart(first)}${expirePart(
    lots.filter(({ expires }) => expires >= 1),
    site.currency,
  )}`;
}

function firstPart(lots: readonly LotRow[]): Html | null {
  if (lots.length === 0) return null;
  return html`<h3>${HEADING.issueTheseLotsFirst}</h3>
${dataTable({
  caption: `Lots with a use-by date within twelve months${lots.length > MOST_LOTS ? ` (first ${MOST_LOTS} of ${lots.length})` : ''}`,
  cards: true,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.lot },
    { title: COLUMN.pieces, number: true },
    { title: COLUMN.useBy },
    { title: COLUMN.for },
  ],
  rows: lots
    .slice(0, MOST_LOTS)
    .map((row) => [
      itemCell(row.item),
      row.lot === null ? 'no number' : name(row.lot),
      amount(row.quantity, 9),
      html`<span class="day">${dateWords(row.useBy)}</span>`,
      prose(useWords(row)),
    ]),
})}`;
}

function useWords({ for: uses, expires, quantity }: LotUse): string {
  const shown = uses.slice(0, MOST_KITS);
  const rest = uses.length > shown.length ? ` and ${uses.length - shown.length} more` : '';
  const left =
    expires < 1
      ? ''
      : `; about ${amount(quantity - expires, 9)} of ${amount(quantity, 9)} are needed in time`;
  return `${shown.join(', ')}${rest}${left}`;
}

function expirePart(lots: readonly LotRow[], currency: string): Html | null {
  if (lots.length === 0) return null;
  return html`<h3>${HEADING.willExpireEvenSo}</h3>
${dataTable({
  caption: CAPTION.piecesNotNeededBeforeTheir,
  columns: [
    { title: COLUMN.partNumber },
    { title: COLUMN.lot },
    { title: COLUMN.pieces, number: true },
    { title: COLUMN.useBy },
    { title: `Value, ${currency}`, number: true },
  ],
  rows: lots
    .slice(0, MOST_LOTS)
    .map((row) => [
      itemCell(row.item),
      row.lot === null ? 'no number' : name(row.lot),
      html`<b>${amount(row.expires, 9)}</b> of ${amount(row.quantity, 9)}`,
      html`<span class="day">${dateWords(row.useBy)}</span>`,
      row.item.price === null ? 'no price' : amount(Math.round(row.item.price * row.expires), 9),
    ]),
})}`;
}
