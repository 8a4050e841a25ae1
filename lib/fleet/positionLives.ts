/** The lives of single positions through the calendar, one after another. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { type Fleet, REASONS } from './types.js';

/** How a life ended: 'other' is retired, taken out for condition, or not known. */
export type LifeEnd = 'leak' | 'scheduled' | 'opened' | 'other' | 'in place';

export interface PositionLives {
  position: string;
  line: string;
  /** In order of the day fitted. `until` of a diaphragm in place is the day of the data. */
  lives: { from: Day; until: Day; end: LifeEnd }[];
  /** Lives left out because the day they were fitted is not known. */
  undated: number;
}

/** Lives of these positions (indices into `Fleet.positions`), in the order given. Throws UsageError for an index that is none. */
export function positionLives(fleet: Fleet, positions: readonly number[]): PositionLives[] {
  const found = new Map<number, PositionLives>();
  for (const index of positions) {
    const position = fleet.positions[index];
    if (position === undefined) throw new UsageError('positionLives', 'there is no such position.', index);
    found.set(index, { position: position.position, line: position.line, lives: [], undated: 0 });
  }
  const { lives, site } = fleet;
  for (let i = 0; i < lives.length; i++) {
    const own = found.get(at(lives.position, i));
    if (own === undefined) continue;
    const [from, removed] = [floatAt(lives.fitted, i), floatAt(lives.removed, i)];
    if (Number.isNaN(from)) own.undated += 1;
    else if (Number.isNaN(removed)) own.lives.push({ from, until: site.dataUntil, end: 'in place' });
    else own.lives.push({ from, until: removed, end: endOf(REASONS[at(lives.reason, i)]) });
  }
  const rows = positions.map((index) => found.get(index) as PositionLives);
  for (const row of rows) row.lives.sort((a, b) => a.from - b.from);
  return rows;
}

function endOf(reason: (typeof REASONS)[number] | undefined): LifeEnd {
  if (reason === 'leak' || reason === 'failed_test') return 'leak';
  return reason === 'scheduled' || reason === 'opened' ? reason : 'other';
}
