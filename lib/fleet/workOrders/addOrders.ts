/** Lives from work orders, added to a draft that may hold the lives of lives.csv already. */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { type Day, textFromDay } from '../../numeric/day.js';
import { localDay } from '../../numeric/localWords.js';
import { fault } from '../cell.js';
import type { Cleaning } from '../cleaning/rules.js';
import { type DraftLives, GONE, KEPT } from '../draftLives.js';
import type { RowBook } from '../rowBook.js';
import { FINDINGS_AT_REMOVAL, type Position, REASONS } from '../types.js';
import { askAboutOrders, noTallies } from './askAboutOrders.js';
import { type FollowedLife, followPosition, type InPlace, inDoubt, type Tallies } from './followPosition.js';
import { heldAgainstLives, listedByPosition } from './listedLives.js';
import { DOUBTFUL, type Job, NONE, type OrderTable } from './types.js';

/** Which orders bound a life of the draft: those that fitted it and those that ended it. */
export interface LifeBounds {
  life: number;
  rows: readonly number[];
}

export interface OrderedLives {
  bounds: LifeBounds[];
  /** By position: the day on which an order took its valve out of service for good; NaN where none did. */
  retired: Float64Array;
}

export interface OrderContext {
  positions: readonly Position[];
  dataUntil: Day;
  cleaning: Cleaning;
  /** Number of the material in positions.csv, or NONE: it stands where no order of a position names one. */
  materialOf: (position: Position) => number;
  /** The book of orders. */
  orders: RowBook;
  /** The book of lives (`lifeBook`). */
  lives: RowBook;
}

const UNKNOWN_REASON = REASONS.indexOf('unknown');
const UNKNOWN_FINDING = FINDINGS_AT_REMOVAL.indexOf('unknown');

/**
 * Adds a life for each opening of a valve, and the one in place after the last. Where lives.csv lists lives of a position, orders up to
 * its last day are held against them, and later ones go on from there.
 */
export function addOrders(draft: DraftLives, orders: OrderTable, context: OrderContext): OrderedLives {
  const tallies = noTallies();
  const out: OrderedLives = {
    bounds: [],
    retired: new Float64Array(context.positions.length).fill(Number.NaN),
  };
  const listed = listedByPosition(draft);
  for (const [p, ks] of ordersByPosition(orders, context)) {
    const { start, rest } = heldAgainstLives(draft, listed.get(p) ?? [], orders, ks, context);
    const found = followPosition(orders, rest, start, { ...context, tallies, book: context.orders });
    const place = { p, position: itemAt(context.positions, p) };
    const lives = rest.some((k) => Number.isNaN(floatAt(orders.day, k)))
      ? found.lives.map((one) => ({ ...one, life: inDoubt(one.life) }))
      : found.lives;
    takeMaterials(lives, context.materialOf(place.position), tallies);
    for (const one of lives) addLife(draft, place, one, { out, tallies, context });
    out.retired[p] = found.retired;
  }
  askAboutOrders(tallies, context.orders);
  return out;
}

/** Orders of each position by day, then row; those after the extract are set aside. */
function ordersByPosition(
  orders: OrderTable,
  { dataUntil, orders: book }: OrderContext,
): Map<number, number[]> {
  const byPosition = new Map<number, number[]>();
  for (let k = 0; k < orders.length; k++) {
    const day = floatAt(orders.day, k);
    if (day > dataUntil) {
      if (at(orders.work, k) !== DOUBTFUL)
        book.setAside(at(orders.row, k), 'date', textFromDay(day), afterData(dataUntil));
      continue;
    }
    const p = at(orders.position, k);
    const list = byPosition.get(p);
    if (list === undefined) byPosition.set(p, [k]);
    else list.push(k);
  }
  // An order whose day is not known stands first: it tells nothing of the order of the others.
  const dayOf = (k: number): number =>
    Number.isNaN(floatAt(orders.day, k)) ? -Infinity : floatAt(orders.day, k);
  for (const ks of byPosition.values())
    ks.sort((a, b) => (dayOf(a) < dayOf(b) ? -1 : dayOf(a) > dayOf(b) ? 1 : a - b));
  return byPosition;
}

function afterData(dataUntil: Day) {
  return fault(
    'order-after-data',
    `The work is dated after the extract was made (${localDay(dataUntil)}): that day it was still to come.`,
    'Nothing, if it is planned work; otherwise correct the date, or data_until in site.json.',
  );
}

/** A life whose material no order names takes, where its age is not known, that of the next in its position; else the one of the position. */
function takeMaterials(lives: readonly FollowedLife[], ofPosition: number, tallies: Tallies): void {
  const named = lives.some(({ life }) => life.material !== NONE);
  let next = ofPosition;
  for (const { life, end } of [...lives].reverse()) {
    if (life.material !== NONE) next = life.material;
    else if (!named || Number.isNaN(life.fitted)) {
      life.material = next;
      if (!named && next !== NONE) {
        tallies.materialTaken.times += 1;
        tallies.materialTaken.row ||= life.rows[0] ?? end?.row ?? 0;
      }
    }
  }
}

interface Adding {
  out: OrderedLives;
  tallies: Tallies;
  context: OrderContext;
}

function addLife(
  draft: DraftLives,
  place: { p: number; position: Position },
  { life, end, left }: FollowedLife,
  { out, tallies, context }: Adding,
): void {
  const rows = [...life.rows, ...(end?.rows ?? [])];
  if (life.kind === 'listed') {
    if (end !== null) endListed(draft, life, end, tallies);
    else if (Number.isNaN(life.fitted)) draft.fitted[life.listed] = Number.NaN;
    out.bounds.push({ life: life.listed, rows });
    return;
  }
  if (life.kind === 'built') {
    tallies.built.row ||= end?.row ?? 0;
    tallies.built.times += 1;
  }
  const i = writeLife(draft, place, life, end);
  out.bounds.push({ life: i, rows });
  if (!left && life.material !== NONE) return;
  draft.state[i] = GONE;
  if (left) context.lives.setAside(at(draft.row, i), 'date', null, LEFT_OPEN);
  else context.lives.setAside(at(draft.row, i), 'material', null, NO_MATERIAL);
}

const LEFT_OPEN = fault(
  'life-left-open',
  'Another was fitted in its position since and no order took it out; the day it was removed is not on record.',
  'Give the order that took it out; if every fitting is a replacement, say so in site.json under "values", "work".',
);
const NO_MATERIAL = fault(
  'material-missing',
  'No order says of what material the diaphragm was.',
  'Give the material that was fitted, or the material_next of its position.',
);

function endListed(draft: DraftLives, life: InPlace, end: Job, tallies: Tallies): void {
  const i = life.listed;
  draft.removed[i] = end.out;
  draft.reason[i] = end.reason === NONE ? UNKNOWN_REASON : end.reason;
  draft.finding[i] = end.finding === NONE ? UNKNOWN_FINDING : end.finding;
  draft.lastTight[i] = life.lastTight;
  draft.fitted[i] = life.fitted;
  if (tallies.listedEnded.times === 0) tallies.listedEnded.row = end.row;
  tallies.listedEnded.times += 1;
}

function writeLife(
  draft: DraftLives,
  { p, position }: { p: number; position: Position },
  life: InPlace,
  end: Job | null,
): number {
  const i = draft.length++;
  draft.position[i] = p;
  draft.material[i] = life.material;
  draft.size[i] = Number.isNaN(life.size) ? position.size : life.size;
  draft.fitted[i] = life.fitted;
  draft.removed[i] = end?.out ?? Number.NaN;
  draft.reason[i] = end === null || end.reason === NONE ? UNKNOWN_REASON : end.reason;
  draft.finding[i] = end === null || end.finding === NONE ? UNKNOWN_FINDING : end.finding;
  draft.lastTight[i] = life.lastTight;
  draft.lot[i] = life.lot;
  draft.fittedBy[i] = life.fittedBy;
  draft.recorded[i] = end?.recorded ?? life.recorded;
  draft.row[i] = draft.ordersAfter + (end?.row ?? life.rows[0] ?? 0);
  draft.state[i] = KEPT;
  return i;
}
