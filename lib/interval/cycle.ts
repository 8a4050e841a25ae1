/**
 * One diaphragm's cycle up to a replacement age T, for every draw of a posterior (METHODS 4.2).
 *
 * With fitting faults, survival is S(t) = [1 - p Fe(t)] Sw(t) exp(-w t), where Fe is the early-leak law of a faulty
 * fitting, p its share, Sw the wear-out survival and w the rate of openings for other work, which renew the
 * diaphragm. A cycle to age T holds
 *
 *     uptime    A(T) = integral of S from 0 to T
 *     early     E(T) = integral of p fe Sw exp(-w t)              chance that it ends by an early leak
 *     wear      W(T) = integral of (1 - p Fe) fw exp(-w t)        chance that it ends by a wear-out leak
 *     opened    w A(T)
 *     survival  S(T)                                              chance that it is replaced at T
 *
 * and the last four add up to 1, which is how W is found.
 */
import type { FittingFault } from '../life/model.js';
import type { LifeDraws } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';
import { cycleAges } from './cycleAges.js';
import {
  addPanel,
  GAUSS,
  hazardRatios,
  LOBATTO,
  type PanelRule,
  type Progress,
  panelOf,
  survivalsOf,
} from './panel.js';

/** Columns over the draws: what a cycle to one age holds. */
export interface CycleParts {
  /** Days, or Infinity where the diaphragm is left until it leaks. */
  age: number;
  survival: Float64Array;
  uptime: Float64Array;
  early: Float64Array;
  openingsPerDay: number;
}

/** Chance that the cycle of draw d ends by a wear-out leak: what survival, openings and early leaks leave of 1. */
export function wearShare({ survival, uptime, early, openingsPerDay }: CycleParts, d: number): number {
  // An uptime without end has no openings either where there are none at all.
  const opened = openingsPerDay === 0 ? 0 : openingsPerDay * floatAt(uptime, d);
  return Math.max(0, 1 - floatAt(survival, d) - opened - floatAt(early, d));
}

/** Rates of leaking at an age, per day, over the draws. */
export interface LeakRates {
  early: Float64Array;
  wear: Float64Array;
}

export interface Cycle {
  /** Number of draws. */
  readonly count: number;
  readonly openingsPerDay: number;
  /** Relative width at which searches on this cycle may stop. */
  readonly tolerance: number;
  /** Ages at which everything is at hand, increasing; every draw is used up at the last. */
  readonly ages: Float64Array;
  /** Parts at ages[i]; i = ages.length - 1 stands for a cycle without a replacement. */
  onGrid(i: number): CycleParts;
  /** Parts at any age above 0, Infinity included. */
  partsAt(age: number): CycleParts;
  leakRatesAt(age: number): LeakRates;
}

export interface CycleOptions {
  /** Openings for other work per position and day; 0 by default. */
  openingsPerDay?: number;
  /** True for one known model: as good as exact. False (default) keeps 1e-6 of uptime and serves posteriors. */
  exact?: boolean;
}

/** Cycles of Weibull wear-out with fitting faults. Trusts its draws: shapes and scales above 0, shares from 0 to 1. */
export function weibullCycle(
  draws: LifeDraws,
  { openingsPerDay = 0, exact = false }: CycleOptions = {},
): Cycle {
  const rule = exact ? GAUSS : LOBATTO;
  const ages = cycleAges(draws, openingsPerDay);
  const logScales = draws.scale.map((scale) => Math.log(scale));
  const table = tabulated(draws, logScales, openingsPerDay, ages, rule);
  const count = draws.shape.length;
  const last = ages.length - 1;

  const onGrid = (i: number): CycleParts => {
    const slice = (column: Float64Array): Float64Array => column.subarray(i * count, (i + 1) * count);
    const survival = i === last ? new Float64Array(count) : slice(table.survival);
    return {
      age: floatAt(ages, i),
      survival,
      uptime: slice(table.uptime),
      early: slice(table.early),
      openingsPerDay,
    };
  };
  const progressAt = progressesOf(draws, logScales);
  const partsAt = (age: number): CycleParts => {
    if (age >= floatAt(ages, last)) return { ...onGrid(last), age };
    const below = lowerIndex(ages, age);
    const progress = below < 0 ? startAt(draws, logScales, age) : progressAt(onGrid(below));
    if (below >= 0 && age > floatAt(ages, below)) {
      const from = floatAt(ages, below);
      const ratios = hazardRatios(draws.shape, Math.log(age / from), rule);
      addPanel(panelOf(draws, openingsPerDay, from, age, rule), draws.share, ratios, progress);
    }
    const survival = survivalAt(progress.alive, draws, openingsPerDay, age);
    return { age, survival, uptime: progress.uptime, early: progress.early, openingsPerDay };
  };
  const leakRatesAt = (age: number): LeakRates => leakRatesOf(draws, logScales, age);
  return { count, openingsPerDay, tolerance: exact ? 1e-14 : 1e-6, ages, onGrid, partsAt, leakRatesAt };
}

/** A single known Weibull as draws. */
export function singleDraw(shape: number, scale: number, fault?: FittingFault): LifeDraws {
  return {
    shape: Float64Array.of(shape),
    scale: Float64Array.of(scale),
    share: Float64Array.of(fault?.share ?? 0),
    faultShape: fault?.shape ?? 1,
    faultScale: fault?.scale ?? scale,
  };
}

/** Largest index whose age is not above `age`, or -1. */
export function lowerIndex(ages: Float64Array, age: number): number {
  let low = -1;
  let high = ages.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (floatAt(ages, middle) <= age) low = middle;
    else high = middle;
  }
  return low;
}

interface Table {
  survival: Float64Array;
  uptime: Float64Array;
  early: Float64Array;
}

/** Survival, uptime and early leaks at every grid age and draw, age by age. */
function tabulated(
  draws: LifeDraws,
  logScales: Float64Array,
  openings: number,
  ages: Float64Array,
  rule: PanelRule,
): Table {
  const count = draws.shape.length;
  const size = ages.length * count;
  const table = {
    survival: new Float64Array(size),
    uptime: new Float64Array(size),
    early: new Float64Array(size),
  };
  const progress = startAt(draws, logScales, floatAt(ages, 0));
  let width = 0;
  let ratios: Float64Array[] = [];
  for (let i = 0; i < ages.length; i++) {
    const age = floatAt(ages, i);
    if (i > 0) {
      const next = Math.log(age / floatAt(ages, i - 1));
      if (Math.abs(next - width) > 1e-12 * next) ratios = hazardRatios(draws.shape, next, rule);
      width = next;
      addPanel(panelOf(draws, openings, floatAt(ages, i - 1), age, rule), draws.share, ratios, progress);
      renewTiny(progress.hazard, draws, logScales, floatAt(ages, i - 1), age);
    }
    table.survival.set(survivalAt(progress.alive, draws, openings, age), i * count);
    table.uptime.set(progress.uptime, i * count);
    table.early.set(progress.early, i * count);
  }
  return table;
}

/** Log of a hazard that is next to too small for a number. */
const TINY = -690;

/** A hazard that was too small for a number at one age, as of shapes above 25 at the first ones, cannot grow by multiplying: it is worked out anew. */
function renewTiny(
  hazard: Float64Array,
  { shape }: LifeDraws,
  logScales: Float64Array,
  before: number,
  age: number,
): void {
  const [logBefore, logAge] = [Math.log(before), Math.log(age)];
  for (let d = 0; d < hazard.length; d++) {
    const [steepness, logScale] = [floatAt(shape, d), floatAt(logScales, d)];
    if (steepness * (logBefore - logScale) < TINY) hazard[d] = Math.exp(steepness * (logAge - logScale));
  }
}

/** Below the first grid age nothing has worn out: uptime is the age itself, early leaks are those of new faults. */
function startAt(draws: LifeDraws, logScales: Float64Array, age: number): Progress {
  const leaked = faultLeaked(draws, age);
  const hazard = hazardsAt(draws, logScales, age);
  return {
    hazard,
    alive: survivalsOf(hazard),
    scratch: new Float64Array(hazard.length),
    uptime: new Float64Array(draws.shape.length).fill(age),
    early: draws.share.map((share) => share * leaked),
  };
}

/**
 * Where the draws stand at an age of the grid, as columns that may be written to. A search asks for one such age many
 * times over, so that the hazards of the last one are kept.
 */
function progressesOf(draws: LifeDraws, logScales: Float64Array): (parts: CycleParts) => Progress {
  let kept: Pick<Progress, 'hazard' | 'alive'> & { age: number } = {
    age: Number.NaN,
    hazard: new Float64Array(0),
    alive: new Float64Array(0),
  };
  return ({ age, uptime, early }) => {
    if (age !== kept.age) {
      const hazard = hazardsAt(draws, logScales, age);
      kept = { age, hazard, alive: survivalsOf(hazard) };
    }
    return {
      hazard: kept.hazard.slice(),
      alive: kept.alive.slice(),
      scratch: new Float64Array(kept.hazard.length),
      uptime: uptime.slice(),
      early: early.slice(),
    };
  };
}

/** Wear-out cumulative hazards at an age. */
function hazardsAt(draws: LifeDraws, logScales: Float64Array, age: number): Float64Array {
  const logAge = Math.log(age);
  const hazards = new Float64Array(logScales.length);
  for (let d = 0; d < hazards.length; d++) {
    hazards[d] = Math.exp(floatAt(draws.shape, d) * (logAge - floatAt(logScales, d)));
  }
  return hazards;
}

function survivalAt(
  unwornShare: Float64Array,
  draws: LifeDraws,
  openings: number,
  age: number,
): Float64Array {
  const leaked = faultLeaked(draws, age);
  const unopened = Math.exp(-openings * age);
  const survival = new Float64Array(unwornShare.length);
  for (let d = 0; d < survival.length; d++) {
    survival[d] = unopened * floatAt(unwornShare, d) * (1 - floatAt(draws.share, d) * leaked);
  }
  return survival;
}

/** Share of faulty fittings that have leaked by an age. */
function faultLeaked({ faultShape, faultScale }: LifeDraws, age: number): number {
  return -Math.expm1(-((age / faultScale) ** faultShape));
}

function leakRatesOf(draws: LifeDraws, logScales: Float64Array, age: number): LeakRates {
  const hazard = (age / draws.faultScale) ** draws.faultShape;
  const unleaked = Math.exp(-hazard);
  const density = (draws.faultShape * hazard * unleaked) / age;
  const wear = hazardsAt(draws, logScales, age);
  const early = new Float64Array(wear.length);
  for (let d = 0; d < wear.length; d++) {
    const share = floatAt(draws.share, d);
    early[d] = (share * density) / (1 - share * (1 - unleaked));
    wear[d] = (floatAt(draws.shape, d) * floatAt(wear, d)) / age;
  }
  return { early, wear };
}
