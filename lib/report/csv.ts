/** The tables of a plan as CSV (RFC 4180) for spreadsheets and other systems. */

import type { DemandMonth } from '../demand/types.js';
import { isChange, kindOf } from '../interval/adviceKind.js';
import type { DueDate } from '../interval/dueDates.js';
import type { IntervalAdvice, ShutdownTask } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import type { KitRow } from '../stock/kits.js';
import type { BuyNext } from '../stock/money/types.js';
import type { StockAdvice } from '../stock/types.js';
import { byUrgency } from '../stock/urgency.js';
import { type Columns, csvText, hundredths, rounded, tenThousandths, warningsText } from './csvCells.js';
import { isComplete } from './kits.js';
import { PICKS, pickLines } from './pickCsv.js';
import { pickLists } from './pickLists.js';
import { recurrenceColumns } from './recurrenceCsv.js';
import { standOutColumns } from './standOutsCsv.js';
import { RECORDED_USE, STOCK_RULE } from './stockRuleColumns.js';
import { HEATED_WEAR, WEAR } from './wearCsv.js';

type CsvFile =
  | 'intervals.csv'
  | 'shutdown-plan.csv'
  | 'due-dates.csv'
  | 'order-list.csv'
  | 'kits.csv'
  | 'pick-lists.csv'
  | 'stock.csv'
  | 'stock-buy-next.csv'
  | 'demand.csv'
  | 'stand-outs.csv'
  | 'wear.csv'
  | 'recurrence.csv';

/**
 * Every table of a plan by file name. Numbers have a point and no grouping; what is not known is empty, but
 * for the age of a diaphragm whose fitting day is not on record, which is 'unknown'.
 */
export function csvFiles(plan: Plan, lists = pickLists(plan)): Record<CsvFile, string> {
  return {
    'intervals.csv': csvText(INTERVALS, plan.intervals),
    'shutdown-plan.csv': csvText(SHUTDOWN_TASKS, plan.shutdownPlan),
    'due-dates.csv': csvText(DUE_DATES, plan.dueDates),
    'order-list.csv': csvText(orderColumns(plan.site.currency), orderRows(plan.stock)),
    'kits.csv': csvText(KITS, plan.kits),
    'pick-lists.csv': csvText(PICKS, pickLines(lists)),
    'stock.csv': csvText(STOCK, byUrgency(plan.stock)),
    'stock-buy-next.csv': csvText(BUY_NEXT, plan.stockMoney?.buyNext ?? []),
    'demand.csv': csvText(DEMAND, demandRows(plan)),
    'stand-outs.csv': csvText(standOutColumns(plan.site.currency), plan.standOuts.rows),
    'wear.csv': csvText(plan.wear.heat === undefined ? WEAR : HEATED_WEAR, plan.wear.groups),
    'recurrence.csv': csvText(recurrenceColumns(plan.recurrence.trendLabel), plan.recurrence.lines),
  };
}

/** A cost or rate of a group; empty where no position uses it now. */
function ofUsed(row: IntervalAdvice, value: number): number | null {
  return kindOf(row) === 'unused' ? null : rounded(value);
}

const INTERVALS: Columns<IntervalAdvice> = [
  ['group', (row) => row.group],
  ['material', (row) => row.material],
  ['size', (row) => row.size],
  ['duty', (row) => row.duty],
  ['positions', (row) => row.positions],
  ['action', (row) => row.action],
  ['days', (row) => row.days],
  ['months', (row) => row.months],
  ['today_days', (row) => rounded(row.today)],
  ['direction', (row) => row.direction],
  ['kept_for', (row) => row.keptFor],
  ['in_practice_days', (row) => rounded(row.inPractice?.days ?? null)],
  ['within_2_percent_from_days', (row) => rounded(row.within2percent?.[0] ?? null)],
  ['within_2_percent_to_days', (row) => rounded(row.within2percent?.[1] ?? null)],
  ['capped_by', (row) => row.cappedBy],
  ['cost_per_position_and_year', (row) => ofUsed(row, row.costPerYear)],
  ['cost_low', (row) => ofUsed(row, row.costRange[0])],
  ['cost_high', (row) => ofUsed(row, row.costRange[1])],
  ['cost_today_per_position_and_year', (row) => ofUsed(row, row.costPerYearToday)],
  // Of a kept interval there is nothing to be better: the chance would be that of another one.
  ['chance_better', (row) => (isChange(row) ? rounded(row.chanceBetter) : null)],
  ['expected_regret_per_position_and_year', (row) => ofUsed(row, row.expectedRegret)],
  ['worst_tenth_against_today', (row) => (isChange(row) ? rounded(row.worstTenth) : null)],
  ['opportunity_days', (row) => row.opportunityDays],
  ['leaks_per_year', (row) => ofUsed(row, row.leaksPerYear)],
  ['replacements_per_year', (row) => ofUsed(row, row.replacementsPerYear)],
  ['because', (row) => row.because],
  ['warnings', (row) => warningsText(row.warnings)],
];

/** An age counted from a fitting day that is not on record. */
const UNKNOWN = 'unknown';

const DUE_DATES: Columns<DueDate> = [
  ['position', (row) => row.position],
  ['line', (row) => row.line],
  ['criticality', (row) => row.criticality],
  ['group', (row) => row.group],
  ['fitted', (row) => row.fitted ?? UNKNOWN],
  ['age_days', (row) => rounded(row.ageDays)],
  ['interval_days', (row) => row.intervalDays],
  ['due', (row) => row.due],
  ['due_earliest', (row) => row.dueRange?.[0] ?? null],
  ['due_latest', (row) => row.dueRange?.[1] ?? null],
  ['due_for', (row) => row.dueFor],
  ['overdue_days', (row) => row.overdueDays],
  ['clock', (row) => row.byClock?.clock ?? null],
  ['due_by_clock', (row) => row.byClock?.due ?? null],
  ['due_by_clock_earliest', (row) => row.byClock?.range?.[0] ?? null],
  ['due_by_clock_latest', (row) => row.byClock?.range?.[1] ?? null],
  ['opportunity_from', (row) => row.opportunityFrom],
  ['chance_leak_before_due', (row) => rounded(row.leakBeforeDue)],
  ['chance_leak_within_365_days', (row) => rounded(row.leakWithinYear)],
  ['planned_shutdown', (row) => row.planned?.shutdown ?? null],
  ['planned_start', (row) => row.planned?.start ?? null],
];

const BUY_NEXT: Columns<BuyNext> = [
  ['item', (row) => row.item],
  ['pieces', (row) => row.pieces],
  ['position_after', (row) => row.level],
  ['money', (row) => rounded(row.money)],
  ['leaks_served_per_year', (row) => rounded(row.leaksServedPerYear)],
  ['money_per_leak_served', (row) => rounded(row.moneyPerLeak)],
  ['money_so_far', (row) => rounded(row.cumulativeMoney)],
  ['within', (row) => row.within],
];

const SHUTDOWN_TASKS: Columns<ShutdownTask> = [
  ['shutdown', (row) => row.shutdown],
  ['start', (row) => row.start],
  ['line', (row) => row.line],
  ['position', (row) => row.position],
  ['item', (row) => row.item],
  ['material', (row) => row.material],
  ['size', (row) => row.size],
  ['criticality', (row) => row.criticality],
  ['fits', (row) => row.fits],
  ['fitter_hours', (row) => rounded(row.fitterHours)],
  ['instrument_hours', (row) => rounded(row.instrumentHours)],
  ['fitter_hours_after_start_up', (row) => rounded(row.afterStartUpHours)],
  ['tasks', (row) => row.tasks.join(' | ')],
  ['age_days', (row) => rounded(row.ageDays) ?? UNKNOWN],
  ['overdue_days', (row) => rounded(row.overdueDays) ?? UNKNOWN],
  ['chance_still_due', (row) => rounded(row.chanceStillDue)],
  ['cost_of_waiting', (row) => rounded(row.costOfWaiting)],
  ['because', (row) => row.because],
];

export interface OrderRow {
  item: StockAdvice;
  order: StockAdvice['orders'][number];
}

const orderColumns = (currency: string): Columns<OrderRow> => [
  ['item', ({ item }) => item.item],
  ['material', ({ item }) => item.material],
  ['size', ({ item }) => item.size],
  ['quantity', ({ order }) => order.quantity],
  ['order_by', ({ order }) => order.orderBy],
  ['due_by', ({ order }) => order.dueBy],
  ['for', ({ order }) => order.for],
  ['expedite', ({ order }) => order.expedite],
  ['status', ({ order }) => (order.firm ? 'firm' : 'outlook')],
  // That of an order of this size.
  ['unit_price', ({ order }) => rounded(order.value === null ? null : order.value / order.quantity)],
  ['value', ({ order }) => rounded(order.value)],
  ['currency', ({ order }) => (order.value === null ? null : currency)],
  ['pack', ({ item }) => item.pack],
  ['min_order', ({ item }) => item.minOrder],
  ['lead_time_days', ({ item }) => rounded(item.leadTimeDays)],
  ['emergency_days', ({ order }) => rounded(order.hurry?.days ?? null)],
  ['emergency_extra_cost', ({ order }) => rounded(order.hurry?.extraCost ?? null)],
  ['short_on_day', ({ order }) => order.hurry?.shortOnDay ?? null],
  ['likely_scrap', ({ order }) => order.scrap],
  ['because', ({ order }) => order.because],
  ['warnings', ({ order }) => warningsText(order.warnings)],
  ['action', ({ order }) => order.action],
];

const KITS: Columns<KitRow> = [
  ['shutdown', (row) => row.shutdown],
  ['start', (row) => row.start],
  ['item', (row) => row.item],
  ['material', (row) => row.material],
  ['size', (row) => row.size],
  ['if_nothing_leaks', (row) => hundredths(row.ifNothingLeaks)],
  ['expected', (row) => hundredths(row.expected)],
  ['with_95_percent_safety', (row) => row.with95],
  ['lay_out', (row) => row.layOut],
  ['on_shelf_then', (row) => hundredths(row.onShelf)],
  ['on_the_way_then', (row) => hundredths(row.onTheWay)],
  ['overdue_counted_on', (row) => hundredths(row.late)],
  ['from_orders_listed', (row) => hundredths(row.toOrder)],
  ['take_from_shelf', (row) => row.taken?.shelf ?? null],
  ['take_from_orders_placed', (row) => (row.taken === null ? null : row.taken['on order'] + row.taken.late)],
  ['still_to_order', (row) => row.taken?.planned ?? null],
  ['short', (row) => row.short],
  ['last_day_to_order', (row) => (isComplete(row) ? null : row.orderBy)],
  ['approved_substitute', (row) => row.substitute?.item ?? null],
  ['substitute_spare', (row) => row.substitute?.spare ?? null],
];

const STOCK: Columns<StockAdvice> = [
  ['item', (row) => row.item],
  ['material', (row) => row.material],
  ['size', (row) => row.size],
  ['on_hand', (row) => row.onHand],
  ['usable', (row) => row.usable],
  ['on_order', (row) => row.onOrder],
  ['reorder_point', (row) => row.reorderPoint],
  ['order_quantity', (row) => row.orderQuantity],
  ['served_target', (row) => rounded(row.servedTarget)],
  ['served', (row) => tenThousandths(row.served)],
  ['leaks_finding_shelf_empty_per_year', (row) => tenThousandths(row.leaksFindingShelfEmptyPerYear)],
  ['value', (row) => rounded(row.value)],
  ['shelf_life_months', (row) => rounded(row.shelfLife.months)],
  ['shelf_life_source', (row) => row.shelfLife.source],
  ['expiring_quantity', (row) => rounded(row.expiring.quantity)],
  ['expiring_use_by', (row) => row.expiring.useBy],
  ['months_of_cover', (row) => hundredths(row.monthsOfCover)],
  ['overdue_quantity', (row) => row.chase?.quantity ?? null],
  ['overdue_since', (row) => row.chase?.due ?? null],
  ['short_without_overdue', (row) => row.chase?.needed?.short ?? null],
  ['kind', (row) => row.kind],
  ['action', (row) => row.action],
  ...STOCK_RULE,
  ...RECORDED_USE,
  ['warnings', (row) => warningsText(row.warnings)],
];

/** One item and month under the proposal and, beside it, under today's practice. */
interface DemandRow {
  item: string;
  month: string;
  proposed: DemandMonth | null;
  today: DemandMonth | null;
}

const DEMAND_VALUES = ['planned', 'leaks', 'opened', 'mean', 'low', 'high'] as const;

const DEMAND: Columns<DemandRow> = [
  ['item', (row) => row.item],
  ['month', (row) => row.month],
  ...DEMAND_VALUES.map(
    (field) => [field, (row: DemandRow) => hundredths(row.proposed?.[field] ?? null)] as const,
  ),
  ...DEMAND_VALUES.map(
    (field) => [`${field}_today`, (row: DemandRow) => hundredths(row.today?.[field] ?? null)] as const,
  ),
];

/** Orders of all items, the first to place first; of one day those that must be hurried. */
export function orderRows(stock: readonly StockAdvice[]): OrderRow[] {
  const rank = ({ order }: OrderRow): string => `${order.orderBy} ${order.expedite ? 0 : 1}`;
  return stock
    .flatMap((item) => item.orders.map((order) => ({ item, order })))
    .sort((a, b) => (rank(a) === rank(b) ? 0 : rank(a) < rank(b) ? -1 : 1));
}

function demandRows({ demand, demandToday }: Plan): DemandRow[] {
  const rows = new Map<string, DemandRow>();
  const rowOf = ({ item, month }: DemandMonth): DemandRow => {
    const key = JSON.stringify([item, month]);
    const row = rows.get(key) ?? { item, month, proposed: null, today: null };
    rows.set(key, row);
    return row;
  };
  for (const month of demand) rowOf(month).proposed = month;
  for (const month of demandToday) rowOf(month).today = month;
  return [...rows.values()];
}
