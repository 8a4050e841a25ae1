/** Diaphragms still to be needed, per item and month. */
import type { Criticality } from '../fleet/types.js';

/** Dated planned need: a shutdown, or a month where a line has no shutdowns. */
export interface PlannedNeed {
  name: string;
  /** Day it must be on the shelf. */
  day: number;
  /** Due there if nothing leaks or is opened before. */
  ifNothingLeaks: number;
  /** Expected after leaks and openings that come first. */
  expected: number;
  /** Enough of this item alone with 95 % safety. */
  with95: number;
  /** To lay out, so that the whole kit (all items of this name and day) is complete with the site's target. */
  kit: number;
}

export interface DemandMonth {
  /** Part number, or 'EPDM DN 25' where items.csv has none. */
  item: string;
  /** YYYY-MM */
  month: string;
  /** Expected scheduled replacements, after leaks and openings that come first. */
  planned: number;
  leaks: number;
  opened: number;
  mean: number;
  /**
   * 80 % range of the joint total, as whole pieces: 10th and 90th percentile. Of small counts the mean can lie outside
   * it (0.1 expected in 0 to 0).
   */
  low: number;
  high: number;
}

/** What the stock room needs of one item. */
export interface ItemDemand {
  item: string;
  material: string;
  size: number;
  /** Dated planned need: shutdown (or month) and pieces. */
  planned: PlannedNeed[];
  /** Mean random demand (leaks and openings) by step of `stepDays`, from the day of the data. */
  randomPerStep: number[];
  /** Variance of random demand by step, jobs and parameter spread included. */
  randomVariancePerStep: number[];
  /**
   * Standard deviation over the posterior of the mean by step. It is shared by all steps: over a span add these up and
   * square the sum, and add the rest of the variance step by step.
   */
  randomParameterSdPerStep: number[];
  stepDays: number;
  /**
   * Per posterior draw, the same draws for all items: random demand a day over the first year, and leaks a year over the horizon.
   * Left out where a forecast is made by hand: then there is no range of money in stock.
   */
  byDraw?: { randomPerDay: number[]; leaksPerYear: number[] };
  /** Share of the spread of the first year's total that comes from not knowing the life model. */
  shareFromParameters: number;
  /** Over the horizon, per year. */
  leaksPerYear: number;
  openingsPerYear: number;
  plannedPerYear: number;
  /** Positions that take this item next, and the highest criticality among them. */
  positions: number;
  criticality: Criticality;
  /** Mean cost of an hour's downtime over its positions, in the site's currency; null where no rate is given. */
  downtimePerHour: number | null;
  /** Valves a job opens, on average, and jobs on record that this was read from (0: one valve a job is assumed). */
  valvesPerJob: number;
  jobsOnRecord: number;
}

export interface DemandForecast {
  months: DemandMonth[];
  items: ItemDemand[];
  /** Posterior draws that the ranges average over. */
  draws: number;
}
