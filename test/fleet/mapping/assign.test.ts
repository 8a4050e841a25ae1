/** The assignment against trying everything. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assign } from '../../../lib/fleet/mapping/assign.js';

/** The largest sum, by trying every choice. */
function bestByTrying(weights: readonly number[][], row = 0, taken: ReadonlySet<number> = new Set()): number {
  if (row === weights.length) return 0;
  let best = bestByTrying(weights, row + 1, taken);
  (weights[row] ?? []).forEach((weight, column) => {
    if (weight > 0 && !taken.has(column))
      best = Math.max(best, weight + bestByTrying(weights, row + 1, new Set([...taken, column])));
  });
  return best;
}

const table = fc
  .tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 0, max: 5 }))
  .chain(([rows, columns]) =>
    fc.array(
      fc.array(fc.oneof(fc.constant(0), fc.constant(0.5), fc.double({ min: -0.5, max: 1, noNaN: true })), {
        minLength: columns,
        maxLength: columns,
      }),
      { minLength: rows, maxLength: rows },
    ),
  );

describe('the assignment', () => {
  it('has the largest sum there is, each partner once, and no pair without weight', () => {
    fc.assert(
      fc.property(table, (weights) => {
        const { partner, total } = assign(weights);
        const paired = partner.filter((column) => column >= 0);
        expect(new Set(paired).size).toBe(paired.length);
        const sum = partner.reduce(
          (all, column, row) => all + (column < 0 ? 0 : (weights[row]?.[column] ?? 0)),
          0,
        );
        expect(total).toBeCloseTo(sum, 9);
        expect(total).toBeCloseTo(bestByTrying(weights), 9);
        partner.forEach((column, row) => {
          if (column >= 0) expect(weights[row]?.[column]).toBeGreaterThan(0);
        });
      }),
      { numRuns: 400 },
    );
  });

  it('of nothing is nothing', () => {
    expect(assign([])).toEqual({ partner: [], total: 0 });
    expect(assign([[], []])).toEqual({ partner: [-1, -1], total: 0 });
  });

  it('prefers two good pairs to the best single one, worked by hand', () => {
    expect(
      assign([
        [0.9, 0.8],
        [0.7, 0.1],
      ]),
    ).toEqual({ partner: [1, 0], total: 1.5 });
  });
});
