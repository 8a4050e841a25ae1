/** Fitting faults beside wear-out, with both laws and the share of faulty fittings from the data (METHODS 3.1). */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, itemAt } from '../../numeric/columns.js';
import { whyShapeNotEstimable } from '../estimate/estimable.js';
import { earlyLeaks } from '../estimate/fitFault.js';
import {
  DEFAULT_FAULT_LAW,
  EARLY_DAYS,
  EARLY_LEAKS_NEEDED,
  FAULT_SHARE_PRIOR,
  type Parameter,
} from '../estimate/fitTypes.js';
import { LARGEST_PART_SHAPE } from '../estimate/mixture/fitMixture.js';
import { maximiseWeibull } from '../estimate/weibull/maximiseWeibull.js';
import { type PreparedRows, prepareShares } from '../estimate/weibull/prepareRows.js';
import { evaluator, prepareRows } from '../estimate/weibull/weibullLikelihood.js';
import { mergeSample } from '../mergeSample.js';
import type { WeibullModel } from '../model.js';
import { failureCount, isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { earlyChance, type FaultLaws, type Law, splitFaults } from './faultSplit.js';
import { faultWarnings } from './faultWarnings.js';
import { climbToSummit, type Summit } from './summit.js';

export interface FaultFitOptions {
  /** Holds the law of early leaks: from other plants, say. Scale in days. */
  early?: Law;
}

export interface FaultFit {
  /** Wear-out, with the fitting faults as its `fault`. */
  model: WeibullModel;
  /** At the model, without any prior. */
  logLikelihood: number;
  /** logShape, logScale, logShare, and logFaultShape and logFaultScale where they were estimated. */
  parameters: Parameter[];
  /** Covariance of `parameters`, row by row; empty where the likelihood has no bend there (said in the warnings). */
  covariance: number[];
  /** Leaks before 60 days. */
  earlyLeaks: number;
  /** Whether the data say the share: five or more leaks before 60 days. Else it rests on the prior, and the law is held. */
  identified: boolean;
  /** For each row of the sample: the chance that its leak was early; 0 for a life still sound. */
  earlyChance: Float64Array;
  /** Log-likelihood (with the prior of the share, where it was used) before the first round and after each. It never falls. */
  trace: Float64Array;
  converged: boolean;
  reason: string;
  warnings: Warning[];
}

/** Rounds for each start, rounds from the best of them, and the gains below which they end. */
const FIRST_ROUNDS = 25;
const MOST_ROUNDS = 200;
const ROUGHLY_SETTLED = 1e-2;
const SETTLED = 1e-7;
/** Early laws from which the search starts. */
const STARTS: readonly Law[] = [DEFAULT_FAULT_LAW, { shape: 0.7, scale: 30 }, { shape: 1.5, scale: 5 }];

/**
 * Fits survival S(t) = [1 - p Fe(t)] Sw(t): each fitting is faulty with chance p, a faulty one leaks early at an age of law Fe, and
 * any one wears out at an age of law Fw, both Weibull (Chan & Meeker 1999, from memory). Ages are days, of any kind of
 * row; give whole days as intervals.
 *
 * By expectation and maximisation (Dempster, Laird & Rubin 1977, from memory): each leak is split into early and worn out by the
 * chance of each at its age, then share and laws are fitted to what was split, in turn, which never lowers the likelihood; from
 * several starts; the last digits by Newton steps. Lives watched from a later age on stand for those that leaked before it.
 *
 * A law of early leaks that shrinks onto one age (several leaks of exactly one) has a likelihood without limit: such an end is
 * dropped, and where every start ends so, the law is held at its default and the share still taken from the data.
 *
 * The share is taken from the data with five or more leaks before 60 days. With fewer it is joined by its prior (median 0.01,
 * 95 % within 0.001 to 0.05), and the law of early leaks is held at `early` or its default; the warnings say so.
 *
 * @throws UsageError where the wear-out cannot be estimated: no leaks, or none that tell its shape
 */
export function fitFittingFaults(sample: LifeSample, options: FaultFitOptions = {}): FaultFit {
  const { early: held } = options;
  if (held !== undefined && !(held.shape > 0 && held.scale > 0)) {
    throw new UsageError(
      'fitFittingFaults',
      'early needs a shape and a scale above 0.',
      JSON.stringify(held),
    );
  }
  if (sample.otherHazard !== undefined) {
    throw new UsageError('fitFittingFaults', 'each leak must be known to be one; see fitUnknownReasons.');
  }
  const why = whyShapeNotEstimable(sample);
  if (why !== null) throw new UsageError('fitFittingFaults', `the shape cannot be estimated: ${why}.`);
  const rows = mergeSample(sample);
  const seen = earlyLeaks(rows);
  const setting: Setting = {
    rows,
    identified: seen >= EARLY_LEAKS_NEEDED,
    lawMoves: seen >= EARLY_LEAKS_NEEDED && held === undefined,
    shrank: false,
  };
  const found = bestEnd(setting, setting.lawMoves ? STARTS : [held ?? DEFAULT_FAULT_LAW]);
  if (found !== null) return resultOf(sample, setting, found, seen);
  const still = { ...setting, lawMoves: false, shrank: true };
  return resultOf(sample, still, bestEnd(still, [DEFAULT_FAULT_LAW]) as Rounds, seen);
}

/** The end of the best start from which the law of early leaks does not shrink onto one age; null where there is none. */
function bestEnd(setting: Setting, starts: readonly Law[]): Rounds | null {
  const ends = starts
    .map((early) => rounds(setting, startAt(setting.rows, early), FIRST_ROUNDS, ROUGHLY_SETTLED))
    .sort((one, other) => Number(worthOf(other) > worthOf(one)) - Number(worthOf(one) > worthOf(other)));
  for (const end of ends) {
    if (end.shrank) continue;
    const more = rounds(setting, end.laws, MOST_ROUNDS, SETTLED);
    if (!more.shrank) return { ...more, trace: [...end.trace, ...more.trace.slice(1)] };
  }
  return null;
}

interface Setting {
  rows: LifeSample;
  /** The share comes from the data alone. */
  identified: boolean;
  /** The law of early leaks is estimated. */
  lawMoves: boolean;
  /** It shrank onto one age when it was, and is held for that. */
  shrank: boolean;
}

interface Rounds {
  laws: FaultLaws;
  trace: number[];
  /** The law of early leaks shrinks onto one age, where the likelihood has no limit (as in `fitMixture`). */
  shrank: boolean;
}

/** The end of the trace; a law of early leaks that comes later than wear-out is none. */
function worthOf({ laws, trace, shrank }: Rounds): number {
  return isApart(laws) && !shrank ? itemAt(trace, trace.length - 1) : Number.NEGATIVE_INFINITY;
}

function isApart({ early, wear }: FaultLaws): boolean {
  return median(early) < median(wear);
}

function median({ shape, scale }: Law): number {
  return scale * Math.LN2 ** (1 / shape);
}

/** Wear-out as if all early leaks were faulty fittings, where enough others are left to tell. */
function startAt(rows: LifeSample, early: Law): FaultLaws {
  const young = (i: number): boolean => isFailure(rows, i) && at(rows.upper, i) <= EARLY_DAYS;
  const old: LifeSample = { ...rows, upper: rows.upper.map((age, i) => (young(i) ? Infinity : age)) };
  const from = failureCount(old) > 0 && whyShapeNotEstimable(old) === null ? old : rows;
  const { shape, scale } = maximiseWeibull(prepareRows(from));
  const lives = rows.count.reduce((total, count) => total + count, 0);
  const share = Math.max(0.5, earlyLeaks(rows)) / (lives + 1);
  return { share: Math.min(0.5, share), early, wear: { shape, scale } };
}

/** Splits and fits in turn until the likelihood rises no more. */
function rounds(setting: Setting, start: FaultLaws, most: number, settledAt: number): Rounds {
  let laws = start;
  const trace = [targetOf(setting, laws)];
  for (let round = 0; round < most; round++) {
    const next = nextLaws(setting, laws);
    if (next === null) return { laws, trace, shrank: true };
    laws = next;
    const value = targetOf(setting, laws);
    trace.push(value);
    if (value - itemAt(trace, trace.length - 2) < settledAt) break;
  }
  return { laws, trace, shrank: false };
}

/** Null where the best law of early leaks has shrunk onto one age. */
function nextLaws({ rows, identified, lawMoves }: Setting, laws: FaultLaws): FaultLaws | null {
  const split = splitFaults(rows, laws);
  const early = lawMoves ? weibullOf(split.early, laws.early) : laws.early;
  if (early === null || early.shape > LARGEST_PART_SHAPE) return null;
  const wear = weibullOf(split.wear, laws.wear) ?? laws.wear;
  return { share: shareFrom(split.faulty, split.lives, identified), early, wear };
}

/** The best law of weighted rows; the law before where that is higher; null where the likelihood rises with the shape without end. */
function weibullOf(sample: LifeSample, before: Law): Law | null {
  const rows = prepareRows(sample);
  const near = maximiseWeibull(rows, { start: before });
  const top = near.converged ? near : maximiseWeibull(rows);
  if (!top.converged && top.shape > LARGEST_PART_SHAPE) return null;
  const rises = evaluator(rows)(top.shape, top.scale) >= evaluator(rows)(before.shape, before.scale);
  return top.converged && rises ? { shape: top.shape, scale: top.scale } : before;
}

/** Faulty over all; with the prior the root of (F - N p) / (1 - p) - (log p - log median) / sd² by Newton steps on log p. */
function shareFrom(faulty: number, lives: number, identified: boolean): number {
  if (identified) return Math.min(faulty / lives, 1 - 1e-9);
  const { median: middle, sdLog } = FAULT_SHARE_PRIOR;
  let s = Math.log(Math.max(faulty / lives, 1e-6));
  for (let turn = 0; turn < 100; turn++) {
    const p = Math.exp(s);
    const slope = (faulty - lives * p) / (1 - p) - (s - Math.log(middle)) / sdLog ** 2;
    const bend = ((faulty - lives) * p) / (1 - p) ** 2 - 1 / sdLog ** 2;
    const next = Math.min(s - Math.max(-2, Math.min(2, slope / bend)), Math.log(0.99));
    if (Math.abs(next - s) < 1e-14 * Math.abs(s)) break;
    s = next;
  }
  return Math.exp(s);
}

function targetOf(setting: Setting, laws: FaultLaws): number {
  return likelihoodOf(setting.rows, laws) - penaltyOf(setting, laws.share);
}

function likelihoodOf(rows: LifeSample, { share, early, wear }: FaultLaws): number {
  return evaluator(prepareRows(rows, { share, ...early }))(wear.shape, wear.scale);
}

function penaltyOf({ identified }: Setting, share: number): number {
  const off = (Math.log(share) - Math.log(FAULT_SHARE_PRIOR.median)) / FAULT_SHARE_PRIOR.sdLog;
  return identified ? 0 : (off * off) / 2;
}

/** The same as `likelihoodOf`, for many laws close together: rows are made ready once for each law of early leaks. */
function likelihoodKept(rows: LifeSample): (laws: FaultLaws) => number {
  const ready = new Map<string, (share: number) => PreparedRows>();
  return ({ share, early, wear }) => {
    const key = `${early.shape}/${early.scale}`;
    const prepare = ready.get(key) ?? prepareShares(rows, early);
    ready.set(key, prepare);
    return evaluator(prepare(share))(wear.shape, wear.scale);
  };
}

function pointOf({ share, early, wear }: FaultLaws, lawMoves: boolean): number[] {
  const values = [wear.shape, wear.scale, share, early.shape, early.scale].map(Math.log);
  return lawMoves ? values : values.slice(0, 3);
}

function lawsAt(x: readonly number[], held: Law): FaultLaws {
  const value = x.map(Math.exp);
  return {
    wear: { shape: at(value, 0), scale: at(value, 1) },
    share: at(value, 2),
    early: x.length > 3 ? { shape: at(value, 3), scale: at(value, 4) } : held,
  };
}

/** Newton steps from where the rounds ended; null where the likelihood is no hill there, or the steps lead elsewhere. */
function summitOf(setting: Setting, laws: FaultLaws): Summit | null {
  const likelihood = likelihoodKept(setting.rows);
  const target = (x: readonly number[]): number => {
    if (at(x, 2) >= 0) return Number.NEGATIVE_INFINITY;
    const here = lawsAt(x, laws.early);
    return likelihood(here) - penaltyOf(setting, here.share);
  };
  const split = splitFaults(setting.rows, laws);
  const unit = 1 / Math.sqrt(Math.max(1, failureCount(split.wear)));
  const units = [unit, unit / Math.max(laws.wear.shape, 0.5), 0.3, 0.3, 0.3];
  const start = pointOf(laws, setting.lawMoves);
  const top = climbToSummit(target, start, units.slice(0, start.length));
  const near = top.at.every((value, i) => Math.abs(value - at(start, i)) < 0.5);
  return top.converged && near ? top : null;
}

const NAMES = ['logShape', 'logScale', 'logShare', 'logFaultShape', 'logFaultScale'];

function resultOf(sample: LifeSample, setting: Setting, found: Rounds, seen: number): FaultFit {
  const summit = summitOf(setting, found.laws);
  const laws = summit === null ? found.laws : lawsAt(summit.at, found.laws.early);
  const x = pointOf(laws, setting.lawMoves);
  const { share, early, wear } = laws;
  return {
    model: { kind: 'weibull', ...wear, fault: { share, ...early } },
    logLikelihood: likelihoodOf(setting.rows, laws),
    parameters: x.map((estimate, i) => ({
      name: itemAt(NAMES, i),
      estimate,
      standardError:
        summit === null ? Number.POSITIVE_INFINITY : Math.sqrt(at(summit.covariance, i * (x.length + 1))),
    })),
    covariance: summit?.covariance ?? [],
    earlyLeaks: seen,
    identified: setting.identified,
    earlyChance: sample.lower.map((_, i) => earlyChance(sample, i, laws)),
    trace: Float64Array.from(found.trace),
    converged: summit !== null,
    reason: summit === null ? 'the likelihood has no bend there' : summit.reason,
    warnings: faultWarnings({
      share,
      identified: setting.identified,
      early,
      apart: isApart(laws),
      bent: summit !== null,
      shrank: setting.shrank,
    }),
  };
}
