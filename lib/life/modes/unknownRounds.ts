/**
 * Expectation and maximisation for reasons that nobody knows, at given odds k. With h the hazard of each leak mode, g that of known
 * other ends and s the factor by which all other ends are more than the known ones, and with reasons lost of a share u of leaks
 * and v of others, an end at t adds to the likelihood
 *
 *     known leak of mode m    (1 - u) h_m(t)            unknown     u sum of h_m(t) + v s g(t)
 *     known other end         (1 - v) s g(t)            u / (1 - u) = k v / (1 - v)
 *
 * so that the odds of a leak among unknown rows are k times those among known rows of the same age.
 */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { findRoot } from '../../numeric/roots.js';
import { lawOf } from '../distribution/functions.js';
import { fitLife } from '../estimate/fit.js';
import type { FitOptions, LifeFit } from '../estimate/fitTypes.js';
import { type ReasonRows, weightedSampleOf } from './reasonRows.js';

export interface UnknownRounds {
  /** One for each leak mode. */
  fits: LifeFit[];
  /** For each leak mode and unknown row: the chance that it was a leak of that mode. */
  weights: Float64Array[];
  /** Log-likelihood before the last step of each round, up to a constant; it never falls. Empty for k = 0 and Infinity with one mode. */
  trace: number[];
  settled: boolean;
}

const MOST_ROUNDS = 500;
/** Rounds end when no chance moves by more than this. */
const SETTLED = 1e-8;

export function unknownRounds(rows: ReasonRows, odds: number, kinds: readonly FitOptions[]): UnknownRounds {
  const samples = rows.leaks.map((_, m) => weightedSampleOf(rows, m));
  const fitAll = (weights: readonly Float64Array[]): LifeFit[] =>
    samples.map((sampleFor, m) => fitLife(sampleFor(itemAt(weights, m)), itemAt(kinds, m)));
  const even = odds === Infinity ? 1 / rows.leaks.length : 0;
  let weights: Float64Array[] = rows.leaks.map(() => rows.unknownAge.map(() => even));
  let fits = fitAll(weights);
  const trace: number[] = [];
  const certain = odds === 0 || (odds === Infinity && rows.leaks.length === 1);
  if (rows.unknowns === 0 || certain) return { fits, weights, trace, settled: true };
  let leaks = (rows.unknowns * rows.knownLeaks) / (rows.knownLeaks + rows.knownOthers);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = weigh(rows, fits, lossOf(rows, leaks, odds));
    trace.push(next.logLikelihood);
    const moved = Math.max(...next.weights.map((one, m) => largestMove(one, itemAt(weights, m))));
    ({ weights, leaks } = next);
    fits = fitAll(weights);
    if (moved < SETTLED) return { fits, weights, trace, settled: true };
  }
  return { fits, weights, trace, settled: false };
}

interface Loss {
  /** Shares of leaks and of other ends whose reason was lost: u and v. */
  ofLeaks: number;
  ofOthers: number;
  /** s. */
  factor: number;
}

/** Best shares lost, with `leaks` of the unknown rows taken for leaks: one root on the axis of log odds. */
function lossOf({ knownLeaks, knownOthers, unknowns }: ReasonRows, leaks: number, odds: number): Loss {
  const others = unknowns - leaks;
  const factor = knownOthers === 0 ? 1 : (knownOthers + others) / knownOthers;
  const share = (log: number): number => 1 / (1 + Math.exp(-log));
  if (odds === Infinity) return { ofLeaks: share(Math.log(unknowns / knownLeaks)), ofOthers: 0, factor: 1 };
  const logOdds = Math.log(odds);
  const slope = (x: number): number =>
    leaks - (knownLeaks + leaks) * share(x + logOdds) + others - (knownOthers + others) * share(x);
  const far = 50 + Math.abs(logOdds);
  const x = findRoot(slope, -far, far, { absolute: 1e-14 }).root;
  return { ofLeaks: share(x + logOdds), ofOthers: share(x), factor };
}

function weigh(
  rows: ReasonRows,
  fits: readonly LifeFit[],
  loss: Loss,
): { weights: Float64Array[]; leaks: number; logLikelihood: number } {
  const weights = fits.map(({ model }) => {
    const law = lawOf(model);
    return rows.unknownAge.map((age) => loss.ofLeaks * Math.exp(law.logHazard(model, age)));
  });
  // The survival part of each fit counts the unknown as sound; its leaks are the known ones, so hazards are added to it.
  let logLikelihood = knownPart(rows, fits, loss);
  let leaks = 0;
  for (let u = 0; u < rows.unknownAge.length; u++) {
    const other = loss.ofOthers * loss.factor * floatAt(rows.otherHazard, u);
    const leak = weights.reduce((total, one) => total + floatAt(one, u), 0);
    const count = floatAt(rows.unknownCount, u);
    for (const one of weights) one[u] = floatAt(one, u) / (leak + other);
    leaks += (count * leak) / (leak + other);
    logLikelihood += count * Math.log(leak + other);
  }
  return { weights, leaks, logLikelihood };
}

/** Known rows, and the survival of all. Each fit's own likelihood counts its weighted leaks too: their hazards are taken off again. */
function knownPart(rows: ReasonRows, fits: readonly LifeFit[], { ofLeaks, ofOthers, factor }: Loss): number {
  let total = rows.knownLeaks * Math.log1p(-ofLeaks);
  if (rows.knownOthers > 0) {
    total += rows.knownOthers * (Math.log1p(-ofOthers) + Math.log(factor) - factor);
  }
  for (const { model, logLikelihood, sample } of fits) {
    const law = lawOf(model);
    const n = rows.sample.lower.length;
    total += logLikelihood;
    rows.unknownAge.forEach((age, u) => {
      total -= floatAt(sample.count, n + u) * law.logHazard(model, age);
    });
  }
  return total;
}

function largestMove(one: Float64Array, other: Float64Array): number {
  return one.reduce((most, value, i) => Math.max(most, Math.abs(value - at(other, i))), 0);
}
