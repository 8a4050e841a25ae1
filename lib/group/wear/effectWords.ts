/** A ratio of lives in words. */
import type { Bounds } from '../../life/sampleTypes.js';
import { amount, fixed, listed } from '../../numeric/words.js';

/** "twice the steam cycles: 0.62 times the life (0.50 to 0.77)". */
export function effectText(
  compared: string,
  { estimate, low, high }: Bounds,
  alongWith: readonly string[],
): string {
  const along =
    alongWith.length === 0 ? '' : `; ${listed(alongWith)} rise with them and cannot be told from them`;
  return `${compared}: ${ratioText(estimate)} times the life (${ratioText(low)} to ${ratioText(high)})${along}`;
}

/** Two digits behind the point below 10, so that 0.5 reads 0.50. */
export function ratioText(ratio: number): string {
  return ratio >= 0.095 && ratio < 10 ? fixed(ratio, 2) : amount(ratio, 2);
}
