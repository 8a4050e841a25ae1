/** Diaphragms still to be needed, per item and month. */

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
  /** 80 % range of the joint total. */
  low: number;
  high: number;
}

/** What the stock room needs of one item. */
export interface ItemDemand {
  item: string;
  material: string;
  size: number;
  /** Dated planned need: shutdown (or month) and pieces. */
  planned: { name: string; day: number; ifNothingLeaks: number; expected: number; with95: number }[];
  /** Mean random demand (leaks and openings) per day of the horizon, by step of `stepDays`. */
  randomPerStep: number[];
  /** Variance of random demand by step, parameter spread included. */
  randomVariancePerStep: number[];
  stepDays: number;
  /** Share of the spread of the first year's total that comes from not knowing the life model. */
  shareFromParameters: number;
  leaksPerYear: number;
  openingsPerYear: number;
}

export interface DemandForecast {
  months: DemandMonth[];
  items: ItemDemand[];
}
