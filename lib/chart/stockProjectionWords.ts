/** What the course of a shelf says, in words and as a table. */
import { at } from '../numeric/columns.js';
import { dayFromText, textFromDay } from '../numeric/day.js';
import type { StockProjection } from '../stock/projectStock.js';
import type { Cell, Chart } from './types.js';
import { count, dateWords, listed, pieces, plainName, range } from './words.js';

/** Kits and orders named in the description. */
const MOST_NAMED = 6;

export function projectionFinding(projection: StockProjection): string {
  const { expected, low, high, orders } = projection;
  const i = lowest(expected);
  const now = `${pieces(at(expected, 0))} usable today`;
  const least = `${i === 0 ? 'that is the least' : `least ${pieces(at(expected, i))} on ${dateOf(projection, i)}`} (80 %: ${range(at(low, i), at(high, i), pieces)})`;
  return `${now}, ${least}; ${ordersWords(orders)}; ${emptyWords(projection)}`;
}

/** Index of the least of some values, the first where several are. */
function lowest(values: readonly number[]): number {
  return values.reduce((least, value, i) => (value < at(values, least) ? i : least), 0);
}

function dateOf({ from, days }: StockProjection, i: number): string {
  return dateWords(textFromDay((dayFromText(from) ?? 0) + Math.floor(at(days, i))));
}

function ordersWords(orders: StockProjection['orders']): string {
  const first = [...orders].sort((a, b) => (a.orderBy < b.orderBy ? -1 : 1))[0];
  if (first === undefined) return 'nothing to order';
  const all = orders.reduce((sum, { quantity }) => sum + quantity, 0);
  return `${count(orders.length, 'order')} of ${pieces(all)} in all, the first by ${dateWords(first.orderBy)}`;
}

function emptyWords(projection: StockProjection): string {
  const empty = projection.withoutOrders.findIndex((value) => value < 0.5);
  const without = projection.orders.length === 0 ? 'the shelf' : 'without them the shelf';
  return empty < 0 ? `${without} lasts` : `${without} is empty on ${dateOf(projection, empty)}`;
}

export function projectionDescription(projection: StockProjection): string {
  const { events, orders, reorderPoint } = projection;
  const kits = events.filter(({ kind }) => kind === 'kit');
  const expired = events.filter(({ kind }) => kind === 'expired');
  const coming = events.filter(({ kind }) => kind === 'on order');
  const sentences = [
    `${projectionFinding(projection)}.`,
    listOf(
      'Kits',
      kits.map(({ name, day, quantity }) => `${plainName(name)} ${dateWords(day)} ${pieces(-quantity)}`),
    ),
    listOf(
      'To order',
      orders.map(
        ({ quantity, orderBy, dueBy, for: purpose }) =>
          `${quantity} by ${dateWords(orderBy)}, there ${dateWords(dueBy)}, for ${plainName(purpose)}`,
      ),
    ),
    listOf(
      'On order',
      coming.map(({ day, quantity }) => `${pieces(quantity)} there ${dateWords(day)}`),
    ),
    listOf(
      'Expires unused',
      expired.map(({ day, quantity }) => `${pieces(-quantity)} on ${dateWords(day)}`),
    ),
    `Reorder point for leaks and openings alone: ${reorderPoint}. The range is that of leaks and openings with the orders as listed; they are worked out anew at every review. Below 0 so many wait for a piece.`,
  ];
  return sentences.filter((sentence) => sentence !== '').join(' ');
}

function listOf(what: string, names: readonly string[]): string {
  return names.length === 0 ? '' : `${what}: ${listed(names, MOST_NAMED)}.`;
}

const KINDS = {
  'on order': 'comes (on order)',
  'ordered here': 'comes (to order)',
  kit: 'kit',
  expired: 'expires',
};

/** Every event with the shelf after it. */
export function projectionTable({
  from,
  days,
  expected,
  low,
  high,
  events,
}: StockProjection): Chart['table'] {
  const start = dayFromText(from) ?? 0;
  const after = (day: string): number => {
    const moment = (dayFromText(day) ?? start) - start;
    const i = days.findIndex((each) => each >= moment);
    return i < 0 ? days.length - 1 : i;
  };
  const row = (day: string, what: string, pieceWords: string, name: string, i: number): Cell[] => [
    dateWords(day),
    what,
    pieceWords,
    plainName(name),
    pieces(at(expected, i)),
    range(at(low, i), at(high, i), pieces),
  ];
  return {
    columns: ['Day', 'What', 'Pieces', 'Name', 'Shelf after it', '80 % range'],
    rows: [
      row(from, 'today', '', '', 0),
      ...events.map(({ day, kind, quantity, name }) =>
        row(day, KINDS[kind], `${quantity < 0 ? '−' : '+'}${pieces(Math.abs(quantity))}`, name, after(day)),
      ),
    ],
  };
}
