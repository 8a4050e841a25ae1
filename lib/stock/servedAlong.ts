/** Share of leaks and openings that find a piece, along the stock of today and a list of orders (METHODS 5.5). */
import type { ItemNeed } from './itemNeed.js';
import type { Cover } from './netting.js';

/**
 * At each moment a piece asked for finds none where at least as many were asked for, since the last review whose order
 * could have come, as were usable for them; mean over the moments, weighted by expected demand. 1 where nothing is asked.
 */
export function servedAlong(cover: readonly Cover[], need: ItemNeed, leadSdDays: number): number {
  let asked = 0;
  let missed = 0;
  for (const { from, at, span, usable } of cover) {
    const mean = need.randomMean(at - span / 2, at + span / 2);
    if (mean <= 0) continue;
    asked += mean;
    missed += mean * need.randomAtLeast(usable, from, at, leadSdDays);
  }
  return asked > 0 ? 1 - missed / asked : 1;
}
