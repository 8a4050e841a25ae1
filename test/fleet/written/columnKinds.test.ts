/** What cells of a column are read as follows from its unit in the guide. */
import { describe, expect, it } from 'vitest';
import { columnKind } from '../../../lib/fleet/written/columnKinds.js';

describe('kinds of columns', () => {
  it.each([
    ['fitted', 'date'],
    ['received', 'date'],
    ['idle', 'periods'],
    ['size', 'number'],
    ['on_hand', 'number'],
    ['steam_cycles_per_week', 'number'],
    ['most_lines', 'number'],
    ['position', 'words'],
    ['lot', 'words'],
    ['item', 'words'],
    ['reason', 'words'],
    ['month', 'words'],
    ['price_breaks', 'words'],
    ['a column of the plant', 'words'],
    ['__proto__', 'words'],
  ])('%s holds %s', (column, kind) => expect(columnKind(column)).toBe(kind));
});
