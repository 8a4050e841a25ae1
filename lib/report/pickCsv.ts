/** pick-lists.csv: a row per position and shutdown, with room for who fitted it and when. */
import { shortReason } from '../interval/shutdownReason.js';
import type { Columns } from './csvCells.js';
import type { PickList, PickRow } from './pickLists.js';

/** A row with the shutdown it belongs to. */
interface PickLine extends PickRow {
  shutdown: string;
  start: string;
  substitute: string | null;
}

const FROM = { shelf: 'shelf', 'on order': 'on order', late: 'overdue order', planned: 'to order' } as const;

/** The rows of all lists, those of one part with the approved substitute of it where it is short. */
export function pickLines(lists: readonly PickList[]): PickLine[] {
  return lists.flatMap(({ load: { shutdown, start }, rows, items }) => {
    const substitutes = new Map(items.map(({ item, substitute }) => [item, substitute?.item ?? null]));
    return rows.map(
      (row): PickLine => ({
        ...row,
        shutdown,
        start,
        substitute: isOnShelf(row) ? null : (substitutes.get(row.task.item ?? '') ?? null),
      }),
    );
  });
}

function isOnShelf({ source }: PickRow): boolean {
  return source !== null && source !== 'short' && source.from === 'shelf';
}

/** 'shelf', 'on order', 'overdue order', 'to order', 'short', or empty where nothing is known. */
function fromWord({ source }: PickRow): string | null {
  return source === null || source === 'short' ? source : FROM[source.from];
}

export const PICKS: Columns<PickLine> = [
  ['shutdown', (row) => row.shutdown],
  ['start', (row) => row.start],
  ['line', ({ task }) => task.line],
  ['location', ({ task }) => task.location],
  ['position', ({ task }) => task.position],
  ['criticality', ({ task }) => task.criticality],
  ['item', ({ task }) => task.item],
  ['material', ({ task }) => task.material],
  ['size', ({ task }) => task.size],
  ['take_from', fromWord],
  ['lot', ({ source }) => (source === null || source === 'short' ? null : source.lot)],
  ['use_by', ({ source }) => (source === null || source === 'short' ? null : source.useBy)],
  ['approved_substitute', (row) => row.substitute],
  ['because', ({ task }) => shortReason(task.because)],
  ['done', () => null],
  ['fitted_by', () => null],
  ['fitted_on', () => null],
];
