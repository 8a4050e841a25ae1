/** Local stores that are filled up from a central one (METHODS 5.8). */
import { UsageError } from '../errors.js';
import { itemAt } from '../numeric/columns.js';
import { centralBackorders } from './centralBackorders.js';
import { type StockMeasures, stockMeasures } from './measures.js';
import { outstandingAt, type TwoLevelMethod } from './outstandingAt.js';

export interface LocalStore {
  name?: string;
  level: number;
  /** Pieces asked for per unit of time, one at a time (Poisson). */
  demandPerTime: number;
  /** Time from the central store, in the same unit. */
  transportTime: number;
}

export interface TwoLevelInput {
  central: { level: number; leadTime: number };
  stores: readonly LocalStore[];
  /**
   * `exact` (default); `twoMoment`: a negative binomial with the exact mean and variance, for speed; `oneMoment`: a Poisson
   * with the exact mean, which owes too little and is there for comparison.
   */
  method?: TwoLevelMethod;
}

export type { TwoLevelMethod };

export interface StoreMeasures extends StockMeasures {
  name: string;
  /** Mean and variance of the pieces on their way to the store or owed to it by the central one. */
  outstandingMean: number;
  outstandingVariance: number;
  /** Mean wait of a piece asked for at the store, in the unit of time given. */
  waitTime: number;
}

export interface TwoLevelStock {
  method: TwoLevelMethod;
  /** Measures of the central store, whose customers are the local ones; `waitTime` is what it adds to each transport. */
  central: StockMeasures & { waitTime: number };
  stores: StoreMeasures[];
  /** Pieces owed to valves at all local stores, mean over time. */
  expectedShortage: number;
}

/** More owed pieces than this are not split one by one. */
const MOST_OWED = 20_000;
/** More pieces on their way to the central store than this are refused. */
const MOST_ON_ORDER = 2_000_000;

/**
 * One-for-one stock on two levels, the central store handing out in the order of asking: pieces owed by it belong to a store
 * with its share of demand each, so that a binomial part of them, plus the Poisson demand of a transport time, is what
 * is outstanding there (Simon 1971; Graves 1985; Axsaeter 1990; from memory). Exact for fixed central lead and transport times;
 * central lead times that vary independently change nothing at the central store (Palm), and the split only slightly. How far the
 * one-moment model is off hangs on the case: with 5 stores of level 2, 0.02 pieces a day each, 10 days of transport, and a central
 * store of level 4 with 60 days of lead time it owes 31.8 % too little (tested here, and by a plain run). METHODS 5.8 says 28 % of a
 * five-store case whose numbers it does not give; in this one it is 0 with nothing at the central store, 20.6 % at level 3, 52 % at 7.
 * Throws UsageError on levels that are not whole numbers at or above 0, times below 0, no demand at all, an unknown
 * method, or so many owed pieces that only the two-moment road is sensible.
 */
export function twoLevelStock({ central, stores, method = 'exact' }: TwoLevelInput): TwoLevelStock {
  if (method !== 'exact' && method !== 'twoMoment' && method !== 'oneMoment') {
    throw new UsageError('twoLevelStock', 'method must be exact, twoMoment or oneMoment.', method);
  }
  const demand = checkedDemand(central.leadTime, stores);
  const mean = demand * central.leadTime;
  if (mean > MOST_ON_ORDER) {
    const rule =
      'more than two million pieces are on their way to the central store: check the units of time.';
    throw new UsageError('twoLevelStock', rule, mean);
  }
  const top = stockMeasures({ kind: 'baseStock', level: central.level }, { kind: 'poisson', mean });
  if (method === 'exact' && top.expectedShortage > MOST_OWED) {
    const rule = 'the central store owes too much to be split piece by piece: use twoMoment.';
    throw new UsageError('twoLevelStock', rule, top.expectedShortage);
  }
  const owed = centralBackorders(mean, central.level);
  const rows = stores.map((store, i) => storeMeasures(store, i, store.demandPerTime / demand, owed, method));
  return {
    method,
    central: { ...top, waitTime: top.expectedShortage / demand },
    stores: rows,
    expectedShortage: rows.reduce((total, row) => total + row.expectedShortage, 0),
  };
}

function storeMeasures(
  store: LocalStore,
  i: number,
  share: number,
  owed: Float64Array,
  method: TwoLevelMethod,
): StoreMeasures {
  const { level, demandPerTime, transportTime, name = `store ${i + 1}` } = store;
  const onTheWay = demandPerTime * transportTime;
  const {
    law,
    mean: outstandingMean,
    variance: outstandingVariance,
  } = outstandingAt(owed, share, onTheWay, method);
  const measures = stockMeasures({ kind: 'baseStock', level }, law);
  const waitTime = demandPerTime > 0 ? measures.expectedShortage / demandPerTime : 0;
  return { name, ...measures, outstandingMean, outstandingVariance, waitTime };
}

function checkedDemand(leadTime: number, stores: readonly LocalStore[]): number {
  const rule = (holds: boolean, text: string, value: number): void => {
    if (!holds) throw new UsageError('twoLevelStock', text, value);
  };
  rule(leadTime >= 0 && Number.isFinite(leadTime), 'leadTime must be at or above 0, and finite.', leadTime);
  let demand = 0;
  for (let i = 0; i < stores.length; i++) {
    const { demandPerTime, transportTime } = itemAt(stores, i);
    const where = `stores[${i}]`;
    const usable = (value: number): boolean => value >= 0 && Number.isFinite(value);
    rule(usable(demandPerTime), `${where}.demandPerTime must be at or above 0, and finite.`, demandPerTime);
    rule(usable(transportTime), `${where}.transportTime must be at or above 0, and finite.`, transportTime);
    demand += demandPerTime;
  }
  rule(demand > 0, 'some store must have demand.', demand);
  return demand;
}
