/** Where the pieces of a kit come from. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kitPieces } from '../../lib/stock/follow.js';
import type { Pieces, Source } from '../../lib/stock/shelf.js';

const need = (quantity: number, moment = 10, fitted = 10) => ({ name: 'kit', moment, fitted, quantity });
const shelf = (...rows: [quantity: number, useBy: number, source: Source, lot?: string][]): Pieces[] =>
  rows.map(([quantity, useBy, source, lot]) => ({
    quantity,
    useBy,
    source,
    ...(lot === undefined ? {} : { lot }),
  }));
const taken = (kit: ReturnType<typeof need>, pieces: Pieces[]): string[] =>
  kitPieces(kit, pieces).map(({ quantity, lot, source }) => `${quantity} ${lot ?? source}`);

describe('the pieces of a kit', () => {
  it('come first expired first out, in whole pieces', () => {
    const pieces = shelf([11.69, 40, 'shelf', 'A'], [40, 900, 'shelf', 'B']);
    expect(taken(need(20), pieces)).toEqual(['12 A', '8 B']);
    expect(taken(need(12), pieces)).toEqual(['12 A']);
  });
  it('leave out what is past use-by on the day they are fitted', () => {
    const pieces = shelf([12, 13, 'shelf', 'A'], [40, 900, 'shelf', 'B']);
    expect(taken(need(20, 10, 14), pieces)).toEqual(['20 B']);
    expect(taken(need(20, 10, 13), pieces)).toEqual(['12 A', '8 B']);
  });
  it('never count on a part of a piece: 37.6 on the shelf are 37, the rest is hurried', () => {
    const pieces = shelf([37.62, 600, 'shelf', 'A'], [10, 1100, 'planned']);
    expect(taken(need(44), pieces)).toEqual(['37 A', '7 planned']);
    expect(taken(need(60), pieces)).toEqual(['37 A', '10 planned']);
    expect(taken(need(3), shelf([0.6, 600, 'shelf', 'A']))).toEqual([]);
  });
  it('are at most what the kit lays out and what each source holds, none of them skipped for a later one', () => {
    const source = fc.constantFrom<Source>('shelf', 'on order', 'late', 'planned');
    const piece = fc.record({
      quantity: fc.double({ min: 0.01, max: 30, noNaN: true }),
      useBy: fc.integer({ min: 0, max: 60 }),
      source,
    });
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), fc.integer({ min: 1, max: 60 }), (pieces, quantity) => {
        const sorted = [...pieces].sort((a, b) => a.useBy - b.useBy);
        const found = kitPieces(need(quantity), sorted);
        const sum = (list: readonly Pieces[]): number => list.reduce((all, each) => all + each.quantity, 0);
        expect(sum(found)).toBeLessThanOrEqual(quantity);
        for (const kind of ['shelf', 'on order', 'late', 'planned'] as const) {
          const there = sum(sorted.filter(({ source: of, useBy }) => of === kind && useBy >= 10));
          const given = sum(found.filter(({ source: of }) => of === kind));
          // Parts of pieces may come together in one of the sources.
          expect(given).toBeLessThan(there + 4);
        }
        for (const each of found)
          expect(Number.isInteger(each.quantity) && each.quantity > 0 && each.useBy >= 10).toBe(true);
        expect(found.map(({ useBy }) => useBy)).toEqual(
          found.map(({ useBy }) => useBy).sort((a, b) => a - b),
        );
        // Whole pieces in all, but where each source holds less than half a piece.
        const all = sum(sorted.filter(({ useBy }) => useBy >= 10));
        const whole = Math.min(quantity, Math.floor(all + 0.05));
        expect(sum(found)).toBeLessThanOrEqual(whole);
        if (found.length > 0) expect(sum(found)).toBe(whole);
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});
