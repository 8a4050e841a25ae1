/**
 * Cumulative hazard of a group's law in draws of it, summed over lives. Survival is [1 - p Fe(t)] Sw(t) (METHODS 3.1), so that a life
 * adds wear-out (t / scale)^shape and fitting faults -log(1 - p Fe(t)). Sums over lives are taken in powers, and put to the
 * draws once per sum instead of once per life. With L the hazard at a middle age m, s the mean shape, u = log(t / m), and a draw
 * of shape s + e,
 *
 *     (t / scale)^shape = L exp(s u) exp(e u) = L sum over j of e^j [exp(s u) u^j / j!]
 *     -log(1 - p Fe)    = sum over j of p^j [Fe^j / j]
 *
 * The brackets hang on ages alone. So many terms are taken that ages from a hundredth to five times the middle one are good
 * to 1e-6; what lies below adds next to nothing.
 */
import { columnOf, floatAt, sum } from '../../numeric/columns.js';
import type { Group } from '../types.js';

/** So many of the plan's draws are used, evenly spread over them. */
const DRAWS = 100;
const WEAR_TERMS = 20;
/** The last term of the fitting faults is below this, whatever the share drawn. */
const SMALL = 1e-9;
const MOST_FAULT_TERMS = 60;

/** The brackets above, summed over lives. */
export interface HazardSums {
  wear: Float64Array;
  fault: Float64Array;
}

export interface GroupHazards {
  /** How many draws there are. */
  draws: number;
  none(): HazardSums;
  /** Adds what one diaphragm is expected to leak from one age to another, days; from at or below to. */
  add(sums: HazardSums, from: number, to: number): void;
  /** Expected leaks of what was added, by draw. */
  wearByDraw(sums: HazardSums): Float64Array;
  faultByDraw(sums: HazardSums): Float64Array;
  /** Of one diaphragm from new to an age, averaged over the draws. */
  meanWear(age: number): number;
  meanFault(age: number): number;
  /** What the draws know of the level of the wear-out hazard, the shape held: as much as so many leaks. */
  wearKnown: number;
  /** The same of the share of faulty fittings. */
  faultKnown: number;
}

/** `middle`: an age near which most lives of the group end, days. */
export function groupHazards({ draws }: Pick<Group, 'draws'>, middle: number): GroupHazards {
  const { wear, fault, shape, logLevel, share } = powersOf(draws, middle);
  const terms = { wear: wear.terms, fault: fault.terms };
  const bracketsAt = remembered(bracketsOf(draws, middle, sum(shape) / shape.length, terms));
  return {
    draws: shape.length,
    none: () => sumsOf(terms),
    add: (sums, young, old) => {
      const [from, to] = [bracketsAt(young), bracketsAt(old)];
      addDifference(sums.wear, to.wear, from.wear);
      addDifference(sums.fault, to.fault, from.fault);
    },
    wearByDraw: (sums) => wear.byDraw(sums.wear),
    faultByDraw: (sums) => fault.byDraw(sums.fault),
    meanWear: remembered((age) => product(wear.mean, bracketsAt(age).wear, 0)),
    meanFault: remembered((age) => product(fault.mean, bracketsAt(age).fault, 0)),
    wearKnown: 1 / residualVariance(logLevel, shape),
    faultKnown: 1 / Math.max(variance(share.map(Math.log)), 1e-12),
  };
}

function sumsOf({ wear, fault }: { wear: number; fault: number }): HazardSums {
  return { wear: new Float64Array(wear), fault: new Float64Array(fault) };
}

/** The brackets of an age, not to be altered. */
function bracketsOf(
  { faultShape, faultScale }: Group['draws'],
  middle: number,
  shape: number,
  terms: { wear: number; fault: number },
): (age: number) => HazardSums {
  return (age) => {
    const brackets = sumsOf(terms);
    if (age <= 0) return brackets;
    const { wear, fault } = brackets;
    const u = Math.log(age / middle);
    const faulty = -Math.expm1(-((age / faultScale) ** faultShape));
    let term = Math.exp(shape * u);
    for (let j = 0; j < wear.length; j++) {
      wear[j] = term;
      term *= u / (j + 1);
    }
    term = faulty;
    for (let j = 0; j < fault.length; j++) {
      fault[j] = term / (j + 1);
      term *= faulty;
    }
    return brackets;
  };
}

/** Ages are whole and half days: few of them, asked for many times. */
function remembered<T>(of: (age: number) => T): (age: number) => T {
  const known = new Map<number, T>();
  return (age) => {
    let value = known.get(age);
    if (value === undefined) {
      value = of(age);
      known.set(age, value);
    }
    return value;
  };
}

/** Powers of what differs from draw to draw. */
interface Powers {
  terms: number;
  /** By term, averaged over the draws. */
  mean: Float64Array;
  byDraw(brackets: Float64Array): Float64Array;
}

function powersOf(
  draws: Group['draws'],
  middle: number,
): { wear: Powers; fault: Powers; shape: Float64Array; logLevel: Float64Array; share: Float64Array } {
  const all = draws.shape.length;
  const count = Math.min(DRAWS, all);
  const picked = Int32Array.from({ length: count }, (_, d) => Math.floor(((d + 0.5) * all) / count));
  const shape = columnOf(picked, (d) => floatAt(draws.shape, d));
  const share = columnOf(picked, (d) => floatAt(draws.share, d));
  const logLevel = columnOf(
    picked,
    (d) => floatAt(draws.shape, d) * Math.log(middle / floatAt(draws.scale, d)),
  );
  const mean = sum(shape) / count;
  const largest = share.reduce((most, p) => Math.max(most, p), 0);
  let terms = 1;
  while (terms < MOST_FAULT_TERMS && largest ** terms / terms > SMALL) terms++;
  return {
    wear: powers(
      logLevel.map(Math.exp),
      shape.map((s) => s - mean),
      WEAR_TERMS,
    ),
    fault: powers(share, share, terms),
    shape,
    logLevel,
    share,
  };
}

/** first, first x, first x², ... by draw. */
function powers(first: Float64Array, x: Float64Array, terms: number): Powers {
  const table = new Float64Array(first.length * terms);
  const mean = new Float64Array(terms);
  for (let d = 0; d < first.length; d++) {
    let power = floatAt(first, d);
    for (let j = 0; j < terms; j++) {
      table[d * terms + j] = power;
      mean[j] = floatAt(mean, j) + power / first.length;
      power *= floatAt(x, d);
    }
  }
  const byDraw = (brackets: Float64Array): Float64Array => {
    const values = new Float64Array(first.length);
    // Next to nothing may come out just below 0.
    for (let d = 0; d < values.length; d++) values[d] = Math.max(product(table, brackets, d * terms), 0);
    return values;
  };
  return { terms, mean, byDraw };
}

/** Sum of brackets times powers, which begin at `start`. */
function product(table: Float64Array, brackets: Float64Array, start: number): number {
  let total = 0;
  for (let j = 0; j < brackets.length; j++) total += floatAt(table, start + j) * floatAt(brackets, j);
  return total;
}

function addDifference(into: Float64Array, to: Float64Array, from: Float64Array): void {
  for (let j = 0; j < into.length; j++) into[j] = floatAt(into, j) + floatAt(to, j) - floatAt(from, j);
}

function variance(values: Float64Array): number {
  const mean = sum(values) / values.length;
  return values.reduce((total, x) => total + (x - mean) ** 2, 0) / values.length;
}

/** Variance of y that a straight line in x leaves. */
function residualVariance(y: Float64Array, x: Float64Array): number {
  const [meanX, meanY] = [sum(x) / x.length, sum(y) / y.length];
  let [xx, xy, yy] = [0, 0, 0];
  for (let d = 0; d < x.length; d++) {
    const [dx, dy] = [floatAt(x, d) - meanX, floatAt(y, d) - meanY];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  return Math.max(yy - (xx > 0 ? (xy * xy) / xx : 0), 1e-12) / y.length;
}
