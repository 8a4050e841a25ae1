/** What the screen and the page of a check both say. */
import { amount, count, percent } from '../../chart/words.js';
import type { FileScore } from '../../fleet/quality/scoreFiles.js';
import type { ReasonToAsk } from '../otherReadings.js';

/** Mends that are shown; check.csv has all. */
export const MOST_MENDS = 10;

/** What a score is made of, in one sentence. */
export function madeOf({
  rowsIn,
  rowsUsed,
  columnsThere,
  columnsOf,
  columnsMissing,
  cells,
  ruleHits,
}: FileScore): string {
  if (rowsIn === 0) return 'No row in it.';
  const missing = columnsMissing.length === 0 ? '' : ` (no ${columnsMissing.join(', no ')})`;
  const parts = [
    `rows used ${percent(rowsUsed / rowsIn)}`,
    `needed and useful columns ${columnsThere} of ${columnsOf}${missing}`,
    ...(cells.length === 0 ? [] : [cellsWords(cells)]),
    `cleaning rules hit ${count(ruleHits, 'time')}`,
  ];
  return `${parts.join(', ')}.`;
}

function cellsWords(cells: FileScore['cells']): string {
  const filled = cells.reduce((sum, cell) => sum + cell.filled, 0);
  const of = cells.reduce((sum, cell) => sum + cell.of, 0);
  const least = [...cells].sort((a, b) => a.filled / a.of - b.filled / b.of)[0];
  const share = least === undefined ? 1 : least.filled / least.of;
  const word =
    least === undefined || share === 1 || cells.length === 1 ? '' : ` (${least.column} ${percent(share)})`;
  return `their cells filled ${percent(filled / of)}${word}`;
}

/** Why the reason of one removal matters. */
export function whyItMatters({ chance, effect }: ReasonToAsk): string {
  const moved = `${effect > 0 ? 'later' : 'earlier'} by ${count(Number(Math.abs(effect).toPrecision(2)), 'day')}`;
  return `Counts as a leak with ${percent(chance)}; if it was one, the age by which 10 % have leaked is ${moved} than if it was none.`;
}

/** "14", "0.6": leaks, weights of unknown reasons included. */
export function leaksWords(leaks: number): string {
  return amount(Math.round(leaks * 10) / 10, 9);
}
