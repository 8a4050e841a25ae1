/** Columns of recurrence.csv: one row a line, with how often it leaks and whether that is unlike the others. */
import type { LineLeaks, Ranged } from '../group/recurrence/types.js';
import { type Columns, rounded } from './csvCells.js';

export const recurrenceColumns = (trendLabel: string): Columns<LineLeaks> => [
  ['line', (row) => row.line],
  ['positions', (row) => row.positions],
  ['position_years', (row) => rounded(row.years)],
  ['watched_from', (row) => row.curve?.from ?? null],
  ['watched_until', (row) => row.curve?.until ?? null],
  ['leaks', (row) => row.leaks],
  ['expected_without_reason', (row) => rounded(row.withoutReason)],
  ['leaks_per_position_and_year', (row) => rounded(row.perYear?.estimate ?? null)],
  ['leaks_per_position_and_year_low', (row) => rounded(row.perYear?.low ?? null)],
  ['leaks_per_position_and_year_high', (row) => rounded(row.perYear?.high ?? null)],
  ['mean_leaks_so_far', (row) => lastOf(row, 'mean')],
  ['mean_leaks_so_far_low', (row) => lastOf(row, 'low')],
  ['mean_leaks_so_far_high', (row) => lastOf(row, 'high')],
  ['differs', (row) => row.differs],
  ['expected_like_others', (row) => rounded(row.expected)],
  ...ranged('times_as_often', (row) => row.times),
  ...ranged('difference_per_position_and_year', (row) => row.difference),
  ['chance', (row) => rounded(row.p)],
  ['chance_with_all_lines', (row) => rounded(row.adjusted)],
  ['leaks_come', (row) => row.trend?.direction ?? null],
  ['laplace_p', (row) => rounded(row.trend?.laplace ?? null)],
  ['chi_square_p', (row) => rounded(row.trend?.chiSquare ?? null)],
  ['laplace_and_chi_square', (row) => (row.trend === null ? null : trendLabel)],
  ['finding', (row) => row.text],
  ['what_to_do', (row) => row.todo],
];

function ranged(name: string, value: (row: LineLeaks) => Ranged | null): Columns<LineLeaks> {
  return [
    [name, (row) => rounded(value(row)?.estimate ?? null)],
    [`${name}_low`, (row) => rounded(value(row)?.low ?? null)],
    [`${name}_high`, (row) => rounded(value(row)?.high ?? null)],
  ];
}

/** The curve at its end; 0 before a first leak. */
function lastOf({ curve }: LineLeaks, column: 'mean' | 'low' | 'high'): number | null {
  if (curve === null) return null;
  const values = curve[column];
  if (values.length === 0) return column === 'mean' ? 0 : null;
  return rounded(values[values.length - 1] ?? null);
}
