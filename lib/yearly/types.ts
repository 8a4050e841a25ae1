/** Cost per year, today against proposed. Amounts in the site's currency. */
import type { Warning } from '../findings.js';
import type { CostOutlook } from './outlookTypes.js';

export interface YearlyCost {
  /**
   * Long-run expected cost per year, the sum of the five parts below. Positions are replaced as the calendar and the due
   * rule make it, here as in the years to come.
   */
  perYear: number;
  /** Diaphragms: for replacements on schedule, after leaks and after openings. */
  parts: number;
  /** Fitting, re-tightening and recalibration of the same. */
  labour: number;
  /** Stops made for the replacements, with re-sterilising: the whole cost of each that is held, once per line. */
  plannedStop: number;
  /** Downtime and clean-up after leaks. */
  leakDowntime: number;
  lostBatches: number;
  leaksPerYear: number;
  /** Every diaphragm fitted: on schedule, after a leak, after an opening. */
  replacementsPerYear: number;
  /** 5th to 95th percentile of `perYear` over what is not known (life models and prices). */
  low: number;
  high: number;
  /** Expected cost of the first year from the diaphragms as they stand now. */
  firstYear: number;
  /** 5th to 95th percentile of `firstYear`. */
  firstYearRange: [number, number];
  /** Stops of a line made for the replacements and held, per year in the long run. */
  stopsPerYear: number;
  /** By year from now: diaphragms fitted in all, of these on schedule, after leaks and after openings; cost. */
  years: {
    year: number;
    replacements: number;
    scheduled: number;
    leaks: number;
    opened: number;
    cost: number;
  }[];
  /** 90 % range of the number of leaks in a year by this formula (parameters and chance). */
  leaksRange: [number, number];
}

export interface CostComparison {
  today: YearlyCost;
  proposed: YearlyCost;
  saving: {
    /** Long run, per year: today minus proposed. */
    perYear: number;
    low: number;
    high: number;
    /** Chance that the proposal is cheaper. */
    chance: number;
    /** Split: cash (parts, labour), line time of planned stops, and expected loss by leaks (downtime, batches). */
    cash: number;
    plannedStop: number;
    expectedLoss: number;
    /** The first year, from the diaphragms as they stand now, with 5th and 95th percentile. */
    firstYear: { saving: number; low: number; high: number };
    /** Long-run saving if leaks are as many as recorded by name, in proportion; null without a full year on record. */
    withNamedLeaksOnly: number | null;
    /** False where recorded leaks (see `check`) contradict the formula: then no saving is claimed. */
    claimed: boolean;
    /** "pays while a lost batch costs above x", or null. */
    breakEvenBatchValue: number | null;
  };
  /** Groups whose interval changes, by the size of their long-run saving. */
  groups: GroupSaving[];
  /**
   * Recorded leaks by calendar year, with the share of the year that the records cover: named as leaks, and expected
   * among the removals without a reason.
   */
  recordedLeaksPerYear: { year: number; leaks: number; coveredShare: number; withoutReason: number }[];
  /** The latest full years on record held against the formula for today's practice; null without a full year. */
  check: RecordCheck | null;
  /** 'downtime only' where no batch value is given, else 'all causes'. */
  covers: string;
  missing: string[];
  warnings: Warning[];
  /** What the saving hangs on. */
  outlook: CostOutlook;
}

/** What one group's new interval saves a year in the long run, without the stops, which are paid per line. */
export interface GroupSaving {
  group: string;
  perYear: number;
  low: number;
  high: number;
  chance: number;
}

export interface RecordCheck {
  years: number[];
  /** Mean leaks a year: named, and expected among removals without a reason. */
  named: number;
  withoutReason: number;
  /** 90 % range of the mean of so many years by the formula. */
  range: [number, number];
  agrees: boolean;
}
