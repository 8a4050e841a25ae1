/** Money in stock against leaks that find the shelf empty, over all items (METHODS 5.5, 5.8). Money is in the site's currency. */
import type { Criticality } from '../../fleet/types.js';

/** What a stock of all items comes to in a year. */
export interface StockPlace {
  /** Highest positions times prices: the most that can lie on the shelf or be paid for on order, for leaks and openings. */
  money: number;
  leaksFindingShelfEmptyPerYear: number;
  /** 5 % to 95 % over the posterior of the life models; null where the forecast has no draws. */
  range: [number, number] | null;
  /** Share of leaks served at once. */
  served: number;
  /** If a line stands until the emergency delivery comes, and its extra cost; null where no leak of it can be priced. */
  shortageCostPerYear: number | null;
}

/** The least money that serves so many leaks. */
export interface CurvePoint extends StockPlace {
  /** The item whose step ends here and its level from there on; null at the start. */
  item: string | null;
  level: number;
}

export type MoneyClass = 'A' | 'B' | 'C';

export interface MoneyRow {
  item: string;
  price: number;
  /** Pieces per smallest order: packs and minimum order. */
  lot: number;
  leaksPerYear: number;
  /** Class by money of use a year, and the highest criticality of its positions. */
  moneyClass: MoneyClass;
  criticality: Criticality;
  useMoneyPerYear: number;
  /** Usable and on order, less what kits take before a new order could come: what leaks can draw on today, pieces. */
  today: number;
  /** Reorder point and lot of the plan, as the highest position. */
  advised: number;
  /** Of the best mix: order `lot` pieces when the position is at or below `level - lot`. */
  best: number;
  leaksFindingShelfEmpty: { today: number; advised: number; best: number };
  /** Cost of one leak that finds the shelf empty; null where no downtime rate and no extra cost is given. */
  shortageCost: number | null;
}

/** A purchase on top of what there is, best first: leaks served for the money. */
export interface BuyNext {
  item: string;
  pieces: number;
  /** Position after it. */
  level: number;
  money: number;
  /** Leaks a year that find a piece and would not without it. */
  leaksServedPerYear: number;
  /** Money for each of them. */
  moneyPerLeak: number;
  /** Of this and all before it. */
  cumulativeMoney: number;
  /** Whether the money left of the budget pays for it; without a budget, whether it is worth as much as the best mix's last step. */
  within: boolean;
}

/** What a further tenth of the money would buy. */
export interface FurtherMoney {
  money: number;
  spent: number;
  leaksServedPerYear: number;
  levels: { item: string; from: number; to: number; money: number }[];
}

/** Items of one class by money and one criticality, and what follows. */
export interface StockClass {
  moneyClass: MoneyClass;
  criticality: Criticality;
  items: string[];
  useMoneyPerYear: number;
  /** Today and by the best mix. */
  stockMoney: { today: number; best: number };
  /** Share of leaks and openings to serve at once, of site.json. */
  target: number;
  /** How often to count, and how to order, in words. */
  count: string;
  policy: string;
}

/** Levels of one item at a central store and at local ones. */
export interface TwoLevelAdvice {
  item: string;
  central: number;
  stores: { store: string; positions: number; level: number; served: number }[];
  /** Pieces at all stores and their money. */
  pieces: number;
  money: number;
  /** Share served at once over all stores: exact, and by the two-moment road at the same levels. */
  served: number;
  servedTwoMoment: number;
  target: number;
  /** Pieces that one store for all would hold for the same target, by the same reckoning. */
  piecesInOneStore: number;
}

export interface StockMoney {
  leaksPerYear: number;
  /** `targets.stock_budget` of site.json; null where not given. */
  budget: number | null;
  today: StockPlace;
  advised: StockPlace;
  /** Best mix for the budget; without one, the least money that serves as many leaks as the advised stock and meets each item's own target. */
  best: StockPlace;
  /** No mix serves more leaks a year for a budget, or as many for less money. */
  bestPossible: number;
  /** What positions of high criticality or safety take before the rest is weighed; more than the budget: it does not reach. */
  firstMoney: number;
  curve: CurvePoint[];
  /** The least money for levels of service. */
  levels: { served: number; money: number }[];
  items: MoneyRow[];
  buyNext: BuyNext[];
  further: FurtherMoney;
  classes: StockClass[];
  /** Cumulative shares of yearly money that end classes A and B. */
  classShares: [number, number];
  leftOut: { item: string; because: string }[];
  /** Null where site.json names no stores. */
  twoLevel: TwoLevelAdvice[] | null;
  /** What the numbers take for granted, in sentences. */
  assumed: string[];
}
