/** One step of slice sampling along a line (Neal 2003, shrinkage with an interval of fixed width, from memory). */

const MOST_SHRINKS = 60;

/** Outcome of a step, kept between steps so that a long chain allocates nothing. */
export interface SliceState {
  value: number;
  /** Log-density at `value`. */
  logDensity: number;
}

/**
 * Moves `state` along a line. `width` is the width of the first interval, laid at random round the present value: any
 * positive width leaves the target as it is, one of about three times the slice costs least. Returns how often the
 * interval had to be shrunk.
 */
export function sliceStep(
  state: SliceState,
  logDensity: (value: number) => number,
  width: number,
  uniform: () => number,
): number {
  const level = state.logDensity + Math.log(uniform());
  let low = state.value - width * uniform();
  let high = low + width;
  for (let shrink = 0; shrink < MOST_SHRINKS; shrink++) {
    const value = low + (high - low) * uniform();
    const density = logDensity(value);
    if (density > level) {
      state.value = value;
      state.logDensity = density;
      return shrink;
    }
    if (value < state.value) low = value;
    else high = value;
  }
  return MOST_SHRINKS;
}
