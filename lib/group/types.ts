/** Median and equal-tailed bounds of joint posterior draws, at the level of the group. */
export interface Drawn {
  low: number;
  median: number;
  high: number;
}

/**
 * What a group is planned on: the posterior that rests on its own lives and on those of groups alike. `b10` is the age, days,
 * by which 10 % have leaked, early leaks included.
 */
export interface PlannedLife {
  shape: Drawn;
  /** Days. */
  scale: Drawn;
  b10: Drawn;
}

/** A removal without a reason, and what knowing the reason would do. */
export interface UnknownRemoval {
  /** Index into Fleet.positions. */
  position: number;
  /** Age at removal, days. */
  age: number;
  removed: Day;
  /** Chance with which it counts as a leak. */
  chance: number;
  /** Age by which 10 % have leaked if it was a leak, less the same if it was not; days, to first order. */
  effect: number;
}

/**
 * What would follow if removals without a reason had been leaks less or more often than others near their age (METHODS 3.4).
 */
export interface UnknownSensitivity {
  removals: number;
  /** Leaks that they count as at k = 1. */
  leaks: number;
  /** Factors on the odds of being a leak: 0 (none was), 0.5, 1 (as the plan takes it), 2 and Infinity (every one was). */
  k: readonly number[];
  /** Age, days, by which 10 % have leaked by the group's own leaks at each k; null where under one wear-out leak is left. */
  b10: (number | null)[];
  /** Whether those ages part by more than 5 % from the one at k = 1. */
  parts: boolean;
  /** Where they part: up to 20 removals whose reason matters most. */
  rows: UnknownRemoval[];
}

import type { Warning } from '../findings.js';
/** A group: lives of one material in one size (and one duty, where the history shows that duties differ). */
import type { SpreadWeights } from '../life/estimate/pooling/spreadWeights.js';
import type { FittingFault, WeibullModel } from '../life/model.js';
import type { LifeDraws, LifeSample } from '../life/sampleTypes.js';
import type { Day } from '../numeric/day.js';
import type { FollowedLives } from './standOut/followed.js';
import type { WearCounter } from './wear/types.js';

export interface Group {
  /** 'EPDM DN 25' or 'EPDM DN 25, bioreactor'. */
  name: string;
  material: string;
  size: number;
  /** The duty, or null where the group covers every duty. */
  duty: string | null;
  /**
   * Where a clock other than days wears the group: the part of it that this is. Its law rests on the lives of the whole group, counted
   * on the clock and told in days of this use; lives and leaks are those of the whole. Left out elsewhere.
   */
  use?: GroupUse;
  /** Lives in the fit (rows, not weights). */
  lives: number;
  /** Leaks in the fit: whole ones plus the weights of unknown reasons. */
  failures: number;
  /** Recorded leaks younger than 60 days. */
  earlyLeaks: number;
  /** Leaks that tell of wear-out: 60 days or older and not known to be faulty fittings, weights of unknown reasons included. */
  wearLeaks: number;
  /** The same over all groups of the material. Under 1, nothing but the assumed prior says how the material wears out. */
  materialWearLeaks: number;
  /** Indices into Fleet.positions of the positions that hold this group's diaphragm now or would be refitted with it. */
  positions: number[];
  sample: LifeSample;
  /** What `model` was fitted to, for asking whether it is the right law; null where the group has no fit of its own. */
  records: WearRecords | null;
  /**
   * What the group's own leaks say: maximum likelihood from 5 wear-out leaks on. With fewer there is no such fit, and this is
   * the posterior median of each parameter, as in `planned`.
   */
  model: WeibullModel;
  /** Of `model`, by `method`. */
  bounds: { shape: [number, number]; scale: [number, number]; share: [number, number] };
  /** Two-sided level of the bounds, 0.9. */
  level: number;
  /** Of `model`: 'likelihood' (own leaks alone) or 'posterior' (too few of them, so as planned). */
  method: 'likelihood' | 'posterior';
  /** Age, days, by which 10 % have leaked, early leaks included: low, at `model`, high, by `method`. */
  b10: [low: number, estimate: number, high: number];
  /** Summary of `draws`: what intervals, demand and cost rest on. */
  planned: PlannedLife;
  /** Largest age, days, up to which the data support a statement; null where there is none. */
  supportedAge: number | null;
  /** Share of what the draws know of the scale that came from other groups, 0 to 1. */
  borrowed: number;
  /**
   * By how much the log-likelihood is flattened because lives of one position are alike and because too few reasons are
   * known to say what else ended lives; 1 where neither matters.
   */
  inflation: number;
  /** Null where every reason is known. */
  unknown: UnknownSensitivity | null;
  /** Null unless the site asks for damage: how soon diaphragms are damaged. Shown, never priced. */
  damage: DamageLife | null;
  /** Joint posterior: draw d belongs together over all groups of a plan. */
  draws: LifeDraws;
  /** What the draws weigh under other priors of the spread between groups. */
  otherSpreads: SpreadWeights[];
  warnings: Warning[];
  /** The practised schedule, as read from the history. */
  today: PractisedSchedule;
  /** Openings for other work per position and year. */
  openingsPerYear: number;
}

/** Positions of a group that are used about alike, where a counter wears it. */
export interface GroupUse {
  /** The whole group. */
  of: string;
  /** 'steam cycles', or 'days and steam cycles'. */
  clock: string;
  /** Counts a day at which days of this group are counted: of a clock with days in it, days and weighted counts. */
  perDay: number;
  /** Days that one count is worth, of a clock with days in it; null otherwise. */
  weight: number | null;
  /** Counter's own rates a day of its least and its most used position. */
  counter: WearCounter;
  rates: [number, number];
}

/** The records behind a fit of a group's own. */
export interface WearRecords {
  /** One row a life: known fitting faults censored, removals of unknown reason beside all else that may have ended them. */
  sample: LifeSample;
  /** The part of the fitting faults that no finding gives away: held in the fit. */
  fault: FittingFault;
  /** Age, days, of each life on the day the records close, or that it would have had. */
  closing: Float64Array;
}

/**
 * How soon the diaphragms of a group are damaged, by what was found at removals (event `damage`, METHODS 1.3). A damaged
 * diaphragm has not leaked: no interval, demand or cost rests on this.
 */
export interface DamageLife {
  /** Removals found damaged that had not leaked, and those of unknown reason found damaged. */
  damaged: number;
  /** Removals found sound or worn. */
  sound: number;
  /** Leaks, those of faulty fittings left out. */
  leaks: number;
  /** Removals whose finding is not known: they say at most that there was no leak. */
  notLookedAt: number;
  /** Null where nothing was found damaged. */
  life: {
    /** Weibull of the age at damage, days. */
    shape: Drawn;
    scale: Drawn;
    /** Mean time from damage to leak, days. */
    delay: Drawn;
    /** Share damaged by each age, days. */
    ages: number[];
    share: Drawn[];
  } | null;
}

/** What the plant does today, read from the ages of scheduled removals. */
export interface PractisedSchedule {
  /** Median age at scheduled removal, days; null = no schedule seen (run until it leaks). */
  days: number | null;
  scheduledRemovals: number;
  /** Tenth and ninetieth percentile of those ages. */
  range: [number, number] | null;
  /** Share of lives that got older than 1.1 times the practised age. */
  exceededShare: number;
}

/** Where every running diaphragm stands: one per position in service at `Site.dataUntil`. */
export interface RunningLife {
  position: number;
  /** Index into the groups of what is fitted now. */
  groupNow: number;
  /** Index into the groups of what will be fitted next. */
  groupNext: number;
  fitted: Day | null;
  /** Ages in days (of a group with `use`: its count in days of that use) with chances that add up to 1: one entry where the fitting day is known (METHODS 1.6). */
  ages: { age: number; chance: number }[];
  /** Of a group with `use`: how many of its days pass in a day at this position; left out elsewhere. */
  pace?: number;
}

export interface GroupedFleet {
  groups: Group[];
  running: RunningLife[];
  /** Why groups were or were not split by duty, and how fitting faults were found; for the engineer. */
  notes: string[];
  /** Expected number of leaks among the removals without a reason, which no record names. */
  leaksWithoutReason: number;
  /** The lives in the fits, one row a life: what stands out is counted from them. */
  followed: FollowedLives;
  warnings: Warning[];
}
