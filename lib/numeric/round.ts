/** Rounding of results for reading and for files. */

/** x with the given number of significant digits; not-finite numbers come back as they are. */
export function significant(x: number, digits: number): number {
  return Number.isFinite(x) ? Number(x.toPrecision(digits)) : x;
}
