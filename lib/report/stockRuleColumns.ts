/** The columns of stock.csv that tell the rule of an item. */
import type { StockAdvice } from '../stock/types.js';
import { type Columns, hundredths, rounded, tenThousandths } from './csvCells.js';

/** The rule for leaks and openings alone, in the long run. */
export const STOCK_RULE: Columns<StockAdvice> = [
  ['rule_kind', ({ policy }) => policy?.kind ?? null],
  ['rule', ({ policy }) => policy?.rule ?? null],
  ['rule_chosen_by', ({ policy }) => policy?.chosenBy ?? null],
  ['rule_served_at_once', ({ policy }) => ruleShare(policy?.measures.fillRate)],
  ['rule_cycles_without_shortage', ({ policy }) => ruleShare(policy?.measures.cycleService)],
  ['rule_time_with_nothing_owed', ({ policy }) => ruleShare(policy?.measures.readyRate)],
  ['rule_mean_pieces_owed', ({ policy }) => rounded(policy?.measures.expectedShortage ?? null)],
  ['rule_mean_pieces_on_shelf', ({ policy }) => hundredths(policy?.measures.expectedOnHand ?? null)],
  ['rule_mean_wait_days', ({ policy }) => rounded(policy?.measures.waitingDays ?? null)],
  [
    'rule_leaks_finding_shelf_empty_per_year',
    ({ policy }) => ruleShare(policy?.measures.leaksFindingShelfEmptyPerYear),
  ],
  ['rule_orders_per_year', ({ policy }) => hundredths(policy?.measures.ordersPerYear ?? null)],
  ['rule_cost_ordering', ({ policy }) => hundredths(policy?.costPerYear?.ordering ?? null)],
  ['rule_cost_holding', ({ policy }) => hundredths(policy?.costPerYear?.holding ?? null)],
  ['rule_cost_shortage', ({ policy }) => hundredths(policy?.costPerYear?.shortage ?? null)],
  ['rule_of_least_cost', ({ policy }) => policy?.leastCost?.rule ?? null],
  ['rule_of_least_cost_saves', ({ policy }) => hundredths(policy?.leastCost?.saving ?? null)],
];

function ruleShare(value: number | undefined): number | null {
  return value === undefined ? null : tenThousandths(value);
}

/** Use by month as stores counts it, beside what the positions' model gives. */
export const RECORDED_USE: Columns<StockAdvice> = [
  ['recorded_use_per_year', ({ recordedUse }) => hundredths(recordedUse?.perYear ?? null)],
  ['recorded_use_is', ({ recordedUse }) => recordedUse?.purpose ?? null],
  ['recorded_use', ({ recordedUse }) => recordedUse?.words ?? null],
  ['modelled_use_per_year', ({ recordedUse }) => hundredths(recordedUse?.modelledPerYear ?? null)],
  ['lead_time_seen_days', ({ leadTimeSeen }) => hundredths(leadTimeSeen?.meanDays ?? null)],
  ['lead_time_seen_deliveries', ({ leadTimeSeen }) => leadTimeSeen?.deliveries ?? null],
];
