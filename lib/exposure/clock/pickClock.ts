/** The best of several clocks by AIC in days, and which others speak against it. */
import { itemAt } from '../../numeric/columns.js';

/** Less than this between two AIC does not tell them apart (METHODS 3.2). */
export const LEAST_LEAD = 2;

export interface Scored {
  parts: readonly string[];
  /** Infinity where it cannot be fitted. */
  aic: number;
}

/**
 * Lowest AIC; a combination must be better than each of its parts by 2, else the part takes its place: a combination holds its
 * parts, so it is never more than 2 behind, whatever wears diaphragms. Precondition: one of them can be fitted.
 */
export function pickClock(scored: readonly Scored[]): number {
  let best = 0;
  scored.forEach(({ aic }, k) => {
    if (aic < itemAt(scored, best).aic) best = k;
  });
  const parts = scored
    .map((_, k) => k)
    .filter((k) => isPartOf(itemAt(scored, k), itemAt(scored, best)))
    .filter((k) => itemAt(scored, k).aic < itemAt(scored, best).aic + LEAST_LEAD)
    .sort((a, b) => itemAt(scored, a).aic - itemAt(scored, b).aic);
  return parts[0] ?? best;
}

/** The best clock that does not hold the chosen one as a part, or null. */
export function rivalOf(scored: readonly Scored[], best: number): number | null {
  let rival: number | null = null;
  scored.forEach((one, k) => {
    if (k === best || one.aic === Infinity || isPartOf(itemAt(scored, best), one)) return;
    if (rival === null || one.aic < itemAt(scored, rival).aic) rival = k;
  });
  return rival;
}

/** Whether a clock is a part of another. */
export function isPartOf(one: Pick<Scored, 'parts'>, other: Pick<Scored, 'parts'>): boolean {
  return one.parts.length < other.parts.length && one.parts.every((part) => other.parts.includes(part));
}
