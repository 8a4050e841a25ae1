/** The best one-to-one choice of columns for a table of ours, with what else could be meant. */
import { itemAt } from '../../numeric/columns.js';
import { type CsvFile, columnsOf } from '../columnNames.js';
import { unitsOf } from '../written/units.js';
import { assign } from './assign.js';
import { unitIn, unitNamed } from './dictionary.js';
import { type LookedAt, placeIn, readAt } from './lookedAt.js';
import type { Score } from './scoreColumns.js';
import { type ColumnProposal, surenessOf } from './types.js';

/**
 * What a pair counts in the sum: the cube of its confidence, so that two poor pairs are never worth more than one good one.
 */
function weight({ confidence }: Score): number {
  return confidence ** 3;
}

/** Two choices whose sums differ by less are about as good. */
const AS_GOOD = 0.08;

export function matchColumns(
  looked: LookedAt,
  table: CsvFile,
  scores: readonly (readonly Score[])[],
  ours: readonly string[] = columnsOf(table),
): ColumnProposal[] {
  const weights = scores.map((row) => row.map(weight));
  const best = assign(weights);
  return best.partner.flatMap((place, i) => {
    if (place < 0) return [];
    const { confidence, why } = itemAt(itemAt(scores, i), place);
    const rivals = rivalsOf(weights, best.total, i, place);
    const sureness = surenessOf(confidence);
    const proposal: ColumnProposal = {
      theirs: looked.source.header[placeIn(looked, place)] ?? '',
      place: placeIn(looked, place),
      looked: place,
      isRead: readAt(looked, place) !== null,
      ours: itemAt(ours, i),
      confidence,
      sureness,
      why,
      asked: rivals.length > 0 || sureness === 'guess',
      rivals,
      unit: unitOf(looked, itemAt(ours, i), place),
    };
    return [proposal];
  });

  /** What our column would be instead, if that were about as good on the whole. */
  function rivalsOf(
    all: readonly (readonly number[])[],
    total: number,
    row: number,
    place: number,
  ): string[] {
    const without = all.map((weightsOf, i) =>
      i === row ? weightsOf.map((one, j) => (j === place ? 0 : one)) : weightsOf,
    );
    const other = assign(without);
    const instead = itemAt(other.partner, row);
    if (instead < 0 || placeIn(looked, instead) === placeIn(looked, place)) return [];
    if (total - other.total >= AS_GOOD * Math.max(1, itemAt(itemAt(all, row), place))) return [];
    const at = placeIn(looked, instead);
    return [shownName(looked.source.header[at] ?? '', at)];
  }
}

/** A column's name as people are told it. */
export function shownName(name: string, place: number): string {
  return name.trim() === '' ? `column ${place + 1}, which has no name` : name.trim();
}

/** The unit that the name says, or that sizes in inches have, where it is not ours. */
function unitOf(looked: LookedAt, column: string, place: number): string | null {
  const units = unitsOf(column);
  if (units.length === 0) return null;
  const profile = itemAt(looked.profiles, place);
  if (column === 'size' && profile.sizes < 0.9 && profile.inches >= 0.9 && profile.most <= 24) return 'inch';
  const at = placeIn(looked, place);
  const said = unitIn(looked.source.header[at] ?? '') ?? unitNamed(looked.source.units?.[at] ?? '');
  if (said === null || !units.includes(said) || said === units[0]) return null;
  return column === 'size' && profile.sizes >= 0.9 ? null : said;
}
