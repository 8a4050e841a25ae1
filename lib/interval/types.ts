/** Replacement intervals per group, and the work list per shutdown. */

import type { Warning } from '../findings.js';
import type { Criticality } from '../fleet/types.js';
import type { BeyondCalendar } from './beyondCalendar.js';
import type { ShortOf } from './capacity.js';
import type { LimitKind } from './fleetPlan/types.js';
import type { ExtraWindow } from './oneMoreWindow.js';
import type { OnClock } from './wear/types.js';

/** Cost rate over ages, for drawing. Columns of equal length; amounts per position and year. */
export interface CostCurve {
  ageDays: number[];
  /** Posterior mean: what the plan is made on. */
  mean: number[];
  /** 5th and 95th percentile over the posterior. */
  low: number[];
  high: number[];
  /** Part of the mean that early leaks of faulty fittings cost. */
  early: number[];
}

/** One interval beside the kept one, with its cost per position and year: mean, and 5th to 95th percentile. */
export interface AroundPoint {
  factor: number;
  days: number;
  costPerYear: number;
  costRange: [number, number];
}

/** One policy of a group: what it costs and how many leaks and replacements it makes, per position and year. */
export interface PolicyFigures {
  /**
   * 'advised' and 'today' replace at an age, 'run' at a leak only; 'block' and 'best block' replace at fixed dates whatever
   * the age, and at every leak or opening between.
   */
  policy: 'advised' | 'today' | 'run' | 'block' | 'best block';
  /** Interval; null = run until it leaks. */
  days: number | null;
  /** Posterior mean, and 5th to 95th percentile. */
  costPerYear: number;
  costRange: [number, number];
  leaksPerYear: number;
  /** Every diaphragm fitted, after a leak or an opening too. */
  replacementsPerYear: number;
}

/** The advised interval under another prior of the spread between groups. */
export interface OtherSpread {
  /** Scale of that prior, for the standard deviation of log scale between groups; that of the plan is 0.5. */
  spread: number;
  /** What the interval then costs above the least, as a share of it; null where too few draws are left to tell. */
  aboveLeast: number | null;
}

export interface IntervalAdvice {
  group: string;
  material: string;
  size: number;
  duty: string | null;
  /** Where a clock other than days wears the group; left out elsewhere. */
  onClock?: OnClock;
  action: 'replace' | 'keep' | 'run';
  /** Whole months of 30.4375 days, rounded to days; null with 'run', or with 'keep' where nothing is practised. */
  days: number | null;
  months: number | null;
  /**
   * Days by which windows are chosen: `days`, or so much less that a window taken late keeps within the maker's limit. A
   * window may be late by 5 % of the interval (dueRule.ts), the limit by nothing.
   */
  workDays: number | null;
  within2percent: [number, number] | null;
  within5percent: [number, number] | null;
  /** What held the interval down: "maker's limit of 730 days", 'supported age 400 days', or null. */
  cappedBy: string | null;
  /** Practised today, days; null = no schedule seen. */
  today: number | null;
  direction: 'lengthen' | 'shorten' | 'leave' | 'undecided';
  /**
   * Chance that the interval weighed costs less than today's practice; 0.5 where the two are the same. With 'keep' it is
   * the chance of the interval that was weighed and not taken.
   */
  chanceBetter: number;
  /** Per position and year, posterior mean, at the proposal and today. */
  costPerYear: number;
  costPerYearToday: number;
  /** Per position and year, 5th to 95th percentile of the posterior. */
  costRange: [number, number];
  /** Per position and year: what not knowing the life model exactly costs on average, as against each draw's own best. */
  expectedRegret: number;
  /**
   * Per position and year: mean of what the proposal costs above today's practice over the tenth of the draws in which it
   * does worst; below 0 where it saves even there.
   */
  worstTenth: number;
  /**
   * Days: where the line is down anyway, a diaphragm of this age or older is worth replacing before its interval is up. Null
   * where there is no such age.
   */
  opportunityDays: number | null;
  /** Per position and year at the proposal; replacements count every diaphragm fitted, after a leak or opening too. */
  leaksPerYear: number;
  replacementsPerYear: number;
  /** The same at today's practice. */
  leaksPerYearToday: number;
  replacementsPerYearToday: number;
  /**
   * With 'keep', why: within 2 % of the least cost already, or the records cannot tell, or prices are missing, or the
   * maker's limit is below what is practised, or no position uses the group now. With the last there is no interval, and
   * every cost and rate is 0.
   */
  keptFor: 'near least cost' | 'too few records' | 'no prices' | 'no positions' | 'maker’s limit' | null;
  /**
   * What the calendar makes of the interval: mean days between replacements at the windows of its lines, and between
   * those windows. Null without an interval or without windows.
   */
  inPractice: { days: number; windowDays: number } | null;
  /** Positions in service that will be refitted with this group's diaphragm. */
  positions: number;
  /** With 'keep': what 0.75, 1 and 1.25 times the kept interval cost per position and year; else empty. */
  around: AroundPoint[];
  /** With 'keep': about how many more leaks, and lives at today's practice, would settle it; null elsewhere. */
  settle: { leaks: number; lives: number } | null;
  /** With 'replace': the same interval under other priors of how alike groups are. */
  otherSpreads: OtherSpread[];
  /** The advised interval beside other policies; empty where no position uses the group. */
  policies: PolicyFigures[];
  curve: CostCurve;
  /** One sentence in words: why. */
  because: string;
  /** The same in under 100 characters. */
  inShort: string;
  warnings: Warning[];
}

/** What one law makes of a group's intervals; money per position and year. */
export interface UnderLaw {
  /**
   * Age of least cost, days, among those that the data support and no limit forbids; null = run until it leaks, which is looked
   * at only where it is advised.
   */
  bestDays: number | null;
  leastPerYear: number;
  /** At the advised interval. */
  costPerYear: number;
  /** What the advised interval costs above the least, as a share of it: the cost of being wrong about the law. */
  aboveLeast: number;
}

/** Whether a group's law suits its leaks, and what another law would have it do (METHODS 2.4). */
export interface GroupCheck {
  /** Of the group's own fit; under 10 leaks, or without a fit of its own, it cannot be judged. */
  verdict: 'fits' | 'does not fit' | 'cannot be judged';
  /** Leaks it is judged by: those whose finding gives a faulty fitting away are left out. */
  leaks: number;
  /** Chance of leaks as far from the law or further, if it is the right one. */
  p: number | null;
  /** The same with all groups of the plant in mind: up to 0.1 counts as a misfit. */
  adjusted: number | null;
  /** Samples drawn to find p: up to 999, fewer where it is soon clear that the law may be right. */
  resamples: number;
  /** Null under 5 wear-out leaks, or where no lognormal fits best. */
  secondOpinion: {
    kind: 'lognormal';
    /** Mean and spread of log life in days, beside the same faulty fittings as the Weibull. */
    mu: number;
    sigma: number;
    /** AIC of the Weibull less that of the lognormal: above 0 where the lognormal suits better. */
    aicDifference: number;
    /** Clearly better: by 6 or more, with 20 leaks or more. */
    preferred: boolean;
    /** Under the own fit of each law, parameters taken as known; null without prices or positions. */
    weibull: UnderLaw | null;
    lognormal: UnderLaw | null;
  } | null;
}

/** One position at one shutdown. */
export interface ShutdownTask {
  shutdown: string;
  start: string;
  position: string;
  line: string;
  /** Where in the plant; empty where positions.csv gives none. */
  location: string;
  item: string | null;
  material: string;
  size: number;
  criticality: Criticality;
  /** Age at the shutdown if nothing leaks before, days; null where the fitting day is not known. */
  ageDays: number | null;
  /** Days past its interval at that shutdown (negative: early). */
  overdueDays: number | null;
  /** Hours within the window, by craft. */
  fitterHours: number;
  instrumentHours: number;
  /** Fitter hours after start-up: re-tightening after the first steam cycle, which no window holds. */
  afterStartUpHours: number;
  /** 'replace', 're-tighten before start-up', 're-tighten after first steam cycle', 'recalibrate 2 accessories'. */
  tasks: string[];
  /** Chance that it is still there to be replaced (no leak or opening before). */
  chanceStillDue: number;
  /** False where it does not fit into the crew hours: it stays as it is until the next window. */
  fits: boolean;
  /** What it does not fit into: hours, the number of replacements or lines allowed, pieces, or it must not be touched; null where it fits. */
  shortOf: ShortOf | null;
  /**
   * Expected cost of leaving it until the line's next window, in the site's currency: leaks of what is in place less
   * those of a fresh one over the same time. Below 0 where the fresh one is the dearer; null without a next window.
   */
  costOfWaiting: number | null;
  because: string;
}

/** A position that is due and better left, because a fresh diaphragm is more likely to leak before the next window. */
export interface LeftInPlace {
  position: string;
  line: string;
  criticality: Criticality;
  because: string;
}

/** One shutdown as a whole. */
export interface ShutdownLoad {
  shutdown: string;
  start: string;
  end: string;
  lines: string[];
  crewHours: number | null;
  /** Most hours of fitters and of instrument fitters, and most replacements; null = no limit of its own. */
  fitterHours: number | null;
  instrumentHours: number | null;
  mostReplacements: number | null;
  /** Most lines that may be down at once; null = no limit. */
  mostLines: number | null;
  /** Hours within the window, all crafts: of everything that is due, and of what fits. */
  hoursNeeded: number;
  hoursPlanned: number;
  /** Fitter hours after start-up for what fits: re-tightening after the first steam cycle. */
  hoursAfterStartUp: number;
  replacements: number;
  doNotFit: number;
  leftInPlace: LeftInPlace[];
}

/** A limit that the placed positions run into. */
export interface ShutdownLimit {
  shutdown: string;
  start: string;
  /** Of the shutdown: hours, replacements, lines, or pieces of an item up to then; amounts below are of that. */
  limit: LimitKind;
  /** Of a limit on pieces; null for the others. */
  item: string | null;
  /** Hours that other work leaves, what is used of them, and what would be asked for beyond them if there were enough. */
  hoursLeft: number;
  hoursUsed: number;
  hoursShort: number;
  /**
   * What one more hour (replacement, line, piece) there would save, in the site's currency: the price of the first few hours, further ones save less.
   * Where hours are short for the intervals, a replacement past its interval counts its own cost on top. Null where
   * positions of high criticality cannot keep theirs: that counts first.
   */
  savingPerHour: number | null;
}

/**
 * How good the plan is for the positions that are placed by cost: those of groups with the answer `replace` that are not
 * judged by their chance to hold. Costs run from the day of the data to each line's last known window.
 */
export interface ShutdownOptimum {
  positions: number;
  /** Expected cost: replacements, leaks, openings, stops made for replacements. */
  cost: number;
  /** No list that keeps the intervals within the hours costs less; where some cannot be kept, none that keeps as many. */
  lowerBound: number;
  /** Most that another list could save, as a share of the cost. */
  gap: number;
  /** The same cost of the list that the due rule alone would give; it can be less where that passes more intervals. */
  byDueRule: number;
  /** Positions that get past their interval because hours are short. */
  pastInterval: number;
  limits: ShutdownLimit[];
  /** What one more window in the widest gap would save, for the two calendars with most at stake, most first; null above 2000 positions. */
  extraWindows: ExtraWindow[] | null;
  /** How full the repeated windows after the calendar would be, whose hours the plan takes as without limit. */
  beyondCalendar: BeyondCalendar;
}

export interface ShutdownPlan {
  tasks: ShutdownTask[];
  loads: ShutdownLoad[];
  /** Positions past their interval on the day of the data. */
  overdueNow: number;
  /** Name of the shutdown after which nothing is overdue, or null. */
  backlogGoneAfter: string | null;
  /** Null where nothing is placed by cost. */
  optimum: ShutdownOptimum | null;
  warnings: Warning[];
}
