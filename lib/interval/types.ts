/** Replacement intervals per group, and the work list per shutdown. */

import type { Warning } from '../findings.js';
import type { Criticality } from '../fleet/types.js';

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
  /** Per position and year at the proposal; replacements count every diaphragm fitted, after a leak or opening too. */
  leaksPerYear: number;
  replacementsPerYear: number;
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
  curve: CostCurve;
  /** One sentence in words: why. */
  because: string;
  /** The same in under 100 characters. */
  inShort: string;
  warnings: Warning[];
}

/** One position at one shutdown. */
export interface ShutdownTask {
  shutdown: string;
  start: string;
  position: string;
  line: string;
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
  limit: 'crew hours';
  /** Hours that other work leaves, what is used of them, and what would be asked for beyond them if there were enough. */
  hoursLeft: number;
  hoursUsed: number;
  hoursShort: number;
  /**
   * What one more hour there would save, in the site's currency: the price of the first few hours, further ones save less.
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
  /** No list that keeps the intervals within the hours costs less. */
  lowerBound: number;
  /** Most that another list could save, as a share of the cost. */
  gap: number;
  /** The same cost of the list that the due rule alone would give. */
  byDueRule: number;
  /** Positions that get past their interval because hours are short. */
  pastInterval: number;
  limits: ShutdownLimit[];
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
