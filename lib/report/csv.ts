/** The tables of a plan as CSV (RFC 4180) for spreadsheets and other systems. */

import type { DemandMonth } from '../demand/types.js';
import type { Warning } from '../findings.js';
import { isChange, kindOf } from '../interval/adviceKind.js';
import type { DueDate } from '../interval/dueDates.js';
import type { IntervalAdvice, ShutdownTask } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import type { KitRow } from '../stock/kits.js';
import type { BuyNext } from '../stock/money/types.js';
import type { StockAdvice } from '../stock/types.js';

type CsvFile =
  | 'intervals.csv'
  | 'shutdown-plan.csv'
  | 'due-dates.csv'
  | 'order-list.csv'
  | 'kits.csv'
  | 'stock.csv'
  | 'stock-buy-next.csv'
  | 'demand.csv';
type Value = string | number | boolean | null;

/** A column: its header and how to read it from a row. */
type Columns<Row> = readonly (readonly [header: string, value: (row: Row) => Value])[];

/**
 * Every table of a plan by file name. Numbers have a point and no grouping; what is not known is empty, but
 * for the age of a diaphragm whose fitting day is not on record, which is 'unknown'.
 */
export function csvFiles(plan: Plan): Record<CsvFile, string> {
  return {
    'intervals.csv': csvText(INTERVALS, plan.intervals),
    'shutdown-plan.csv': csvText(SHUTDOWN_TASKS, plan.shutdownPlan),
    'due-dates.csv': csvText(DUE_DATES, plan.dueDates),
    'order-list.csv': csvText(orderColumns(plan.site.currency), orderRows(plan.stock)),
    'kits.csv': csvText(KITS, plan.kits),
    'stock.csv': csvText(STOCK, plan.stock),
    'stock-buy-next.csv': csvText(BUY_NEXT, plan.stockMoney?.buyNext ?? []),
    'demand.csv': csvText(DEMAND, demandRows(plan)),
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
  ['unit_price', ({ item }) => item.price],
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
  ['lay_out', (row) => row.layOut],
  ['on_shelf_then', (row) => hundredths(row.onShelf)],
  ['on_the_way_then', (row) => hundredths(row.onTheWay)],
  ['overdue_counted_on', (row) => hundredths(row.late)],
  ['from_orders_listed', (row) => hundredths(row.toOrder)],
  ['short', (row) => row.short],
  ['last_day_to_order', (row) => row.orderBy],
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
  ['expiring_quantity', (row) => rounded(row.expiring.quantity)],
  ['expiring_use_by', (row) => row.expiring.useBy],
  ['months_of_cover', (row) => hundredths(row.monthsOfCover)],
  ['overdue_quantity', (row) => row.chase?.quantity ?? null],
  ['overdue_since', (row) => row.chase?.due ?? null],
  ['short_without_overdue', (row) => row.chase?.needed?.short ?? null],
  ['kind', (row) => row.kind],
  ['action', (row) => row.action],
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

function warningsText(warnings: readonly Warning[]): string {
  return warnings.map(({ text, todo }) => `${text} ${todo}`).join(' | ');
}

/** Two decimals: hundredths of a piece are more than a forecast knows. */
function hundredths(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Math.round(value * 100) / 100;
}

function tenThousandths(value: number): number | null {
  return Number.isFinite(value) ? Math.round(value * 1e4) / 1e4 : null;
}

/** Six significant digits: more than any of these numbers is known to. */
function rounded(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Number(value.toPrecision(6));
}

function csvText<Row>(columns: Columns<Row>, rows: readonly Row[]): string {
  const lines = [
    columns.map(([header]) => header),
    ...rows.map((row) => columns.map(([, value]) => cell(value(row)))),
  ];
  return `${lines.map((line) => line.join(',')).join('\r\n')}\r\n`;
}

function cell(value: Value): string {
  if (value === null) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  return quoted(neutral(value));
}

/**
 * A spreadsheet runs what begins with = + - @, a tab or a line end; such a text gets an apostrophe in front, which
 * spreadsheets do not show. Plain numbers stay as they are.
 */
function neutral(text: string): string {
  const runs = /^[=+\-@\t\r\n＝＋－＠]/.test(text) && !/^[+-]?\d+(\.\d+)?$/.test(text);
  return runs ? `'${text}` : text;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
