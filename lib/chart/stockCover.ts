/** How many months each item on the shelf lasts: usable pieces against expected need. */

import type { StockAdvice } from '../stock/types.js';
import { fine, monthTicks, tickText } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { ofRow, tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, coverWords, plainName } from './words.js';

const MOST_ITEMS = 30;
/** More cover than this is drawn as a bar that runs out of the picture. */
const LONGEST = 36;

export function stockCover(stock: readonly StockAdvice[]): Chart {
  const ranked = [...stock].sort((a, b) => (a.monthsOfCover ?? 1e9) - (b.monthsOfCover ?? 1e9));
  const shown = ranked.slice(0, MOST_ITEMS);
  const title = TITLE.howLongShelfLasts;
  const finding = findingOf(ranked);
  const description = `${finding}. ${shown.map((each) => `${plainName(each.item)} ${coverText(each)}`).join('; ')}.`;
  return {
    name: 'stock-cover',
    title,
    finding,
    description,
    spec: specOf(shown, { title, finding, description }),
    table: tableOf(ranked),
    leftOut:
      ranked.length > shown.length
        ? `The picture shows the ${MOST_ITEMS} items with the least cover; ${count(ranked.length - shown.length, 'more is', 'more are')} in the table.`
        : null,
  };
}

function findingOf(ranked: readonly StockAdvice[]): string {
  if (ranked.length === 0) return 'No item is listed';
  const now = ranked.filter(({ kind }) => kind === 'order now').length;
  const first = ranked[0] as StockAdvice;
  const shortest =
    first.monthsOfCover === null ? '' : `; shortest ${plainName(first.item)}, ${coverText(first)}`;
  return `${count(now, 'item needs', 'items need')} an order now, of ${ranked.length}${shortest}`;
}

function coverText({ monthsOfCover }: StockAdvice): string {
  return monthsOfCover === null ? 'no need expected' : coverWords(monthsOfCover);
}

function specOf(
  shown: StockAdvice[],
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const rows = rowAxes(shown.map(({ item }) => plainName(item)));
  const words = shown.map((each) => ({
    text: `${coverText(each)}${each.kind === 'order now' ? ', order' : ''}`,
    bold: each.kind === 'order now',
    rust: each.kind === 'order now',
  }));
  const frame = rowFrame(rows, words, 130, true);
  return frameSpec({
    ...texts,
    height: rows.height,
    across: AXIS.monthsExpectedNeedOnShelf,
    ...frame,
    layers: [
      ...layersOf(shown, rows, plotWidth(frame)),
      ...rows.names,
      ...endWords(words, rows, frame, plotWidth(frame)),
    ],
  });
}

function layersOf(shown: StockAdvice[], rows: RowAxes, width: number): Layer[] {
  const longest = Math.min(LONGEST, Math.max(6, ...shown.map(({ monthsOfCover }) => monthsOfCover ?? 0)));
  const scale = { domain: [0, fine(longest)], nice: false, zero: false };
  const values = shown
    .map((each, i) => ({
      zero: 0,
      cover: fine(Math.min(each.monthsOfCover ?? 0, longest)),
      from: i + 0.2,
      to: i + 0.8,
      now: each.kind === 'order now',
    }))
    .filter(({ cover }) => cover > 0);
  const tips = ofRow(
    shown.map((each) => `${plainName(each.item)}: ${coverText(each)}`),
    'from',
  );
  const bar = (now: boolean): Layer =>
    tipped(
      layer(
        { type: 'rect', color: now ? COLOUR.rust : COLOUR.fill, opacity: 1 },
        values.filter((row) => row.now === now),
        {
          x: onScale('zero', scale),
          x2: { field: 'cover' },
          y: rows.y('from'),
          y2: { field: 'to' },
        },
      ),
      tips,
    );
  const axis = {
    values: monthTicks(longest, width < 240 ? 5 : 9),
    labelExpr: tickText(),
    grid: true,
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ zero: 0 }], {
      x: { field: 'zero', type: 'quantitative', scale, axis },
    }),
    bar(false),
    bar(true),
  ];
}

function tableOf(stock: readonly StockAdvice[]): Chart['table'] {
  return {
    columns: [
      COLUMN.item,
      COLUMN.onHand,
      COLUMN.usable,
      COLUMN.onOrder,
      COLUMN.reorderPoint,
      COLUMN.lasts,
      COLUMN.action,
    ],
    rows: stock.map((each) => [
      each.item,
      each.onHand,
      each.usable,
      each.onOrder,
      each.reorderPoint,
      coverText(each),
      each.action,
    ]),
  };
}
