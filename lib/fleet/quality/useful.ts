/** Which columns of a table matter for a plan, and how many of their cells are filled. */
import { at, floatAt } from '../../numeric/columns.js';
import type { CsvFile } from '../columnNames.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../types.js';

/** Cells of one column that say something, of those that could. */
export interface FilledCells {
  column: string;
  filled: number;
  of: number;
}

interface Useful {
  /** Besides the needed ones. `a|b` is either of two. */
  columns: readonly string[];
  /** Of the rows that are used. Columns whose empty cell has a meaning of its own are not counted. */
  cells(fleet: Fleet): FilledCells[];
}

/** What each file is worth having beyond its needed columns; our judgement of what intervals, stock and lists rest on. */
export const USEFUL: Record<CsvFile, Useful> = {
  'positions.csv': {
    columns: ['line', 'duty', 'criticality', 'accessories'],
    cells: ({ positions }) => [
      filledOf('line', positions, ({ line }) => line !== ''),
      filledOf('duty', positions, ({ duty }) => duty !== ''),
    ],
  },
  'lives.csv': {
    columns: ['fitted', 'removed', 'reason', 'finding', 'lot'],
    cells: (fleet) => [fittingDays(fleet), ...removalCells(fleet)],
  },
  // Days of fitting follow from the orders: the first life of a position has none, and that is no fault of the table.
  'work-orders.csv': { columns: ['material', 'reason', 'finding', 'lot'], cells: removalCells },
  'readings.csv': {
    columns: ['strokes|steam_cycles|hot_cleans'],
    cells: ({ readings }) => {
      const { strokes, steamCycles, hotCleans } = readings;
      const rows = Array.from({ length: readings.length }, (_, i) => i);
      const isRead = (i: number): boolean =>
        [strokes, steamCycles, hotCleans].some((counter) => !Number.isNaN(floatAt(counter, i)));
      return [filledOf('a counter', rows, isRead)];
    },
  },
  'items.csv': {
    columns: ['price', 'lead_time_days', 'on_hand'],
    cells: ({ items }) => [
      filledOf('price', items, ({ price }) => price !== null),
      filledOf('lead_time_days', items, ({ leadTimeDays }) => leadTimeDays !== null),
      filledOf('on_hand', items, ({ onHand, onHandKnown }) => onHand > 0 || onHandKnown !== false),
    ],
  },
  'orders.csv': {
    columns: ['placed', 'due'],
    cells: ({ orders }) => [filledOf('placed', orders, ({ placed }) => placed !== null)],
  },
  'lots.csv': {
    columns: ['cured|use_by'],
    cells: ({ lots }) => [
      filledOf('cured or use_by', lots, ({ cured, useBy }) => cured !== null || useBy !== null),
    ],
  },
  'monthly-use.csv': { columns: ['planned'], cells: () => [] },
  'shutdowns.csv': {
    columns: ['crew_hours|fitter_hours'],
    cells: ({ shutdowns }) => [
      filledOf(
        'crew_hours or fitter_hours',
        shutdowns,
        ({ crewHours, fitterHours }) => crewHours !== null || fitterHours !== null,
      ),
    ],
  },
};

function filledOf<Row>(column: string, rows: readonly Row[], isFilled: (row: Row) => boolean): FilledCells {
  return { column, filled: rows.filter(isFilled).length, of: rows.length };
}

/** Rows of Fleet.lives that stand in a file: not those that were built. */
function recordedLives({ lives }: Fleet): number[] {
  return Array.from({ length: lives.length }, (_, i) => i).filter((i) => at(lives.row, i) > 0);
}

function fittingDays(fleet: Fleet): FilledCells {
  const { fitted } = fleet.lives;
  return filledOf('fitted', recordedLives(fleet), (i) => !Number.isNaN(floatAt(fitted, i)));
}

/** Reason and finding of removals, and the lot of all. */
function removalCells(fleet: Fleet): FilledCells[] {
  const { removed, reason, finding, lot } = fleet.lives;
  const all = recordedLives(fleet);
  const removals = all.filter((i) => !Number.isNaN(floatAt(removed, i)));
  return [
    filledOf('reason', removals, (i) => REASONS[at(reason, i)] !== 'unknown'),
    filledOf('finding', removals, (i) => FINDINGS_AT_REMOVAL[at(finding, i)] !== 'unknown'),
    filledOf('lot', all, (i) => at(lot, i) >= 0),
  ];
}
