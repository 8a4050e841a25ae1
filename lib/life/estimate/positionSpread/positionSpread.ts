/** How much positions differ from each other in how long their lives last (METHODS 1.7). */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, itemAt } from '../../../numeric/columns.js';
import { differentiateTwice } from '../../../numeric/differentiate.js';
import { localPrecision } from '../../../numeric/localWords.js';
import { cholesky, solveCholesky } from '../../../numeric/matrix.js';
import { type MinimumOfMany, minimiseSmooth } from '../../../numeric/minimise.js';
import { findRoot } from '../../../numeric/roots.js';
import { chiSquareQuantile, normalCdf } from '../../../numeric/special.js';
import { requireKnownCauses } from '../../empirical/atRisk.js';
import type { WeibullModel } from '../../model.js';
import type { LifeSample } from '../../sampleTypes.js';
import { fitLife } from '../fit.js';
import { spreadLikelihood } from './spreadLikelihood.js';
import { spreadRows } from './spreadRows.js';

export interface PositionSpread {
  /** Standard deviation of log scale between positions; 0 where positions alike fit best, null where the lives cannot tell. */
  spread: number | null;
  /** Profile-likelihood bounds of it; 0 and Infinity where there are none. */
  low: number;
  high: number;
  level: number;
  /** Lives at the middle position, wear at one and the same position: its shape is above that of all lives together. */
  model: WeibullModel;
  /** One Weibull for all lives. */
  pooled: WeibullModel;
  /** Largest log likelihood with the spread, and with positions alike. */
  logLikelihoods: { spread: number; alike: number };
  /** Chance of as large a gain or a larger one where positions are alike: half a chi-square (Self & Liang 1987). */
  p: number;
  /** Positions with two lives or more: what tells of a spread. */
  repeated: number;
  converged: boolean;
  warnings: Warning[];
}

/** A spread above this one matters (METHODS 1.7). */
const SPREAD_THAT_MATTERS = 0.1;
/** Larger ones are not looked for: lives of a position in twenty would be a thousand times those of another. */
const LARGEST = 4;

/**
 * Fits Weibull lives whose scale is exp(u) times that of the middle position, u normal with mean 0, by maximum likelihood; u is
 * integrated over by quadrature that follows each position's lives (spreadLikelihood.ts). All kinds of rows; positions are the sample's clusters. Two-sided
 * bounds at `level`, 0.9 unless given.
 * @throws UsageError for another kind than weibull, a level not between 0 and 1, ends of unknown cause, and a sample whose shape cannot be
 * estimated
 */
export function positionSpread(
  sample: LifeSample,
  options: { kind: 'weibull'; level?: number },
): PositionSpread {
  const { kind, level = 0.9 } = options;
  if (kind !== 'weibull') throw new UsageError('positionSpread', 'kind must be weibull.', kind);
  if (!(level > 0 && level < 1))
    throw new UsageError('positionSpread', 'level must be between 0 and 1.', level);
  requireKnownCauses(sample, 'positionSpread');
  const rows = spreadRows(sample);
  const pooledFit = fitLife(sample, { kind });
  const pooled = pooledFit.model as WeibullModel;
  const alike = pooledFit.logLikelihood;
  const nothing = { level, model: pooled, pooled, repeated: rows.repeated, low: 0, high: Infinity, p: 1 };
  const likelihoods = { spread: alike, alike };
  if (rows.repeated === 0) {
    return { ...nothing, spread: null, logLikelihoods: likelihoods, converged: true, warnings: [NO_REPEATS] };
  }
  const search = searchOf(spreadLikelihood(rows), pooled, alike);
  const top = highest(search);
  if (!top.converged) {
    return { ...nothing, spread: null, logLikelihoods: likelihoods, converged: false, warnings: [NOT_FOUND] };
  }
  const drop = 0.5 * chiSquareQuantile(level, 1);
  const { low, high } = endsOf(search, top, drop);
  const gain = Math.max(0, 2 * (top.value - alike));
  return {
    ...nothing,
    spread: top.spread,
    low,
    high,
    model: top === search.alike ? pooled : { kind, shape: Math.exp(top.b), scale: Math.exp(top.e) },
    logLikelihoods: { spread: top.value, alike },
    p: gain === 0 ? 1 : normalCdf(-Math.sqrt(gain)),
    converged: true,
    warnings: low > SPREAD_THAT_MATTERS ? [positionsDiffer(top.spread, low)] : [],
  };
}

interface Point {
  b: number;
  e: number;
  spread: number;
  value: number;
  converged: boolean;
}

interface Search {
  /** Log likelihood. */
  target(b: number, e: number, spread: number): number;
  /** Positions alike. */
  alike: Point;
}

function searchOf(target: Search['target'], pooled: WeibullModel, value: number): Search {
  const [b, e] = [Math.log(pooled.shape), Math.log(pooled.scale)];
  return { target, alike: { b, e, spread: 0, value, converged: true } };
}

/** From the best of a few spreads uphill in all three; the likelihood is the same for a spread and its negative. */
function highest(search: Search): Point {
  const { alike, target } = search;
  const starts = [0.05, 0.15, 0.3, 0.5, 0.8, 1.3].map((spread) => {
    const { b, e } = startAt(search, spread);
    const value = inReach(b, spread) ? target(b, e, spread) : Number.NEGATIVE_INFINITY;
    return { b, e, spread, value, converged: true };
  });
  const start = starts.reduce((best, point) => (point.value > best.value ? point : best));
  const steps = [2e-3, 2e-3 / Math.exp(start.b), 2e-3 * start.spread];
  const found = pointOf(minimiseSmooth(costOf(search), [start.b, start.e, start.spread], steps));
  if (found.converged && found.spread > 1e-3) return found.value > alike.value ? found : alike;
  // The top may lie at 0, where the likelihood is flat, or a spread on the way may be better than none.
  const small = bestAt(search, 0.02, alike);
  if (small.converged && small.value <= alike.value) return alike;
  return { ...found, converged: false };
}

/** Variances of log life add up: pi² / (6 shape²) within positions, the square of the spread between them. */
function startAt({ alike }: Search, spread: number): Point {
  const whole = Math.PI ** 2 / 6 / Math.exp(2 * alike.b);
  const within = Math.max(whole - spread * spread, 0.3 * whole);
  return { ...alike, b: 0.5 * Math.log(Math.PI ** 2 / 6 / within) };
}

function costOf({ target }: Search): (x: readonly number[]) => number {
  return (x) => {
    const [b, e, spread] = [at(x, 0), at(x, 1), at(x, 2)];
    if (!inReach(b, spread)) return Infinity;
    const value = target(b, e, spread);
    return Number.isFinite(value) ? -value : Infinity;
  };
}

/** Beyond, hazards would differ by more than exp(100) between positions: nothing that lives can tell, and endless to integrate. */
function inReach(b: number, spread: number): boolean {
  return Math.abs(b) <= 12 && Math.abs(spread) <= 2 * LARGEST && Math.abs(spread) * Math.exp(b) <= 100;
}

function pointOf({ at: x, value, converged }: MinimumOfMany): Point {
  return { b: at(x, 0), e: at(x, 1), spread: Math.abs(at(x, 2)), value: -value, converged };
}

/** Best shape and scale for a spread, from a start that may be far. */
function bestAt(search: Search, spread: number, from: Point): Point {
  if (spread === 0) return search.alike;
  const cost = costOf(search);
  const steps = stepsAt(from);
  const found = minimiseSmooth((x) => cost([...x, spread]), [from.b, from.e], steps);
  return pointOf({ ...found, at: [...found.at, spread] });
}

function stepsAt({ b }: Point): [number, number] {
  return [5e-3, 5e-3 / Math.exp(b)];
}

/**
 * The profile: best log likelihood by spread. How the likelihood bends in shape and scale changes little along it, so the bend at the
 * top serves for all of it, and a step costs slopes only; what is left to gain is added at the end. The long road where that fails.
 */
function profileOf(search: Search, top: Point): (spread: number) => number {
  const cost = costOf(search);
  const bend = differentiateTwice(cost, [top.b, top.e, top.spread], [0, 1], [...stepsAt(top), 1]);
  const factor = cholesky(bend, 2);
  const known = [top];
  return (spread) => {
    if (spread === 0) return search.alike.value;
    const start = ahead(known, spread);
    const found = (factor && chordsFrom(search, factor, spread, start)) ?? bestAt(search, spread, start);
    if (found.converged) known.push(found);
    return found.value;
  };
}

/** On the line through the two points known that lie next to a spread: shape and scale change evenly along the profile. */
function ahead(known: readonly Point[], spread: number): Point {
  const near = [...known].sort((x, y) => Math.abs(x.spread - spread) - Math.abs(y.spread - spread));
  const [one, other] = [itemAt(near, 0), itemAt(near, Math.min(1, near.length - 1))];
  if (Math.abs(other.spread - one.spread) < 1e-6) return one;
  const part = (spread - one.spread) / (other.spread - one.spread);
  return { ...one, spread, b: one.b + part * (other.b - one.b), e: one.e + part * (other.e - one.e) };
}

/** Steps along one bend until less than 1e-8 is to be gained; null where they do not close in. */
function chordsFrom(
  { target }: Search,
  factor: readonly number[],
  spread: number,
  from: Point,
): Point | null {
  let { b, e } = from;
  const [stepB, stepE] = stepsAt(from);
  let before = Infinity;
  if (!inReach(b, spread)) return null;
  for (let turn = 0; turn < 25; turn++) {
    const slopes = [
      (target(b + stepB, e, spread) - target(b - stepB, e, spread)) / (2 * stepB),
      (target(b, e + stepE, spread) - target(b, e - stepE, spread)) / (2 * stepE),
    ];
    const move = solveCholesky(factor, slopes);
    const gain = 0.5 * (at(slopes, 0) * at(move, 0) + at(slopes, 1) * at(move, 1));
    if (!(gain < 4 * before)) return null;
    if (gain < 1e-8) return { b, e, spread, value: target(b, e, spread) + gain, converged: true };
    before = gain;
    b += at(move, 0);
    e += at(move, 1);
    if (!inReach(b, spread)) return null;
  }
  return null;
}

/**
 * Where the profile has fallen by `drop` below the top, on both sides: 0 where positions alike lie within it, Infinity where none is
 * found. The root of the fall is nearly straight, so a few steps are enough.
 */
function endsOf(search: Search, top: Point, drop: number): { low: number; high: number } {
  const profile = profileOf(search, top);
  const above = (spread: number): number =>
    Math.sqrt(drop) - Math.sqrt(Math.max(0, top.value - profile(spread)));
  const between = (x: number, y: number, ends: readonly [number, number]): number =>
    findRoot(above, x, y, { absolute: 1e-7, ends }).root;
  let [near, there] = [top.spread, Math.sqrt(drop)];
  let high = Infinity;
  for (let far = Math.max(1.2 * top.spread, 0.05); far < LARGEST; far *= 1.25) {
    const beyond = above(far);
    if (!(beyond > 0)) {
      high = between(near, far, [there, beyond]);
      break;
    }
    [near, there] = [far, beyond];
  }
  const none = Math.sqrt(drop) - Math.sqrt(Math.max(0, top.value - search.alike.value));
  if (none >= 0) return { low: 0, high };
  // The bounds lie about as far from the top on either side.
  const mirrored = top.spread - 1.2 * (high - top.spread);
  const reached = mirrored > 0 ? above(mirrored) : none;
  const far = Math.max(mirrored, 0);
  const low =
    reached < 0 ? between(far, top.spread, [reached, Math.sqrt(drop)]) : between(0, far, [none, reached]);
  return { low, high };
}

const NO_REPEATS: Warning = {
  code: 'no-repeats',
  text: 'No position has two lives, so nothing tells how much positions differ.',
  todo: 'Ask again when positions have had a second life.',
};

const NOT_FOUND: Warning = {
  code: 'spread-not-found',
  text: 'No best spread between positions was found: the lives of each position may be too much alike, or too few failed.',
  todo: 'Look at the lives by position; take bounds that respect positions.',
};

function positionsDiffer(spread: number, low: number): Warning {
  return {
    code: 'positions-differ',
    text: `Positions differ: log scale varies by ${localPrecision(spread, 2)} between them, by ${localPrecision(low, 2)} at least.`,
    todo: 'Set intervals by duty class or position, not by group only.',
  };
}
