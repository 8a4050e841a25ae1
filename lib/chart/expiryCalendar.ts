/** Lots on the shelf by the day they expire: what is used in time and what passes its date unused. */
import { at } from '../numeric/columns.js';
import { dayFromText } from '../numeric/day.js';
import type { LotUse, StockAdvice } from '../stock/types.js';
import { fine } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { circles, diamonds, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { dateAxis } from './timeAxis.js';
import { ofRow, tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, dateWords, listed, money, pieces, plainName } from './words.js';

const MOST_LOTS = 24;
const SHORTEST_SPAN = 180;

interface LotRow extends LotUse {
  item: string;
  price: number | null;
}

/** Lots of all items with a use-by date within the months planned; `from` is the day of the data, YYYY-MM-DD. */
export function expiryCalendar(stock: readonly StockAdvice[], from: string, currency: string): Chart {
  const lots = stock
    .flatMap(({ item, price, lots: own }) => own.map((lot): LotRow => ({ ...lot, item, price })))
    .sort((a, b) => (a.useBy < b.useBy ? -1 : a.useBy > b.useBy ? 1 : 0));
  const shown = lots.slice(0, MOST_LOTS);
  const title = TITLE.expiresShelfWhen;
  const finding = findingOf(lots, stock, currency);
  const description = `${finding}. ${shown.map(lotText).join('; ')}${shown.length > 0 ? '.' : ''}`;
  return {
    name: 'expiry-calendar',
    title,
    finding,
    description: description.trim(),
    spec: specOf(shown, from, { title, finding, description: description.trim() }),
    table: {
      columns: ['Item', 'Lot', 'Use by', 'Pieces', 'Expire unused', 'Used for'],
      rows: lots.map(({ item, lot, useBy, quantity, expires, for: uses }) => [
        item,
        lot,
        dateWords(useBy),
        quantity,
        expires,
        listed(uses, 3),
      ]),
    },
    leftOut:
      lots.length > shown.length
        ? `The picture shows the ${MOST_LOTS} lots that expire first; ${count(lots.length - shown.length, 'more is', 'more are')} in the table.`
        : null,
  };
}

function findingOf(lots: readonly LotRow[], stock: readonly StockAdvice[], currency: string): string {
  const ordered = stock.flatMap(({ orders }) => orders).reduce((sum, { scrap }) => sum + scrap, 0);
  const more =
    ordered >= 0.5 ? `; of what is to be ordered ${pieces(ordered)} more, for smallest orders` : '';
  if (lots.length === 0) return `No lot on the shelf expires within the months planned${more}`;
  const lost = lots.filter(({ expires }) => expires > 0);
  const first = lost[0];
  const dated = count(lots.length, 'lot expires', 'lots expire');
  if (first === undefined) return `${dated} within the months planned; all pieces are used before${more}`;
  const all = lost.reduce((sum, { expires }) => sum + expires, 0);
  const worth = lost.reduce((sum, { expires, price }) => sum + expires * (price ?? 0), 0);
  const value = worth > 0 ? `, worth ${money(worth, currency)}` : '';
  return `${count(all, 'piece is', 'pieces are')} expected to expire unused${value}, from ${lost.length} of ${lots.length} lots; first ${plainName(first.item)} on ${dateWords(first.useBy)}${more}`;
}

function lotText({ item, lot, quantity, useBy, expires }: LotRow): string {
  const name = lot === null ? '' : ` lot ${plainName(lot)}`;
  return `${plainName(item)}${name}, ${pieces(quantity)} until ${dateWords(useBy)}, ${expires === 0 ? 'all used' : `${expires} unused`}`;
}

function specOf(
  shown: readonly LotRow[],
  from: string,
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const rows = rowAxes(shown.map(({ item, lot }) => `${plainName(item)}\n${plainName(lot ?? '')}`.trim()));
  const words = shown.map(({ quantity, expires }) => ({
    text: expires === 0 ? `${pieces(quantity)}, all used` : `${expires} of ${pieces(quantity)} expire`,
    bold: expires > 0,
    rust: expires > 0,
  }));
  const frame = rowFrame(rows, words, 130, true);
  const width = plotWidth(frame);
  return frameSpec({
    ...texts,
    height: rows.height,
    bottom: 38,
    ...frame,
    layers: [...layersOf(shown, from, rows, width), ...rows.names, ...endWords(words, rows, frame, width)],
  });
}

/** A bar from today to the last good day, a circle where all is used and a diamond where some is not. */
function layersOf(shown: readonly LotRow[], from: string, axes: RowAxes, width: number): Layer[] {
  const start = dayFromText(from) ?? 0;
  const ends = shown.map(({ useBy }) => Math.max(0, (dayFromText(useBy) ?? start) - start));
  const span = Math.max(SHORTEST_SPAN, ...ends.map((day) => day * 1.03));
  const scale = { domain: [0, fine(span)], nice: false, zero: false };
  const values = shown.map(({ expires }, i) => ({
    row: i + 0.5,
    zero: 0,
    day: fine(at(ends, i)),
    lost: expires > 0,
  }));
  const [lost, used] = [values.filter((row) => row.lost), values.filter((row) => !row.lost)];
  const x = onScale('day', scale);
  const y = axes.y('row');
  const tips = ofRow(shown.map(lotText));
  const bar = (rows: typeof values, color: string): Layer =>
    layer({ type: 'rule', color, strokeWidth: 3, opacity: 1 }, rows, {
      x: onScale('zero', scale),
      x2: { field: 'day' },
      y,
    });
  return [
    layer({ type: 'rule', opacity: 0 }, [{ day: 0 }], {
      x: {
        field: 'day',
        type: 'quantitative',
        scale,
        axis: { ...dateAxis(from, span, width), grid: true },
      },
    }),
    bar(used, COLOUR.fill),
    bar(lost, COLOUR.rust),
    tipped(circles(used, { x, y }, 50), tips),
    tipped(diamonds(lost, { x, y }, 80), tips),
  ];
}
