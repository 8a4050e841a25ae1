/** Every column is read as the kind that its unit in the guide says. */
import { describe, expect, it } from 'vitest';
import { COLUMN_GUIDE } from '../../../lib/fleet/columnGuide.js';
import { type ColumnKind, columnKind } from '../../../lib/fleet/written/columnKinds.js';

const KINDS: Readonly<Record<string, ColumnKind>> = {
  date: 'date',
  dates: 'periods',
  text: 'words',
  word: 'words',
  month: 'words',
};
/** Prices by amount, a small language of its own. */
const OWN_READER = ['price_breaks'];

describe('kinds of columns', () => {
  it.each(Object.entries(COLUMN_GUIDE))('of %s go by their units', (_, { columns }) => {
    for (const [column, { unit }] of Object.entries(columns)) {
      const kind = OWN_READER.includes(column) ? 'words' : (KINDS[unit] ?? 'number');
      expect([column, columnKind(column)]).toEqual([column, kind]);
    }
  });
});
