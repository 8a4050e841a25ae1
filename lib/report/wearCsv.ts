/** Columns of wear.csv: one row a group, with its clock, the interval on it and how sure. */
import type { WearGroup } from '../interval/wear/types.js';
import { type Columns, rounded } from './csvCells.js';

export const WEAR: Columns<WearGroup> = [
  ['group', (row) => row.group],
  ['compared_on', (row) => row.comparedOn],
  ['lives', (row) => row.lives],
  ['leaks', (row) => row.leaks],
  ['verdict', (row) => row.verdict],
  ['clock', (row) => row.clock],
  ['best', (row) => row.best],
  ['next_best', (row) => row.rival],
  ['lead_aic', (row) => rounded(row.lead)],
  ['resampled_agree', (row) => rounded(row.agreement)],
  ['days_behind_aic', (row) => behind(row, 'days')],
  ['steam_cycles_behind_aic', (row) => behind(row, 'steam cycles')],
  ['hot_cleans_behind_aic', (row) => behind(row, 'hot cleans')],
  ['strokes_behind_aic', (row) => behind(row, 'strokes')],
  ['shape', (row) => rounded(row.law?.shape.estimate ?? null)],
  ['half_leaked_by', (row) => rounded(row.law?.half.estimate ?? null)],
  ['half_low', (row) => rounded(row.law?.half.low ?? null)],
  ['half_high', (row) => rounded(row.law?.half.high ?? null)],
  ['interval_on_clock', (row) => rounded(row.interval?.count ?? null)],
  ['within_2_percent_from', (row) => rounded(row.interval?.within2percent?.[0] ?? null)],
  ['within_2_percent_to', (row) => rounded(row.interval?.within2percent?.[1] ?? null)],
  ['days_middle', (row) => rounded(row.interval?.days.median ?? null)],
  ['days_hardest_used_tenth', (row) => rounded(row.interval?.days.low ?? null)],
  ['days_least_used_tenth', (row) => rounded(row.interval?.days.high ?? null)],
  ['finding', (row) => [row.text, row.interval?.text ?? ''].join(' ').trim()],
  ['what_to_do', (row) => row.todo],
];

/** Of a plant that tells temperatures. */
export const HEATED_WEAR: Columns<WearGroup> = WEAR.flatMap((column) =>
  column[0] === 'strokes_behind_aic'
    ? [column, ['equivalent_hours_behind_aic', (row) => behind(row, 'equivalent hours')] as const]
    : [column],
);

function behind({ clocks }: WearGroup, name: string): number | null {
  return rounded(clocks.find(({ clock }) => clock === name)?.behind ?? null);
}
