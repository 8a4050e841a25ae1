/** What an order is for: the needs without which it would be smaller. */
import type { PlannedPieces } from './course.js';

export interface Purpose {
  /** Kits without which less would be missing. */
  kits: PlannedPieces[];
  /** True where leaks and openings alone would lack something. */
  random: boolean;
}

const LEAST = 1e-9;

/**
 * `needWithout` gives what is missing if some kits fall away. Where kits lack something only together, all of them count.
 */
export function purposeOf(
  need: number,
  kits: readonly PlannedPieces[],
  needWithout: (dropped: readonly PlannedPieces[]) => number,
): Purpose {
  if (kits.length === 0) return { kits: [], random: true };
  const alone = needWithout(kits);
  if (alone >= need - LEAST) return { kits: [], random: true };
  const each = kits.filter((kit) => needWithout([kit]) < need - LEAST);
  return { kits: each.length > 0 ? each : [...kits], random: alone > LEAST };
}
