/** When a shape cannot be had from the data alone. */
import { floatAt } from '../../numeric/columns.js';
import type { LifeSample } from '../sampleTypes.js';

/**
 * Why no finite shape fits best, in words, or null where one may exist. Without failures the likelihood tells nothing
 * about shape. And where one age lies in every failure's interval and no life is known to have got older, a law with all
 * its mass at that age is always best: the likelihood rises without limit as the shape grows. This covers all failures at
 * one age, and a sole failure at the largest age.
 */
export function whyShapeNotEstimable(sample: LifeSample): string | null {
  let failures = 0;
  // Where the latest failure may begin or a life is known to have got to, and where the first failure must have been.
  let oldest = 0;
  let earliest = Infinity;
  const { lower, upper, entry, count } = sample;
  for (let i = 0; i < lower.length; i++) {
    const lives = floatAt(count, i);
    if (lives === 0) continue;
    const start = floatAt(lower, i);
    if (start > oldest) oldest = start;
    if (floatAt(upper, i) !== Infinity) {
      failures += lives;
      if (floatAt(entry, i) > oldest) oldest = floatAt(entry, i);
      if (floatAt(upper, i) < earliest) earliest = floatAt(upper, i);
    }
    if (oldest > earliest) return null;
  }
  if (failures === 0) return 'there are no failures';
  const tail = 'the likelihood rises without limit as the shape grows';
  if (failures === 1) return `the sole failure is at the largest age, so ${tail}`;
  return `all failures are at one age and no life got older, so ${tail}`;
}
