/** Cost per year, today against proposed. Amounts in the site's currency. */
import type { Warning } from '../findings.js';

export interface YearlyCost {
  /** Long-run expected cost per year, the sum of the five parts below. */
  perYear: number;
  /** Diaphragms: for replacements on schedule, after leaks and after openings. */
  parts: number;
  /** Fitting, re-tightening and recalibration of the same. */
  labour: number;
  /** Stops made for the replacements. */
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
  /** Expected replacements, leaks, openings and cost by year from now. */
  years: { year: number; replacements: number; leaks: number; opened: number; cost: number }[];
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
    /** Split: cash (parts, labour) and expected loss (stops, downtime, batches). */
    cash: number;
    expectedLoss: number;
    /** False where recorded leaks (mean of the last full years) contradict the formula: then no saving is claimed. */
    claimed: boolean;
    /** "pays while a lost batch costs above x", or null. */
    breakEvenBatchValue: number | null;
  };
  /** Recorded leaks by calendar year, with the share of the year that the records cover. */
  recordedLeaksPerYear: { year: number; leaks: number; coveredShare: number }[];
  /** 'downtime only' where no batch value is given, else 'all causes'. */
  covers: string;
  missing: string[];
  warnings: Warning[];
}
