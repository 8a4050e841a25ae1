/**
 * The masses that fit interval-censored lives best: steps of self-consistency (Turnbull 1976) in turn with steps of the iterative
 * convex minorant (the hybrid of Wellner & Zhan 1997). Self-consistency never gets worse but crawls where intervals overlap; the
 * other moves all cumulative chances at once, by a Newton step with the diagonal of the second derivatives, put in order by an
 * isotonic regression (Groeneboom & Wellner 1992; Jongbloed 1998 for the step halved until it gains). All from memory.
 */
import { at, columnOf, floatAt } from '../../numeric/columns.js';
import type { LifeSample } from '../sampleTypes.js';
import { increasing } from './increasing.js';
import type { Support } from './turnbullSupport.js';

export interface Masses {
  mass: Float64Array;
  logLikelihood: number;
  /** Whether `gap` came down to the tolerance. */
  converged: boolean;
  /** Pairs of steps taken. */
  iterations: number;
  /**
   * Largest relative slope of the likelihood toward any one mass. Without entries the log likelihood is concave, so that it lies
   * below its largest value by at most the number of lives times this (Lindsay 1983).
   */
  gap: number;
}

/** The log likelihood at masses, and its slopes. */
interface State {
  mass: Float64Array;
  logLikelihood: number;
  /** Slope by each mass over what it is at the best masses: 1 where a mass is above 0, at most 1 elsewhere. */
  rate: Float64Array;
  /** Steepness of the likelihood by the cumulative chance up to each end: minus the second derivatives without entries. */
  bend: Float64Array;
  whole: number;
}

/** Rows with the places of their ends, their weights, and the number of places. */
interface Problem {
  support: Support;
  count: ArrayLike<number>;
  size: number;
}

/** Gains below this part of the log likelihood are rounding; after so many turns without more nothing is to be had. */
const ROUNDING = 1e-15;
const IDLE_TURNS = 8;

/**
 * Precondition: some weight in `count`, a place for each row. A turn costs rows plus intervals.
 * @param tolerance on `gap`: 1e-9 leaves the log likelihood short by a billionth per life at most
 */
export function bestMasses(
  rows: LifeSample,
  support: Support,
  count: ArrayLike<number>,
  tolerance: number,
  most: number,
): Masses {
  const problem = { support, count, size: support.to.length };
  let state = stateAt(problem, new Float64Array(problem.size).fill(1 / problem.size), rows.lower.length);
  let idle = 0;
  let turn = 0;
  for (; turn < most && idle < IDLE_TURNS && gapOf(state) > tolerance; turn++) {
    const spread = stateAt(problem, spreadOnce(state), rows.lower.length);
    const next = minorantStep(problem, spread, rows.lower.length);
    const gain = next.logLikelihood - state.logLikelihood;
    idle = gain > ROUNDING * Math.abs(state.logLikelihood) ? 0 : idle + 1;
    state = next;
  }
  const { mass, logLikelihood } = state;
  const gap = gapOf(state);
  return { mass, logLikelihood, converged: gap <= tolerance || idle >= IDLE_TURNS, iterations: turn, gap };
}

/** Each life spreads its weight over its interval, and with entry stands for the unseen lives that ended before it. */
function spreadOnce({ mass, rate }: State): Float64Array {
  return normalised(columnOf(mass, (m, j) => m * Math.max(0, floatAt(rate, j))));
}

function gapOf({ rate }: State): number {
  let most = 0;
  for (let j = 0; j < rate.length; j++) most = Math.max(most, floatAt(rate, j) - 1);
  return most;
}

/** Sums over intervals are differences of running totals; slopes are gathered as differences too. */
function stateAt({ support, count, size }: Problem, mass: Float64Array, rows: number): State {
  const running = runningTotals(mass);
  const slope = new Float64Array(size + 1);
  const bend = new Float64Array(size + 1);
  const add = (to: Float64Array, j: number, by: number): void => {
    to[j] = floatAt(to, j) + by;
  };
  let [logLikelihood, whole] = [0, 0];
  const total = floatAt(running, size);
  for (let i = 0; i < rows; i++) {
    const n = at(count, i);
    if (n === 0) continue;
    const [first, last, seen] = [at(support.first, i), at(support.last, i), at(support.seen, i)];
    const own = last - first === 1 ? floatAt(mass, first) : floatAt(running, last) - floatAt(running, first);
    const known = total - floatAt(running, seen);
    if (!(own > 0)) return { mass, logLikelihood: Number.NEGATIVE_INFINITY, rate: slope, bend, whole: 0 };
    logLikelihood += n * (Math.log(own) - Math.log(known));
    const steep = n / (own * own);
    add(slope, first, n / own);
    add(slope, last, -n / own);
    add(bend, first, steep);
    add(bend, last, steep);
    if (seen > 0) {
      // Of each life seen, (1 - known) / known ended unseen before its entry.
      add(slope, 0, n / known);
      add(slope, seen, -n / known);
      add(bend, seen, n / (known * known));
    }
    whole += n / known;
  }
  let reached = 0;
  const rate = new Float64Array(size);
  for (let j = 0; j < size; j++) {
    reached += floatAt(slope, j);
    rate[j] = reached / whole;
  }
  return { mass, logLikelihood, rate, bend, whole };
}

/** A step of the convex minorant from a state, halved until it gains; the state itself where none does. */
function minorantStep(problem: Problem, state: State, rows: number): State {
  const { size } = problem;
  if (size < 2) return state;
  const from = runningTotals(state.mass).subarray(1, size);
  let steepest = 0;
  for (let j = 1; j < size; j++) steepest = Math.max(steepest, floatAt(state.bend, j));
  const weight = columnOf(from, (_, j) => Math.max(floatAt(state.bend, j + 1), 1e-12 * steepest));
  const wanted = columnOf(from, (reached, j) => {
    const slope = state.whole * (floatAt(state.rate, j) - floatAt(state.rate, j + 1));
    return reached + slope / floatAt(weight, j);
  });
  const to = increasing(wanted, weight);
  for (let part = 1; part > 1e-3; part /= 2) {
    const next = stateAt(problem, massesBetween(from, to, part), rows);
    if (next.logLikelihood > state.logLikelihood) return next;
  }
  return state;
}

/** Masses whose running totals lie `part` of the way from one set to another, these within 0 and 1. */
function massesBetween(from: Float64Array, to: Float64Array, part: number): Float64Array {
  let before = 0;
  const mass = new Float64Array(from.length + 1);
  for (let j = 0; j < from.length; j++) {
    const aim = Math.min(1, Math.max(0, floatAt(to, j)));
    const reached = Math.max(before, floatAt(from, j) + part * (aim - floatAt(from, j)));
    mass[j] = reached - before;
    before = reached;
  }
  mass[from.length] = Math.max(0, 1 - before);
  return normalised(mass);
}

export function runningTotals(mass: Float64Array): Float64Array {
  const totals = new Float64Array(mass.length + 1);
  for (let j = 0; j < mass.length; j++) totals[j + 1] = floatAt(totals, j) + floatAt(mass, j);
  return totals;
}

function normalised(mass: Float64Array): Float64Array {
  let total = 0;
  for (const m of mass) total += m;
  return columnOf(mass, (m) => m / total);
}
