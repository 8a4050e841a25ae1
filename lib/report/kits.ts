/** What to lay out for each shutdown: pieces per item. */
import { amount, dateWords, pieces } from '../chart/words.js';
import { at } from '../numeric/columns.js';
import { poissonBinomial } from '../numeric/convolve.js';
import type { Plan } from '../planTypes.js';
import { dataTable, type Html, html, name, prose } from './markup.js';

const MOST_ROWS = 40;
const SAFETY = 0.95;

export interface Kit {
  shutdown: string;
  start: string;
  item: string | null;
  material: string;
  size: number;
  /** Pieces if no diaphragm on the list leaks or is opened before. */
  ifNothingLeaks: number;
  expected: number;
  /** Enough with 95 % safety. */
  with95: number;
}

/** A row per shutdown and item, over the replacements that fit into the crew hours. */
export function shutdownKits({ shutdownPlan }: Plan): Kit[] {
  const chances = new Map<string, { kit: Kit; list: number[] }>();
  for (const task of shutdownPlan) {
    if (!task.fits) continue;
    const key = JSON.stringify([task.shutdown, task.start, task.item, task.material, task.size]);
    const { shutdown, start, item, material, size } = task;
    const entry = chances.get(key) ?? {
      kit: { shutdown, start, item, material, size, ifNothingLeaks: 0, expected: 0, with95: 0 },
      list: [],
    };
    entry.list.push(Math.min(1, Math.max(0, task.chanceStillDue)));
    chances.set(key, entry);
  }
  return [...chances.values()].map(({ kit, list }) => ({
    ...kit,
    ifNothingLeaks: list.length,
    expected: list.reduce((all, chance) => all + chance, 0),
    with95: enough(list),
  }));
}

/** Smallest number of pieces that covers the replacements still due with 95 % safety. */
function enough(chances: number[]): number {
  const pmf = poissonBinomial(chances);
  let below = 0;
  for (let k = 0; k < pmf.length; k++) {
    below += at(pmf, k);
    if (below >= SAFETY) return k;
  }
  return chances.length;
}

export function kitsPart(plan: Plan): Html | null {
  const kits = shutdownKits(plan);
  if (kits.length === 0) return null;
  const shown = kits.slice(0, MOST_ROWS);
  const rest = kits.length > shown.length ? `; the next ${shown.length} rows of ${kits.length}` : '';
  return html`<h3>Kits per shutdown</h3>
${dataTable({
  caption: `Pieces for the replacements that fit into the crew hours${rest}. A diaphragm that leaks before its shutdown is replaced then and drops off the kit.`,
  columns: [
    { title: 'Shutdown' },
    { title: 'Part number' },
    { title: 'If nothing leaks', number: true },
    { title: 'Expected', number: true },
    { title: 'Lay out (95 % safe)', number: true },
  ],
  rows: shown.map((kit) => [
    html`${name(kit.shutdown)} <span class="small day">${dateWords(kit.start)}</span>`,
    html`${kit.item === null ? null : name(kit.item)} <span class="small">${prose(kit.material)} DN ${kit.size}</span>`,
    amount(kit.ifNothingLeaks, 9),
    pieces(kit.expected),
    html`<b>${amount(kit.with95, 9)}</b>`,
  ]),
})}`;
}
