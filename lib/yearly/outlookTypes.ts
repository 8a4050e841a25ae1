/** What the saving hangs on: cost against interval, downtime against work, assumptions, break-even, pay-back. */

/** Expected amounts per year in the long run, in the site's currency, and what happens in a year. */
export interface CostColumns {
  /** The five parts below together. */
  perYear: number[];
  parts: number[];
  labour: number[];
  plannedStop: number[];
  leakDowntime: number[];
  lostBatches: number[];
  leaksPerYear: number[];
  /** Every diaphragm fitted. */
  replacementsPerYear: number[];
  /** Stops made for the replacements and held, each line's counted by itself. */
  stopsPerYear: number[];
}

/** One value for each column. */
export type CostPoint = { [Column in keyof CostColumns]: number };

/**
 * The plant and each line with all proposed intervals made shorter or longer by one factor, on the plant's calendar.
 * Groups that run until they leak stay as they are.
 */
export interface CostByInterval {
  /** Times the proposed intervals, rising; 1 is the proposal. */
  factor: number[];
  /** Positions whose interval would be beyond the maker's limit, or beyond the age that the records speak of. */
  beyondLimit: number[];
  beyondRecords: number[];
  /** Low and high: 5th to 95th percentile of `perYear` over life models and prices. */
  plant: CostColumns & { low: number[]; high: number[] };
  /**
   * Each line at its own prices: own downtime per hour, own work. The plant takes the average price of each group, so that lines
   * add up to it but for groups whose lines differ both in price and in leaks per position.
   */
  lines: (CostColumns & { line: string; today: CostPoint })[];
  /**
   * Today's intervals against the proposed ones: geometric mean over the positions that have both; null where none has. A
   * place for today on an axis of factors; its cost is that of its own intervals, not of this factor.
   */
  todayFactor: number | null;
}

/** Hours a year that lines stand still: stops made for the replacements, and leaks. */
export interface DowntimePoint {
  replacementsPerYear: number;
  /** Planned stops and leaks together; with 5th to 95th percentile over life models and hours. */
  hours: number;
  low: number;
  high: number;
  plannedHours: number;
  leakHours: number;
}

/** Downtime against diaphragms fitted, as intervals go from short to long. */
export interface DowntimeFront {
  points: (DowntimePoint & { factor: number })[];
  today: DowntimePoint;
  proposed: DowntimePoint;
  /**
   * What one more replacement a year buys beyond the proposal, were all intervals made a step shorter; null where that
   * asks for no more replacements.
   */
  oneMore: { factor: number; hoursSaved: number; costSaved: number } | null;
}

/** What one assumption does to the saving while all others stay at their means. */
export interface Swing {
  /** Setting of site.json, or 'life models of EPDM'. */
  assumption: string;
  kind: 'setting' | 'life models';
  /** Of `low` and `high`: 'EUR per hour', 'hours' ...; null for life models. */
  unit: string | null;
  /** What the setting is at its ends; null for life models, and where lines have amounts of their own. */
  low: number | null;
  high: number | null;
  /**
   * Long-run saving a year with the assumption at its low and at its high end. Life models: the 5th and 95th percentile of
   * their draws, in the order of the saving that they give.
   */
  savingAtLow: number;
  savingAtHigh: number;
  /** Distance between the two. */
  width: number;
  /** What the advised intervals would cost a year above the best ones, if that end were known to be true (see Swings). */
  regretAtLow: number;
  regretAtHigh: number;
}

export interface Swings {
  /** Saving and regret with everything at its mean. */
  saving: number;
  regret: number;
  /**
   * Widest first. Regret: each group's interval as advised against the best of its multiples in CostByInterval.factor that
   * keeps to the maker's limit and the records, on the plant's calendar, its share of made stops included.
   */
  ranked: Swing[];
}

/** The value of one setting at which the proposal begins or ceases to pay, all else at its mean. */
export interface BreakEven {
  setting: 'batch_value' | 'downtime_per_hour' | 'labour_per_hour' | 'cost of a replacement';
  /** 'EUR per batch', 'EUR per hour', 'EUR per replacement'. */
  unit: string;
  /** Mean as given; null where it is not given or lines have amounts of their own. */
  given: number | null;
  /** The value, in `unit`; null where no value decides, or lines have amounts of their own. */
  value: number | null;
  /** The value as a multiple of what is given; null where no value decides or nothing is given. */
  timesGiven: number | null;
  /** On which side of the value the proposal pays. */
  pays: 'above' | 'below' | null;
  /**
   * 5th to 95th percentile over the draws of all else, of `value` (of `timesGiven` where there is no value). Null as an end:
   * there the proposal never pays (above) or always (below).
   */
  range: [number, number | null] | null;
  /** Why no value decides; null where one does. */
  why: string | null;
}

/** Savings of the coming years added up, those of later years counting for less. */
export interface PayBack {
  /** Share a year, the mean of what is given; 0 where it is not. */
  discountRate: number;
  years: {
    year: number;
    /** Cost of today's practice less that of the proposal. */
    saving: number;
    /** Divided by (1 + rate) to the power of the year: amounts of a year count at its end. */
    discounted: number;
    /** Sum of `discounted` to here, with 5th and 95th percentile over the draws. */
    cumulated: number;
    low: number;
    high: number;
  }[];
  verdict: 'at once' | 'within the horizon' | 'never within the horizon' | 'nothing changes';
  /** First year from whose end on the sum is never below 0; 1 with 'at once', null with 'never' and 'nothing changes'. */
  year: number | null;
  /** 5th to 95th percentile of the year over the draws; null: not within the horizon. */
  range: [number | null, number | null];
  /** Share of the draws that pay back within the horizon. */
  chance: number;
}

export interface CostOutlook {
  byInterval: CostByInterval;
  /** Null where neither planned_stop_hours nor leak_downtime_hours is given. */
  front: DowntimeFront | null;
  swings: Swings;
  breakEven: BreakEven[];
  payBack: PayBack;
}
