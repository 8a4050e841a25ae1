/** Use by month as stores counts it: what is forecast from it, and where it stands beside the positions' model. */

import { amount, pieces } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import type { RecordedUse } from '../stock/types.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';
import { itemCell } from './orders.js';
import { COLUMN } from './texts.js';

const MOST_ITEMS = 100;

export function recordedUsePart({ stock }: Plan): Html | null {
  const rows = stock.flatMap((item) => (item.recordedUse === null ? [] : [{ item, use: item.recordedUse }]));
  if (rows.length === 0) return null;
  const rest = rows.length > MOST_ITEMS ? ` (first ${MOST_ITEMS} of ${rows.length}; all in stock.csv)` : '';
  return folded(
    html`<b>Use on record</b> by month, from monthly-use.csv`,
    dataTable({
      caption: `Where no position needs an item, its orders rest on this use; else it is a check of the positions' model under today's practice${rest}`,
      columns: [
        { title: COLUMN.partNumber },
        { title: COLUMN.usedAYear, number: true },
        { title: "By the positions' model (95 % range)", number: true },
        { title: COLUMN.record },
      ],
      rows: rows
        .slice(0, MOST_ITEMS)
        .map(({ item, use }) => [
          itemCell(item),
          pieces(use.perYear),
          modelled(use),
          html`<div class="wide">${prose(use.words)}</div>`,
        ]),
    }),
  );
}

function modelled({ modelledPerYear, modelledRange }: RecordedUse): string {
  if (modelledPerYear === null || modelledRange === null) return 'no position';
  const [low, high] = modelledRange;
  return `${pieces(modelledPerYear)} (${amount(low)} to ${amount(high)})`;
}
