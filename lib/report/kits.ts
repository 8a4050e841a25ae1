/** What to lay out for each shutdown: pieces per item. */
import { amount, count, dateWords, pieces } from '../chart/words.js';
import { floatAt } from '../numeric/columns.js';
import { poissonBinomial } from '../numeric/convolve.js';
import type { Plan } from '../planTypes.js';
import { dataTable, folded, type Html, html, name, prose } from './markup.js';

const MOST_ROWS = 60;
const MOST_SHUTDOWNS = 8;
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
    below += floatAt(pmf, k);
    if (below >= SAFETY) return k;
  }
  return chances.length;
}

export function kitsPart(plan: Plan): Html | null {
  const kits = shutdownKits(plan);
  const starts = [...new Set(kits.map(({ shutdown, start }) => JSON.stringify([start, shutdown])))];
  if (starts.length === 0) return null;
  const tables = starts.slice(0, MOST_SHUTDOWNS).map((key, i) => {
    const rows = kits.filter(({ shutdown, start }) => JSON.stringify([start, shutdown]) === key);
    return i === 0
      ? html`<p>${kitTitle(rows)}</p>${kitTable(rows)}`
      : folded(kitTitle(rows), kitTable(rows), true);
  });
  const rest =
    starts.length > MOST_SHUTDOWNS
      ? html`<p class="small">Later ones follow from shutdown-plan.csv.</p>`
      : null;
  return html`<h3>Kits per shutdown</h3>
${tables}${rest}`;
}

function kitTitle(kits: readonly Kit[]): Html {
  const { shutdown, start } = kits[0] as Kit;
  const total = kits.reduce((all, { with95 }) => all + with95, 0);
  return html`<b>${name(shutdown)}</b>, ${dateWords(start)}: lay out ${count(total, 'piece')} of ${count(kits.length, 'item')}`;
}

function kitTable(kits: readonly Kit[]): Html {
  return dataTable({
    caption: `Pieces for the replacements that fit into the crew hours. A diaphragm that leaks before is replaced then and drops off the kit.${kits.length > MOST_ROWS ? ` First ${MOST_ROWS} items of ${kits.length}.` : ''}`,
    columns: [
      { title: 'Part number' },
      { title: 'If nothing leaks', number: true },
      { title: 'Expected', number: true },
      { title: 'Lay out (95 % safe)', number: true },
    ],
    rows: kits
      .slice(0, MOST_ROWS)
      .map((kit) => [
        html`${kit.item === null ? null : name(kit.item)} <span class="small">${prose(kit.material)} DN ${kit.size}</span>`,
        amount(kit.ifNothingLeaks, 9),
        pieces(kit.expected),
        html`<b>${amount(kit.with95, 9)}</b>`,
      ]),
  });
}
