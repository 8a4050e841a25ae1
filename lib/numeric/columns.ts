/** Reading typed columns under strict index checks: the caller promises that the index is inside. */

/** Element i of a column; i must be inside. */
export function at(column: ArrayLike<number>, i: number): number {
  return column[i] as number;
}

/**
 * Element i of a column of floating-point numbers; i must be inside. For the innermost loops: an engine that has seen
 * `at` read many kinds of columns no longer compiles it to a plain load, and this one is only ever given one kind.
 */
export function floatAt(column: Float64Array, i: number): number {
  return column[i] as number;
}

/** Element i of a column of whole numbers; as `floatAt`, for the innermost loops. */
export function wholeAt(column: Int32Array, i: number): number {
  return column[i] as number;
}

/** Element i of a list; i must be inside. */
export function itemAt<T>(list: readonly T[], i: number): T {
  return list[i] as T;
}

/** Sum of a column. */
export function sum(column: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < column.length; i++) total += at(column, i);
  return total;
}

/** A column of a value for each element of a list: as Float64Array.from, which goes the long way over any iterable. */
export function columnOf<T>(list: ArrayLike<T>, value: (element: T, i: number) => number): Float64Array {
  const column = new Float64Array(list.length);
  for (let i = 0; i < column.length; i++) column[i] = value(list[i] as T, i);
  return column;
}

/** Element i of a column of small whole numbers; as `floatAt`, for the innermost loops. */
export function byteAt(column: Uint8Array, i: number): number {
  return column[i] as number;
}
