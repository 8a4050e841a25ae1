/** Shares served by level and lot, against sums of probabilities by scipy (money.py). */
import { describe, expect, it } from 'vitest';
import { servedByLevel, shortByPosition } from '../../../lib/stock/money/shortByPosition.js';
import reference from './money.json' with { type: 'json' };

describe('share of leaks served at once', () => {
  it.each(reference.served)('perDay $perDay, lead $lead, review $review', (row) => {
    const { perDay, variancePerDay, rateSd } = row;
    const supply = { leadDays: row.lead, leadSdDays: row.leadSd, reviewDays: row.review };
    const served = servedByLevel(shortByPosition({ perDay, variancePerDay, rateSd }, supply));
    for (const [level, lot, share] of row.rows as [number, number, number][]) {
      // Differences of back orders, up to a thousand times what is short in a review: 1e-13 relative becomes 1e-10.
      expect(Math.abs(served(level, lot) - share)).toBeLessThan(1e-10);
    }
  });
});
