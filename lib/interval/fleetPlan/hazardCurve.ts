/** Chance of still being in place as a smooth curve through a few exact points. */
import { floatAt } from '../../numeric/columns.js';
import { DAYS_PER_YEAR } from '../../numeric/day.js';
import type { FleetDiaphragm } from './types.js';

/** Days at which the exact chance is asked: close at first, where faulty fittings leak; further ones by months. */
const YOUNG = [0, 1, 2, 4, 7, 11, 16, 23, 31, 42, 56, 75, 100, 130];
const YOUNG_STEP = 45;
const STANDING = [
  0, 3, 10, 30, 60, 100, 150, 220, 300, 400, 520, 650, 800, 980, 1200, 1450, 1750, 2150, 2650,
];
const STANDING_STEP = 700;
/** Below this chance nothing is asked any more; the curve goes on at its last slope. */
const GONE = 1e-12;

/** Cumulative hazard over days, leaks and openings together. */
export interface HazardCurve {
  days: Float64Array;
  hazard: Float64Array;
  slope: Float64Array;
}

/** Curve of one fitted new, up to some days. */
export function freshCurve(diaphragm: FleetDiaphragm, untilDays: number): HazardCurve {
  const days = [...YOUNG];
  while ((days[days.length - 1] as number) < untilDays) {
    days.push((days[days.length - 1] as number) + YOUNG_STEP);
  }
  return curveThrough(days, (x) => diaphragm.holds(0, x), diaphragm.openingsPerYear ?? 0);
}

/** Curve from today of one whose age is known, or known by chances. */
export function standingCurve(
  diaphragm: FleetDiaphragm,
  ages: readonly { age: number; chance: number }[],
  untilDays: number,
): HazardCurve {
  const days = [...STANDING];
  while ((days[days.length - 1] as number) < untilDays) {
    days.push((days[days.length - 1] as number) + STANDING_STEP);
  }
  const total = ages.reduce((sum, { chance }) => sum + chance, 0);
  const holds = (x: number): number =>
    x === 0 ? 1 : ages.reduce((sum, { age, chance }) => sum + chance * diaphragm.holds(age, x), 0) / total;
  return curveThrough(days, holds, diaphragm.openingsPerYear ?? 0);
}

/** Chance of being in place after some days. */
export function chanceAfter(curve: HazardCurve, days: number): number {
  return Math.exp(-hazardAt(curve, days));
}

/** Cumulative hazard by a cubic between neighbouring points; a straight line after the last. */
export function hazardAt({ days, hazard, slope }: HazardCurve, x: number): number {
  const last = days.length - 1;
  if (x >= floatAt(days, last))
    return floatAt(hazard, last) + floatAt(slope, last) * (x - floatAt(days, last));
  if (x <= 0) return 0;
  let [low, high] = [0, last];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (floatAt(days, middle) <= x) low = middle;
    else high = middle;
  }
  const width = floatAt(days, high) - floatAt(days, low);
  const t = (x - floatAt(days, low)) / width;
  const [h0, h1] = [floatAt(hazard, low), floatAt(hazard, high)];
  const [m0, m1] = [floatAt(slope, low) * width, floatAt(slope, high) * width];
  const s = 1 - t;
  return h0 * (1 + 2 * t) * s * s + m0 * t * s * s + h1 * t * t * (3 - 2 * t) - m1 * t * t * s;
}

function curveThrough(asked: readonly number[], holds: (x: number) => number, perYear: number): HazardCurve {
  const days: number[] = [];
  const hazard: number[] = [];
  let before = 0;
  for (const x of asked) {
    const chance = holds(x);
    if (!(chance > GONE) && days.length > 1) break;
    // A chance cannot rise again, nor be above 1 by rounding.
    before = Math.max(before, -Math.log(Math.min(1, Math.max(chance, GONE))));
    days.push(x);
    hazard.push(before + (perYear / DAYS_PER_YEAR) * x);
  }
  return monotone(Float64Array.from(days), Float64Array.from(hazard));
}

/** Slopes that keep the curve rising: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300, from memory. */
function monotone(days: Float64Array, hazard: Float64Array): HazardCurve {
  const count = days.length;
  const slope = new Float64Array(count);
  const rise = (i: number): number =>
    (floatAt(hazard, i + 1) - floatAt(hazard, i)) / (floatAt(days, i + 1) - floatAt(days, i));
  for (let i = 1; i < count - 1; i++) {
    const [left, right] = [rise(i - 1), rise(i)];
    if (left <= 0 || right <= 0) continue;
    const [a, b] = [floatAt(days, i) - floatAt(days, i - 1), floatAt(days, i + 1) - floatAt(days, i)];
    slope[i] = (3 * (a + b)) / ((2 * b + a) / left + (b + 2 * a) / right);
  }
  if (count > 1) {
    slope[0] = rise(0);
    slope[count - 1] = rise(count - 2);
  }
  return { days, hazard, slope };
}
