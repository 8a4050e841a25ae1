/** Cost per year, today against proposed. Amounts in the site's currency. */

export interface YearlyCost {
  /** Long-run expected cost per year, the sum of the five parts below. */
  perYear: number;
  parts: number;
  labour: number;
  plannedStop: number;
  leakDowntime: number;
  lostBatches: number;
  leaksPerYear: number;
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
    /** False where recorded leaks contradict the formula: then no saving is claimed. */
    claimed: boolean;
    /** "pays while a lost batch costs above x", or null. */
    breakEvenBatchValue: number | null;
  };
  /** Recorded leaks by calendar year, with the share of the year that the records cover. */
  recordedLeaksPerYear: { year: number; leaks: number; coveredShare: number }[];
  /** 'downtime only' where no batch value is given, else 'all causes'. */
  covers: string;
  missing: string[];
}
