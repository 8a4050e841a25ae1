/** Identical lives of a large sample counted by day: where ages are whole or half days, a table of days stands in for any search. */
import { floatAt } from '../numeric/columns.js';
import { ownClusters } from './sample.js';
import type { LifeSample } from './sampleTypes.js';

/** Half days up to ninety years. */
const HALF_DAYS = 65_536;

/**
 * The distinct rows in ascending order; null where ages are not whole or half days, intervals not a day wide, lives watched from later
 * on, ended for unknown causes, or counted in broken numbers.
 */
export function countDays(sample: LifeSample): LifeSample | null {
  const { lower, upper, entry, count, otherHazard } = sample;
  if (otherHazard !== undefined) return null;
  // Three places per age, in the order of their upper ends: failed then, failed within the day, still sound.
  const lives = new Float64Array(3 * HALF_DAYS);
  for (let i = 0; i < lower.length; i++) {
    const age = floatAt(lower, i);
    const end = floatAt(upper, i);
    const place = 2 * age;
    const c = floatAt(count, i);
    if (!(place < HALF_DAYS) || Math.floor(place) !== place) return null;
    if (floatAt(entry, i) !== 0 || Math.floor(c) !== c) return null;
    const kind = end === Infinity ? 2 : end === age ? 0 : 1;
    if (kind === 1 && end !== age + 1) return null;
    lives[3 * place + kind] = floatAt(lives, 3 * place + kind) + c;
  }
  return rowsOf(lives);
}

function rowsOf(lives: Float64Array): LifeSample {
  const rows = lives.reduce((total, count) => total + (count > 0 ? 1 : 0), 0);
  const [lower, upper, count] = [new Float64Array(rows), new Float64Array(rows), new Float64Array(rows)];
  let row = 0;
  for (let place = 0; place < lives.length; place++) {
    if (floatAt(lives, place) === 0) continue;
    const [age, kind] = [Math.floor(place / 3) / 2, place % 3];
    lower[row] = age;
    upper[row] = kind === 2 ? Infinity : age + kind;
    count[row++] = floatAt(lives, place);
  }
  return {
    lower,
    upper,
    entry: new Float64Array(rows),
    count,
    cluster: ownClusters(rows),
    otherHazard: undefined,
  };
}
