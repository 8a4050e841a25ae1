/** Columns of stand-outs.csv: one row for each position, lot, fitter and week that stands out. */
import type { StandOutRow } from '../yearly/standOuts/types.js';

type Column = readonly [header: string, value: (row: StandOutRow) => string | number | null];

export const standOutColumns = (currency: string): readonly Column[] => [
  ['kind', (row) => row.kind],
  ['name', (row) => row.name],
  ['lines', (row) => row.lines.join(' | ')],
  ['groups', (row) => row.groups.join(' | ')],
  ['diaphragms', (row) => row.lives],
  ['tested', (row) => row.tested],
  ['leaks', (row) => row.leaks],
  ['expected', (row) => digits(row.expected)],
  ['times_as_often', (row) => digits(row.ratio.estimate)],
  ['times_low', (row) => digits(row.ratio.low)],
  ['times_high', (row) => digits(row.ratio.high)],
  ['chance', (row) => digits(row.p)],
  ['chance_with_all_tested', (row) => digits(row.adjusted)],
  ['too_many', (row) => row.excess],
  ['early_leaks', (row) => row.early.leaks],
  ['early_expected', (row) => digits(row.early.expected)],
  ['later_leaks', (row) => row.later.leaks],
  ['later_expected', (row) => digits(row.later.expected)],
  ['cannot_be_told_from', (row) => row.sameAs.map(({ kind, name }) => `${kind} ${name}`).join(' | ')],
  ['saves_leaks_in_a_year', (row) => digits(row.saves.leaks.mean)],
  ['saves_in_a_year', (row) => digits(row.saves.money.mean)],
  ['saves_low', (row) => digits(row.saves.money.low)],
  ['saves_high', (row) => digits(row.saves.money.high)],
  ['currency', () => currency],
  ['still_fitted', (row) => row.recall?.fitted.length ?? null],
  ['still_fitted_at', (row) => row.recall?.fitted.map(({ position }) => position).join(' | ') ?? null],
  ['on_shelf', (row) => row.recall?.onShelf ?? null],
  ['finding', (row) => row.text],
  ['what_to_do', (row) => row.todo],
];

/** Six significant digits: more than any of these numbers is known to. */
function digits(value: number): number | null {
  return Number.isFinite(value) ? Number(value.toPrecision(6)) : null;
}
