/**
 * Likelihood of Weibull lives whose scale differs from position to position: scale exp(u), u normal with mean 0 and the spread as standard
 * deviation. With v = -shape u the hazards of a position are multiplied by exp(v), v normal with standard deviation t = shape
 * spread, and its part of the likelihood is the integral over v of exp(g(v)) / (t sqrt(2 pi)),
 *
 *     g(v) = d v - A exp(v) + sum log[1 - exp(-w exp(v))] - v² / (2 t²)
 *
 * with d its exact failures, A the hazard its lives have lived through, w the hazard over each interval in which one failed. g bends down
 * everywhere, so its top is found by Newton and the integral by the trapezoidal rule from there outward, as far as it counts. For functions like
 * this one, without poles near the line, that rule gains digits as fast as a Gauss rule (Trefethen & Weideman 2014), also where a wide
 * spread makes the integrand lopsided, which a Gauss-Hermite rule round the top does not bear. Lives that came under watch late
 * divide by the chance that the position's lives reached their entries, the same integral over these.
 */
import { at, floatAt } from '../../../numeric/columns.js';
import type { SpreadRows } from './spreadRows.js';

/** Longest stride, and longest in units of the width of the top: errors of exp(-2 pi (pi / 2) / stride) and exp(-2 pi² / stride²). */
const LONGEST = 0.4;
const LONGEST_BY_WIDTH = 0.8;
/** What has fallen by so much from the top no longer counts. */
const DEPTH = 25;
/** More than the widest spread in reach needs. */
const MOST_STRIDES = 4000;

/** Log likelihood by log shape, log scale and spread (its sign does not count). */
export function spreadLikelihood(rows: SpreadRows): (b: number, e: number, spread: number) => number {
  const powers = powersOf(rows);
  return (b, e, spread) => {
    const shape = Math.exp(b);
    const shift = shape * (Math.log(rows.unit) - e);
    powers.at(shape);
    const integral = integrator(powers.width, Math.abs(spread) * shape);
    const factor = Math.exp(shift);
    const constant = b + shift;
    let total = 0;
    for (let p = 0; p < rows.positions.length; p++) {
      const failures = floatAt(rows.exact, p);
      const [from, to] = [at(powers.firstInterval, p), at(powers.firstInterval, p + 1)];
      let value = integral({ failures, hazard: factor * floatAt(powers.reached, p), factor, from, to });
      value += failures * constant + shape * floatAt(rows.logExact, p) - floatAt(powers.logAges, p);
      const entered = factor * floatAt(powers.entered, p);
      if (entered > 0) value -= integral({ failures: 0, hazard: entered, factor, from: 0, to: 0 });
      total += floatAt(rows.positions, p) * value;
    }
    return Number.isNaN(total) ? Number.NEGATIVE_INFINITY : total;
  };
}

interface Powers {
  at(shape: number): void;
  /** By pattern: sum of (age / unit)^shape reached, and at entry. */
  reached: Float64Array;
  entered: Float64Array;
  /** Sum of log ages of exact failures, in the caller's unit. */
  logAges: Float64Array;
  /** Interval failures of pattern p are from firstInterval[p] to firstInterval[p + 1] - 1 of `width`. */
  firstInterval: Int32Array;
  width: { hazard: Float64Array; count: Float64Array };
}

/** What depends on the shape alone is worked out once per shape. */
function powersOf(rows: SpreadRows): Powers {
  const patterns = rows.positions.length;
  const intervals: number[] = [];
  const firstInterval = new Int32Array(patterns + 1);
  for (let p = 0; p < patterns; p++) {
    for (let i = at(rows.first, p); i < at(rows.first, p + 1); i++) {
      if (floatAt(rows.logUpper, i) !== Number.NEGATIVE_INFINITY) intervals.push(i);
    }
    firstInterval[p + 1] = intervals.length;
  }
  const [reached, entered] = [new Float64Array(patterns), new Float64Array(patterns)];
  const width = {
    hazard: new Float64Array(intervals.length),
    count: Float64Array.from(intervals, (i) => floatAt(rows.count, i)),
  };
  const logUnit = Math.log(rows.unit);
  const logAges = rows.logExact.map((log, p) => log + floatAt(rows.exact, p) * logUnit);
  let last = Number.NaN;
  const fill = (shape: number): void => {
    if (shape === last) return;
    last = shape;
    for (let p = 0; p < patterns; p++) {
      let [whole, before] = [0, 0];
      for (let i = at(rows.first, p); i < at(rows.first, p + 1); i++) {
        whole += floatAt(rows.count, i) * Math.exp(shape * floatAt(rows.logReached, i));
        if (rows.anyEntry) before += floatAt(rows.count, i) * Math.exp(shape * floatAt(rows.logEntry, i));
      }
      reached[p] = whole;
      entered[p] = before;
    }
    intervals.forEach((i, j) => {
      const upper = shape * floatAt(rows.logUpper, i);
      width.hazard[j] = Math.exp(upper) * -Math.expm1(shape * floatAt(rows.logReached, i) - upper);
    });
  };
  return { at: fill, reached, entered, logAges, firstInterval, width };
}

/** What g of one position is made of; intervals are from `from` to `to` - 1 of the widths, times `factor`. */
interface Part {
  failures: number;
  hazard: number;
  factor: number;
  from: number;
  to: number;
}

/** log of the integral for one position. */
function integrator(width: Powers['width'], sd: number): (part: Part) => number {
  const bend = sd > 0 ? 1 / (sd * sd) : 0;
  const constant = -Math.log(sd) - 0.5 * Math.log(2 * Math.PI);
  return (part) => {
    const g = integrand(width, part, bend);
    if (sd === 0) return g(0);
    const [top, curvature] = topOf(width, part, bend);
    const stride = Math.min(LONGEST, LONGEST_BY_WIDTH / Math.sqrt(curvature));
    const height = g(top);
    let total = 1;
    for (const direction of [stride, -stride]) {
      for (let k = 1; ; k++) {
        // A stride of next to nothing: the top was not found, for hazards beyond all measure.
        if (k > MOST_STRIDES) return Number.NEGATIVE_INFINITY;
        const below = g(top + k * direction) - height;
        if (!(below > -DEPTH)) break;
        total += Math.exp(below);
      }
    }
    return height + Math.log(total * stride) + constant;
  };
}

/** Below this hazard over an interval the series of log[(1 - exp(-x)) / x] as far as x⁴ is good to 4e-9. */
const NARROW = 0.3;

/** g of one position. Narrow intervals are taken together: log(1 - exp(-x)) = log x - x / 2 + x² / 24 - x⁴ / 2880 + ... */
function integrand(
  { hazard: widths, count }: Powers['width'],
  part: Part,
  bend: number,
): (v: number) => number {
  const { failures, hazard, factor, from, to } = part;
  let [widest, n, logs, first, second, fourth] = [0, 0, 0, 0, 0, 0];
  for (let j = from; j < to; j++) {
    const [c, w] = [floatAt(count, j), factor * floatAt(widths, j)];
    widest = Math.max(widest, w);
    n += c;
    logs += c * Math.log(w);
    first += c * w;
    second += c * w * w;
    fourth += c * w * w * w * w;
  }
  const [slope, a, b] = [hazard + first / 2, second / 24, fourth / 2880];
  return (v) => {
    const z = Math.exp(v);
    if (z * widest < NARROW) {
      const z2 = z * z;
      return (failures + n) * v + logs - slope * z + (a - b * z2) * z2 - 0.5 * bend * v * v;
    }
    let g = failures * v - hazard * z - 0.5 * bend * v * v;
    for (let j = from; j < to; j++)
      g += floatAt(count, j) * Math.log(-Math.expm1(-factor * floatAt(widths, j) * z));
    return g;
  };
}

/** Top of g and minus its second derivative there. g bends down, and the steps are damped to keep exp(v) in hand. */
function topOf({ hazard: widths, count }: Powers['width'], part: Part, bend: number): [number, number] {
  const { failures, hazard, factor, from, to } = part;
  let v = 0;
  let curvature = bend;
  for (let turn = 0; turn < 100; turn++) {
    const z = Math.exp(v);
    let slope = failures - hazard * z - bend * v;
    curvature = hazard * z + bend;
    for (let j = from; j < to; j++) {
      const w = factor * floatAt(widths, j) * z;
      // Slope of log(1 - exp(-w)) by v is w / (e^w - 1) = r, its bend r (1 - w - r); for small w about 1 - w / 2 and -w / 2.
      const r = w < 1e-8 ? 1 - w / 2 : w > 700 ? 0 : w / Math.expm1(w);
      slope += floatAt(count, j) * r;
      curvature -= floatAt(count, j) * (w < 1e-8 ? -w / 2 : r * (1 - w - r));
    }
    const step = Math.max(-2, Math.min(2, slope / curvature));
    v += step;
    // The rule need not sit on the very top.
    if (Math.abs(step) < 1e-4) break;
  }
  return [v, curvature];
}
