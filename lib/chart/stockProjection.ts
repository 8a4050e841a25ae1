/** One item's shelf through the months planned: use against orders, each order from the day to place it to the day it comes. */
import { at } from '../numeric/columns.js';
import { dayFromText, textFromDay } from '../numeric/day.js';
import type { StockProjection } from '../stock/projectStock.js';
import { countAxis, fine, spanTicks } from './axes.js';
import { framed, plotWidth, spread } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { projectionDescription, projectionFinding, projectionTable } from './stockProjectionWords.js';
import { AXIS } from './texts.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { thinned } from './thinned.js';
import { dateAxis } from './timeAxis.js';
import { pointer } from './tips.js';
import type { Chart, Layer } from './types.js';
import { dateWords, pieces, plainName, range, slug } from './words.js';

const PLOT = 168;
/** Below the plot: kits, then orders in as many rows as keep them apart. */
const KITS_AT = PLOT + 18;
const FIRST_ORDER_AT = PLOT + 42;
const ORDER_ROW = 16;
const MOST_ORDER_ROWS = 6;
/** Places along the line that have words under the pointer. */
const MOST_POINTED = 120;
const LEFT = 52;
const RIGHT = 112;
/** Room for a number beside a mark, px. */
const NUMBER_ROOM = 30;

export function stockProjection(projection: StockProjection): Chart {
  const title = `${plainName(projection.item)}: the shelf, what is used and what to order`;
  const [finding, description] = [projectionFinding(projection), projectionDescription(projection)];
  const orders = orderRows(projection);
  const rows = 1 + Math.max(0, ...orders.map(({ row }) => row));
  return {
    ...framed(`shelf-${slug(projection.item)}`, {
      title,
      finding,
      description,
      unit: AXIS.usablePiecesShelf,
      height: FIRST_ORDER_AT + ORDER_ROW * (orders.length === 0 ? 0 : rows) - 4,
      left: LEFT,
      right: RIGHT,
      bottom: 38,
      layers: layersOf(projection, orders),
    }),
    table: projectionTable(projection),
    leftOut:
      orders.length < projection.orders.length
        ? `The picture shows ${orders.length} of ${projection.orders.length} orders, the table all of them.`
        : null,
  };
}

interface OrderRow {
  row: number;
  by: number;
  due: number;
  label: string;
}

/** Days of each order and the first row below the plot where it touches no other. */
function orderRows({ orders, from, days }: StockProjection): OrderRow[] {
  const span = lastDay(days);
  const perDay = plotWidth({ left: LEFT, right: RIGHT }) / span;
  const ends: number[] = [];
  const placed: OrderRow[] = [];
  for (const { quantity, orderBy, dueBy } of orders) {
    const [by, due] = [Math.max(0, dayOf(from, orderBy)), Math.min(span, Math.max(0, dayOf(from, dueBy)))];
    let row = ends.findIndex((end) => end + 6 < by * perDay);
    if (row < 0) row = ends.length;
    if (row >= MOST_ORDER_ROWS) continue;
    ends[row] = due * perDay + NUMBER_ROOM;
    placed.push({ row, by: Math.min(by, due), due, label: `+${quantity}` });
  }
  return placed;
}

function dayOf(from: string, day: string): number {
  return (dayFromText(day) ?? 0) - (dayFromText(from) ?? 0);
}

function lastDay(days: readonly number[]): number {
  return Math.max(1, days[days.length - 1] ?? 1);
}

function layersOf(projection: StockProjection, orders: readonly OrderRow[]): Layer[] {
  const { days, expected, low, high, withoutOrders, reorderPoint, from } = projection;
  const span = lastDay(days);
  const ticks = spanTicks(Math.min(0, ...low), Math.max(1, reorderPoint, ...high), 4);
  const domainY: [number, number] = [at(ticks, 0), at(ticks, ticks.length - 1)];
  const scaleX = { domain: [0, fine(span)], nice: false, zero: false };
  const scaleY = { domain: domainY, range: [PLOT, 0], nice: false, zero: false };
  const x = onScale('day', scaleX);
  const y = (field: string) => onScale(field, scaleY);
  const rows = days.map((day, i) => ({
    day: fine(day),
    expected: fine(at(expected, i)),
    low: fine(at(low, i)),
    high: fine(at(high, i)),
  }));
  const width = plotWidth({ left: LEFT, right: RIGHT });
  return [
    layer({ type: 'rule', opacity: 0 }, [{ day: 0, expected: 0 }], {
      x: { field: 'day', type: 'quantitative', scale: scaleX, axis: dateAxis(from, span, width) },
      y: {
        field: 'expected',
        type: 'quantitative',
        scale: scaleY,
        axis: { ...countAxis(ticks), tickCount: ticks.length },
      },
    }),
    layer({ type: 'area', color: COLOUR.band, opacity: 1 }, rows, { x, y: y('low'), y2: { field: 'high' } }),
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 1, opacity: 1 }, [{ day: 0, expected: 0 }], {
      y: y('expected'),
    }),
    layer(
      { type: 'rule', color: COLOUR.rule, strokeDash: [3, 3], strokeWidth: 1, opacity: 1 },
      [{ expected: reorderPoint }],
      { y: y('expected') },
    ),
    layer(
      { type: 'line', color: COLOUR.text, strokeDash: [2, 3], strokeWidth: 1.5, opacity: 1 },
      untilBelow(days, withoutOrders, domainY[0]),
      { x, y: y('expected') },
    ),
    layer({ type: 'line', color: COLOUR.ink, strokeWidth: 2, opacity: 1 }, rows, { x, y: y('expected') }),
    pointer(
      thinned(rows, MOST_POINTED),
      { x, y: y('expected') },
      ({ day, expected: middle, low: least, high: most }) =>
        `${dateWords(textFromDay((dayFromText(from) ?? 0) + Number(day)))}: ${pieces(Number(middle))} (80 %: ${range(Number(least), Number(most), pieces)})`,
    ),
    ...kitLayers(projection, scaleX),
    ...orderLayers(orders, scaleX),
    ...comingLayers(projection, scaleX),
    ...endLayers(projection, domainY, width),
  ];
}

/** The course up to the point where it leaves the plot. */
function untilBelow(days: readonly number[], values: readonly number[], least: number) {
  const end = values.findIndex((value) => value < least);
  const rows = days.map((day, i) => ({ day: fine(day), expected: fine(at(values, i)) }));
  if (end < 0) return rows;
  const [before, after] = [rows[end - 1], rows[end]];
  const kept = rows.slice(0, end);
  if (before === undefined || after === undefined) return kept;
  const part = (before.expected - least) / (before.expected - after.expected);
  return [...kept, { day: fine(before.day + part * (after.day - before.day)), expected: least }];
}

/** Kits by day, named where there is room; the largest first. */
function kitLayers({ events, from, days }: StockProjection, scaleX: object): Layer[] {
  const byDay = new Map<number, number>();
  for (const { kind, day, quantity } of events) {
    if (kind === 'kit') byDay.set(dayOf(from, day), (byDay.get(dayOf(from, day)) ?? 0) - quantity);
  }
  const perDay = plotWidth({ left: LEFT, right: RIGHT }) / lastDay(days);
  const named: number[] = [];
  for (const [day] of [...byDay].sort((a, b) => b[1] - a[1])) {
    if (named.every((other) => Math.abs(other - day) * perDay >= NUMBER_ROOM)) named.push(day);
  }
  const rows = [...byDay].map(([day, quantity]) => ({
    day,
    label: named.includes(day) ? `−${pieces(quantity)}` : '',
  }));
  const x = onScale('day', scaleX as Record<string, unknown>);
  const y = { value: KITS_AT };
  return [
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 2, opacity: 1 }, rows, {
      x,
      y: { value: PLOT + 2 },
      y2: { value: PLOT + 10 },
    }),
    label(rows, { x, y }, { align: 'center', size: 11 }),
    rowName('kits', KITS_AT),
  ];
}

/** Each order as a bar of its lead time: placed at its tick, there at its diamond. */
function orderLayers(orders: readonly OrderRow[], scaleX: object): Layer[] {
  if (orders.length === 0) return [];
  const rows = orders.map((order) => ({
    ...order,
    y: FIRST_ORDER_AT + ORDER_ROW * order.row,
    day: order.due,
  }));
  const x = (field: string) => onScale(field, scaleX as Record<string, unknown>);
  const y = { field: 'y', type: 'quantitative', scale: null };
  return [
    layer({ type: 'rule', color: COLOUR.rust, strokeWidth: 1.5, opacity: 1 }, rows, {
      x: x('by'),
      x2: { field: 'due' },
      y,
    }),
    layer(
      { type: 'tick', orient: 'vertical', color: COLOUR.rust, thickness: 2.5, size: 9, opacity: 1 },
      rows,
      { x: x('by'), y },
    ),
    diamonds(rows, { x: x('due'), y }, 55),
    label(rows, { x: x('due'), y }, { dx: 7, size: 11, color: COLOUR.rust, bold: true }),
    rowName('order', FIRST_ORDER_AT),
  ];
}

/** Orders placed already come at a hollow circle on the foot of the plot. */
function comingLayers({ events, from }: StockProjection, scaleX: object): Layer[] {
  const rows = events
    .filter(({ kind }) => kind === 'on order')
    .map(({ day, quantity }) => ({ day: dayOf(from, day), label: `+${pieces(quantity)} on order` }));
  if (rows.length === 0) return [];
  const x = onScale('day', scaleX as Record<string, unknown>);
  const y = { value: 8 };
  return [
    circles(rows, { x, y }, 45),
    ...rows.map((row, i) => label([row], { x, y: { value: 8 + 14 * i } }, { dx: 8, size: 11 })),
  ];
}

function rowName(words: string, y: number): Layer {
  return label(
    [{ label: words }],
    { x: { value: 4 - LEFT }, y: { value: y } },
    {
      size: 11,
      color: COLOUR.text,
    },
  );
}

/** What the lines are, at their right ends. */
function endLayers(
  { expected, low, high, reorderPoint, withoutOrders }: StockProjection,
  [least, most]: [number, number],
  width: number,
): Layer[] {
  const last = expected.length - 1;
  const height = (value: number): number =>
    PLOT * (1 - (Math.min(Math.max(value, least), most) - least) / (most - least));
  const end = height(at(expected, last));
  // Both lines of the end stand together; the reorder point keeps to its side of them.
  const point = height(reorderPoint);
  const beside = point > end - 14 && point < end + 28 ? (point < end ? end - 14 : end + 28) : point;
  const words: [number, string, string, boolean][] = [
    [end, `expected ${pieces(at(expected, last))}`, COLOUR.ink, true],
    [end + 14, `80 %: ${range(at(low, last), at(high, last), pieces)}`, COLOUR.text, false],
    [beside, `reorder point ${reorderPoint}`, COLOUR.text, false],
    [height(at(withoutOrders, last)), 'dotted: no orders', COLOUR.text, false],
  ];
  const places = spread(
    words.map(([y]) => y),
    14,
    6,
    PLOT + 8,
  );
  return words.map(([, text, color, bold], i) =>
    label(
      [{ label: text }],
      { x: { value: width + 8 }, y: { value: at(places, i) } },
      {
        color,
        bold,
        size: LABEL_SIZE,
      },
    ),
  );
}
