/**
 * The hazard of what ended lives, smoothed over age, without a law: for ends that come in spikes, such as scheduled ages. Each end adds
 * one over the lives at risk at its age (Nelson-Aalen; smoothed by a kernel: Ramlau-Hansen 1983, from memory). A kernel
 * reaches as far as a near neighbour of the same cause (sample-point bandwidth: Breiman, Meisel & Purcell 1977, from memory):
 * a spike of scheduled ages stays as narrow as it is, and does not swamp the leaks beside it. Ages are days, measured as
 * log(age + 10 days), mirrored at age 0.
 */
import { floatAt } from '../../numeric/columns.js';
import { countBelow } from '../../numeric/sorted.js';

/** A kernel reaches to this neighbour of the same cause: half the root of their number, within these limits. */
const NEIGHBOURS = [2, 10] as const;
/** Reach of a kernel in ages: days, at least; and e-folds where a cause has too few removals to tell. */
const LEAST_DAYS = 4;
const WIDE = 1;
export const AGE_OFFSET = 10;
const MIRROR = Math.log(AGE_OFFSET);

/** Ends of one cause, alike ages put together, in order of age. */
export interface Kernels {
  place: Float64Array;
  reach: Float64Array;
  /** Share of the lives at risk that ended there. */
  mass: Float64Array;
}

/** Where an age lies on the axis of the kernels. */
export function placeOf(age: number): number {
  return Math.log(Math.max(age, 0) + AGE_OFFSET);
}

/** Number of lives watched at an age and not ended before it. */
export function atRiskOf(entry: Float64Array, age: Float64Array): (days: number) => number {
  const entries = entry.slice().sort();
  const ends = age.slice().sort();
  return (days) => countBelow(entries, days) - countBelow(ends, days);
}

/** Kernels of the ends of one cause at `ages`. */
export function kernelsOf(ages: Float64Array, atRisk: (days: number) => number): Kernels {
  const sorted = ages.slice().sort();
  const places = sorted.map(placeOf);
  const place: number[] = [];
  const reach: number[] = [];
  const mass: number[] = [];
  for (let i = 0; i < sorted.length; ) {
    const days = floatAt(sorted, i);
    let next = i + 1;
    while (next < sorted.length && floatAt(sorted, next) === days) next++;
    place.push(floatAt(places, i));
    reach.push(Math.max(distanceOfNearest(places, i), LEAST_DAYS / (days + AGE_OFFSET)));
    mass.push((next - i) / Math.max(atRisk(days), next - i));
    i = next;
  }
  return {
    place: Float64Array.from(place),
    reach: Float64Array.from(reach),
    mass: Float64Array.from(mass),
  };
}

/** Distance of sorted place i to the neighbour that its kernel reaches; WIDE or the farthest of fewer. */
function distanceOfNearest(places: Float64Array, i: number): number {
  const here = floatAt(places, i);
  const last = places.length - 1;
  const wanted = Math.round(Math.sqrt(places.length) / 2);
  const neighbours = Math.min(Math.max(wanted, NEIGHBOURS[0]), NEIGHBOURS[1]);
  if (last < neighbours) return Math.max(here - floatAt(places, 0), floatAt(places, last) - here, WIDE);
  let [left, right, distance] = [i - 1, i + 1, 0];
  for (let taken = 0; taken < neighbours; taken++) {
    const toLeft = left >= 0 ? here - floatAt(places, left) : Infinity;
    const toRight = right <= last ? floatAt(places, right) - here : Infinity;
    distance = Math.min(toLeft, toRight);
    if (toLeft <= toRight) left--;
    else right++;
  }
  return distance;
}

/** Smoothed hazard at a place, per unit of place (Epanechnikov kernels, mirrored at age 0). */
export function hazardAt({ place, reach, mass }: Kernels, where: number): number {
  let sum = 0;
  for (let j = 0; j < place.length; j++) {
    const h = floatAt(reach, j);
    const direct = (where - floatAt(place, j)) / h;
    const mirrored = (where + floatAt(place, j) - 2 * MIRROR) / h;
    const weight = Math.max(0, 1 - direct * direct) + Math.max(0, 1 - mirrored * mirrored);
    if (weight > 0) sum += (0.75 * floatAt(mass, j) * weight) / h;
  }
  return sum;
}
