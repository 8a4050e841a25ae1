/** Places in a list in ascending order, found by halving. */
import { at } from './columns.js';

/** How many values are below one: the index of the first at or above it. */
export function countBelow(sorted: ArrayLike<number>, value: number): number {
  return firstWhere(sorted, (each) => each >= value);
}

/** How many values are at or below one: the index of the first above it. */
export function countUpTo(sorted: ArrayLike<number>, value: number): number {
  return firstWhere(sorted, (each) => each > value);
}

function firstWhere(sorted: ArrayLike<number>, isPast: (value: number) => boolean): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isPast(at(sorted, middle))) high = middle;
    else low = middle + 1;
  }
  return low;
}
