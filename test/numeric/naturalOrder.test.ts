import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareText, naturalKey } from '../../lib/numeric/naturalOrder.js';

const sorted = (names: string[]): string[] =>
  [...names].sort((a, b) => compareText(naturalKey(a), naturalKey(b)));

describe('natural order', () => {
  it('takes whole numbers as numbers, and letters as they are', () => {
    expect(sorted(['V-10', 'V-2', 'A10', 'A9', 'V-002b', 'V-1'])).toEqual([
      'A9',
      'A10',
      'V-1',
      'V-2',
      'V-002b',
      'V-10',
    ]);
  });
  it('orders whole numbers of any length up to 16 digits as numbers', () => {
    const digits = fc.bigInt({ min: 0n, max: 10n ** 16n - 1n });
    fc.assert(
      fc.property(digits, digits, (a, b) => {
        const order = compareText(naturalKey(`L${a}x`), naturalKey(`L${b}x`));
        expect(order).toBe(a < b ? -1 : a > b ? 1 : 0);
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});
