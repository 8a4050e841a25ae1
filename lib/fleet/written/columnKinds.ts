/** Which columns hold dates and which numbers, by the units of the guide; all others are words and stay as they are written. */
import { COLUMN_GUIDE } from '../columnGuide.js';

/** `periods`: start..end, several separated by a vertical bar. */
export type ColumnKind = 'date' | 'number' | 'periods' | 'words';

const KINDS: Readonly<Record<string, ColumnKind>> = {
  date: 'date',
  dates: 'periods',
  text: 'words',
  word: 'words',
  month: 'words',
};
/** Prices by amount are a small language of their own, with a reader of their own. */
const WORDS_ALL_THE_SAME = ['price_breaks'];

const kinds = new Map(
  Object.values(COLUMN_GUIDE).flatMap(({ columns }) =>
    Object.entries(columns).map(([column, { unit }]) => [column, KINDS[unit] ?? 'number'] as const),
  ),
);

export function columnKind(column: string): ColumnKind {
  return WORDS_ALL_THE_SAME.includes(column) ? 'words' : (kinds.get(column) ?? 'words');
}
