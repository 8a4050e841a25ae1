/**
 * Cumulative hazard of a group's law in draws of it, summed over lives. Survival is [1 - p Fe(t)] Sw(t) (METHODS 3.1), so that a life
 * adds wear-out (t / scale)^shape and fitting faults -log(1 - p Fe(t)). The law Fe is the same in every draw: sums of the second are
 * taken in powers of Fe, -log(1 - p Fe) = p Fe + p² Fe² / 2 + ..., and put to the draws of p once per sum.
 */
import { columnOf, floatAt, sum } from '../../numeric/columns.js';
import type { Group } from '../types.js';
import type { Symmetric } from './leaveOut.js';

/** So many of the plan's draws are used, evenly spread over them. */
const DRAWS = 100;
const YEAR = 365.25;
/** The last term of the fitting faults is below this, whatever the share drawn. */
const SMALL = 1e-9;
const MOST_FAULT_TERMS = 60;

/** Sums over lives: of the wear-out by draw, of Fe^j / j by j. */
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
  /** Mean shape over the draws, and covariance of log wear-out hazard at one year and shape. */
  shape: number;
  covariance: Symmetric;
  /** Of one diaphragm from new to an age at the mean of these two: H, H u and H u², u = log(age / year). */
  moments(age: number): readonly [number, number, number];
  /** What the draws know of the share of faulty fittings: as much as so many leaks. */
  faultKnown: number;
}

export function groupHazards({ draws }: Pick<Group, 'draws'>): GroupHazards {
  const { shape, share, logLevel } = pickedOf(draws);
  const powers = powersOf(share);
  const hazardTo = remembered(hazardOf(draws, { shape, logLevel, terms: powers.terms }));
  const count = shape.length;
  return {
    draws: count,
    none: () => ({ wear: new Float64Array(count), fault: new Float64Array(powers.terms) }),
    add: (sums, young, old) => {
      const [from, to] = [hazardTo(young), hazardTo(old)];
      addDifference(sums.wear, to.wear, from.wear);
      addDifference(sums.fault, to.fault, from.fault);
    },
    wearByDraw: (sums) => sums.wear,
    faultByDraw: (sums) => powers.byDraw(sums.fault),
    meanWear: remembered((age) => sum(hazardTo(age).wear) / count),
    meanFault: remembered((age) => product(powers.mean, hazardTo(age).fault, 0)),
    shape: meanOf(shape),
    covariance: covarianceOf(logLevel, shape),
    moments: remembered(momentsOf(meanOf(logLevel), meanOf(shape))),
    faultKnown: 1 / Math.max(covarianceOf(share.map(Math.log), share)[0], 1e-12),
  };
}

/** Draws used; `logLevel` is the log of the wear-out hazard at one year. */
function pickedOf(draws: Group['draws']): Record<'shape' | 'share' | 'logLevel', Float64Array> {
  const all = draws.shape.length;
  const count = Math.min(DRAWS, all);
  const picked = Int32Array.from({ length: count }, (_, d) => Math.floor(((d + 0.5) * all) / count));
  return {
    shape: columnOf(picked, (d) => floatAt(draws.shape, d)),
    share: columnOf(picked, (d) => floatAt(draws.share, d)),
    logLevel: columnOf(picked, (d) => floatAt(draws.shape, d) * Math.log(YEAR / floatAt(draws.scale, d))),
  };
}

/** Of one diaphragm from new to an age; not to be altered. */
function hazardOf(
  { faultShape, faultScale }: Group['draws'],
  { shape, logLevel, terms }: { shape: Float64Array; logLevel: Float64Array; terms: number },
): (age: number) => HazardSums {
  return (age) => {
    const [wear, fault] = [new Float64Array(shape.length), new Float64Array(terms)];
    if (age <= 0) return { wear, fault };
    const u = yearLog(age);
    for (let d = 0; d < wear.length; d++) wear[d] = Math.exp(floatAt(logLevel, d) + floatAt(shape, d) * u);
    const faulty = -Math.expm1(-((age / faultScale) ** faultShape));
    let power = faulty;
    for (let j = 0; j < terms; j++) {
      fault[j] = power / (j + 1);
      power *= faulty;
    }
    return { wear, fault };
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

/** p, p², p³ ... of the share of faulty fittings. */
interface Powers {
  terms: number;
  /** By term, averaged over the draws. */
  mean: Float64Array;
  byDraw(sums: Float64Array): Float64Array;
}

function powersOf(share: Float64Array): Powers {
  const largest = share.reduce((most, p) => Math.max(most, p), 0);
  let terms = 1;
  while (terms < MOST_FAULT_TERMS && largest ** terms / terms > SMALL) terms++;
  const table = new Float64Array(share.length * terms);
  const mean = new Float64Array(terms);
  for (let d = 0; d < share.length; d++) {
    let power = 1;
    for (let j = 0; j < terms; j++) {
      power *= floatAt(share, d);
      table[d * terms + j] = power;
      mean[j] = floatAt(mean, j) + power / share.length;
    }
  }
  return { terms, mean, byDraw: (sums) => share.map((_p, d) => product(table, sums, d * terms)) };
}

/** Sum of powers times sums; the powers begin at `start`. */
function product(table: Float64Array, sums: Float64Array, start: number): number {
  let total = 0;
  for (let j = 0; j < sums.length; j++) total += floatAt(table, start + j) * floatAt(sums, j);
  return total;
}

function addDifference(into: Float64Array, to: Float64Array, from: Float64Array): void {
  for (let j = 0; j < into.length; j++) into[j] = floatAt(into, j) + floatAt(to, j) - floatAt(from, j);
}

function momentsOf(level: number, shape: number): (age: number) => readonly [number, number, number] {
  return (age) => {
    if (age <= 0) return [0, 0, 0];
    const u = yearLog(age);
    const hazard = Math.exp(level + shape * u);
    return [hazard, hazard * u, hazard * u * u];
  };
}

/** log(age / year). */
export function yearLog(age: number): number {
  return Math.log(age / YEAR);
}

function meanOf(values: Float64Array): number {
  return sum(values) / values.length;
}

/** Draws that are all alike get a spread of a millionth, so that there is an inverse. */
function covarianceOf(x: Float64Array, y: Float64Array): Symmetric {
  const [meanX, meanY] = [meanOf(x), meanOf(y)];
  let [xx, xy, yy] = [0, 0, 0];
  for (let d = 0; d < x.length; d++) {
    const [dx, dy] = [floatAt(x, d) - meanX, floatAt(y, d) - meanY];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  return [xx / x.length + 1e-12, xy / x.length, yy / x.length + 1e-12];
}
