/** The tables of a plan as CSV (RFC 4180) for spreadsheets and other systems. */
import { isChange } from '../chart/intervalsOverview.js';
import type { DemandMonth } from '../demand/types.js';
import type { IntervalAdvice, ShutdownTask } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import type { StockAdvice } from '../stock/types.js';

type CsvFile = 'intervals.csv' | 'shutdown-plan.csv' | 'order-list.csv' | 'stock.csv' | 'demand.csv';
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
    'order-list.csv': csvText(ORDERS, orderRows(plan.stock)),
    'stock.csv': csvText(STOCK, plan.stock),
    'demand.csv': csvText(DEMAND, demandRows(plan)),
  };
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
  ['cost_per_position_and_year', (row) => rounded(row.costPerYear)],
  ['cost_low', (row) => rounded(row.costRange[0])],
  ['cost_high', (row) => rounded(row.costRange[1])],
  ['cost_today_per_position_and_year', (row) => rounded(row.costPerYearToday)],
  // Of a kept interval there is nothing to be better: the chance would be that of another one.
  ['chance_better', (row) => (isChange(row) ? rounded(row.chanceBetter) : null)],
  ['leaks_per_year', (row) => rounded(row.leaksPerYear)],
  ['replacements_per_year', (row) => rounded(row.replacementsPerYear)],
  ['because', (row) => row.because],
  ['warnings', (row) => row.warnings.map(({ text, todo }) => `${text} ${todo}`).join(' | ')],
];

/** An age counted from a fitting day that is not on record. */
const UNKNOWN = 'unknown';

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

const ORDERS: Columns<OrderRow> = [
  ['item', ({ item }) => item.item],
  ['material', ({ item }) => item.material],
  ['size', ({ item }) => item.size],
  ['quantity', ({ order }) => order.quantity],
  ['order_by', ({ order }) => order.orderBy],
  ['due_by', ({ order }) => order.dueBy],
  ['for', ({ order }) => order.for],
  ['expedite', ({ order }) => order.expedite],
  ['action', ({ item }) => item.action],
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
  ['served', (row) => rounded(row.served)],
  ['leaks_finding_shelf_empty_per_year', (row) => rounded(row.leaksFindingShelfEmptyPerYear)],
  ['value', (row) => rounded(row.value)],
  ['expiring_quantity', (row) => rounded(row.expiring.quantity)],
  ['expiring_use_by', (row) => row.expiring.useBy],
  ['months_of_cover', (row) => rounded(row.monthsOfCover)],
  ['kind', (row) => row.kind],
  ['action', (row) => row.action],
];

interface DemandRow extends DemandMonth {
  policy: 'proposed' | 'today';
}

const DEMAND: Columns<DemandRow> = [
  ['policy', (row) => row.policy],
  ['item', (row) => row.item],
  ['month', (row) => row.month],
  ['planned', (row) => rounded(row.planned)],
  ['leaks', (row) => rounded(row.leaks)],
  ['opened', (row) => rounded(row.opened)],
  ['mean', (row) => rounded(row.mean)],
  ['low', (row) => rounded(row.low)],
  ['high', (row) => rounded(row.high)],
];

/** Orders of all items, the first to place first; of one day those that must be hurried. */
export function orderRows(stock: readonly StockAdvice[]): OrderRow[] {
  const rank = ({ order }: OrderRow): string => `${order.orderBy} ${order.expedite ? 0 : 1}`;
  return stock
    .flatMap((item) => item.orders.map((order) => ({ item, order })))
    .sort((a, b) => (rank(a) === rank(b) ? 0 : rank(a) < rank(b) ? -1 : 1));
}

function demandRows({ demand, demandToday }: Plan): DemandRow[] {
  return [
    ...demand.map((row): DemandRow => ({ ...row, policy: 'proposed' })),
    ...demandToday.map((row): DemandRow => ({ ...row, policy: 'today' })),
  ];
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
  const number = /^[+-]?\d+(\.\d+)?$/.test(text);
  return !number && /^[=+\-@\t\r\n＝＋－＠]/.test(text) ? `'${text}` : text;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
