/** Ageing over one stretch in which the temperature is constant or goes along a straight line. */
import { at } from '../numeric/columns.js';
import { logFactor, ZERO_CELSIUS_KELVIN } from './arrhenius.js';

/** Nodes in (0, 1) and weights of the Gauss-Legendre rule of 8 points (Abramowitz & Stegun 1964 table 25.4). */
const HALF_NODES = [0.1834346424956498, 0.525532409916329, 0.7966664774136267, 0.9602898564975363];
const WEIGHTS = [0.362683783378362, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763];
/** Pieces are so short that the factor changes by at most e in each; the rule is then exact to the last digits. */
const LARGEST_LOG_STEP = 1;
const MOST_PIECES = 1000;
/** And so short that the kelvins change by at most a fifth of the coldest: a factor near 1 still bends with them. */
const LARGEST_KELVIN_RATIO = 0.2;
/** Where the factor changes by less than a twentieth and the kelvins by a fiftieth, three points are as exact. */
const SMALL_LOG_STEP = 0.05;
const SMALL_KELVIN_RATIO = 0.02;
const THREE_POINT_NODE = Math.sqrt(0.6);

/**
 * Mean factor over a stretch whose temperature goes in a straight line from one end to the other. Preconditions: both above absolute
 * zero, energy finite and not negative.
 */
export function meanFactor(
  startCelsius: number,
  endCelsius: number,
  referenceCelsius: number,
  kJPerMol: number,
): number {
  const of = (celsius: number): number => Math.exp(logFactor(celsius, referenceCelsius, kJPerMol));
  if (startCelsius === endCelsius || kJPerMol === 0) return of(startCelsius);
  // From the colder end to the hotter one: nearly all of the ageing is near the hotter, where pieces must be short.
  const [cold, hot] = startCelsius < endCelsius ? [startCelsius, endCelsius] : [endCelsius, startCelsius];
  const { logStep, kelvinRatio } = changeOf(cold, hot, kJPerMol);
  if (logStep < SMALL_LOG_STEP && kelvinRatio < SMALL_KELVIN_RATIO) {
    const middle = 0.5 * (cold + hot);
    const offset = 0.5 * (hot - cold) * THREE_POINT_NODE;
    return (5 * of(middle - offset) + 8 * of(middle) + 5 * of(middle + offset)) / 18;
  }
  const needed = Math.max(logStep / LARGEST_LOG_STEP, kelvinRatio / LARGEST_KELVIN_RATIO);
  const pieces = Math.min(MOST_PIECES, Math.max(1, Math.ceil(needed)));
  let total = 0;
  for (let k = 0; k < pieces; k++) {
    const middle = cold + ((k + 0.5) / pieces) * (hot - cold);
    const half = (0.5 * (hot - cold)) / pieces;
    for (let j = 0; j < 4; j++) {
      const offset = half * at(HALF_NODES, j);
      total += at(WEIGHTS, j) * (of(middle - offset) + of(middle + offset));
    }
  }
  return total / (2 * pieces);
}

/** How far the log factor and the kelvins go between the two ends. */
function changeOf(cold: number, hot: number, kJPerMol: number): { logStep: number; kelvinRatio: number } {
  // Below a thousandth of the kelvins of the hotter end nothing ages: do not count its steep logarithm.
  const floor = Math.max(cold, (hot + ZERO_CELSIUS_KELVIN) / 1000 - ZERO_CELSIUS_KELVIN);
  const kelvinRatio = (hot - floor) / (floor + ZERO_CELSIUS_KELVIN);
  return { logStep: logFactor(hot, floor, kJPerMol), kelvinRatio };
}
