/**
 * What the orders of one position say of its lives. An order that opened the valve ends the life before it, and its reason is that of this
 * end; any other order lets it go on, a leak that was re-tightened too. A diaphragm whose fitting is on no order is of unknown age
 * (METHODS 1.6), and so is one in whose time an order falls that may have opened the valve.
 */
import { at, floatAt } from '../../numeric/columns.js';
import { fault } from '../cell.js';
import { type Cleaning, isOn } from '../cleaning/rules.js';
import { isLeak } from '../eventTable.js';
import type { RowBook } from '../rowBook.js';
import { REASONS } from '../types.js';
import { groupJobs, jobDay, mergeJob, opened, workOf } from './jobs.js';
import { type Job, NONE, type OrderTable } from './types.js';

/** What is in the valve as far as the orders have been followed. */
export interface InPlace {
  /** `unknown`: no order was met yet. `none`: taken out of service. `built`: it must be there, but no order fitted it. */
  kind: 'unknown' | 'none' | 'order' | 'built' | 'listed';
  /** NaN where not known or in doubt. */
  fitted: number;
  material: number;
  size: number;
  lot: number;
  fittedBy: number;
  recorded: number;
  lastTight: number;
  /** Rows of the orders that fitted it, the one that says most first; empty where none did. */
  rows: readonly number[];
  /** Of `listed`: its place in the draft. */
  listed: number;
}

/** A life that an order ended, or that is in place still: `end` is null. `left`: another was fitted although no order took it out. */
export interface FollowedLife {
  life: InPlace;
  end: Job | null;
  left: boolean;
}

export interface FollowedPosition {
  lives: FollowedLife[];
  /** Taken out of service on this day for good; NaN if not. */
  retired: number;
}

/** What orders told beyond the lives, over all positions. */
export interface Tallies {
  /** Leaks at orders that did not open the valve: how many, and the first row. */
  leaksLeft: { times: number; row: number };
  /** Openings without a reason. */
  withoutReason: number;
  /** Lives whose material no order of the position names. */
  materialTaken: { times: number; row: number };
  /** Lives that lives.csv does not list and no order fitted: how many, and the order that ended the first. */
  built: { times: number; row: number };
  /** Diaphragms in place by lives.csv that a later order took out: how many, and the first such order. */
  listedEnded: { times: number; row: number };
}

/** What following the orders of a position needs beside them. */
export interface Following {
  tallies: Tallies;
  /** The book of orders. */
  book: RowBook;
  cleaning: Cleaning;
}

export function unknownLife(): InPlace {
  return {
    kind: 'unknown',
    fitted: Number.NaN,
    material: NONE,
    size: Number.NaN,
    lot: NONE,
    fittedBy: NONE,
    recorded: Number.NaN,
    lastTight: Number.NaN,
    rows: [],
    listed: -1,
  };
}

/** Follows the orders `ks` of one position, in order of time, from what is in place before the first. */
export function followPosition(
  orders: OrderTable,
  ks: readonly number[],
  start: InPlace,
  { tallies, book, cleaning }: Following,
): FollowedPosition {
  const openings = groupJobs(
    orders,
    ks.filter((k) => opened(orders, k)),
    cleaning,
  ).map((rows) => mergeJob(orders, rows, book));
  const others = ks.filter((k) => !opened(orders, k));
  const found: FollowedPosition = { lives: [], retired: Number.NaN };
  let life = start;
  let next = 0;
  for (const job of openings) {
    for (; next < others.length && dayOf(orders, others[next]) < jobDay(job); next++)
      life = lookedAt(life, orders, others[next] as number, { tallies, book, cleaning });
    life = openedBy(job, life, found);
  }
  for (; next < others.length; next++)
    life = lookedAt(life, orders, others[next] as number, { tallies, book, cleaning });
  close(life, found);
  giveReasons(found, tallies);
  return found;
}

function dayOf(orders: OrderTable, k: number | undefined): number {
  const day = floatAt(orders.day, k ?? -1);
  return Number.isNaN(day) ? -Infinity : day;
}

/** The life after an order that did not open the valve, or may have. */
function lookedAt(
  life: InPlace,
  orders: OrderTable,
  k: number,
  { tallies, book, cleaning }: Following,
): InPlace {
  const work = workOf(orders, k);
  if (work === null) return inDoubt(life);
  const reason = at(orders.reason, k);
  const leaks = reason !== NONE && isLeak(REASONS[reason] ?? 'unknown');
  if (leaks) {
    if (tallies.leaksLeft.times === 0) tallies.leaksLeft.row = at(orders.row, k);
    tallies.leaksLeft.times += 1;
  }
  const named = at(orders.material, k);
  const other = named !== NONE && life.material !== NONE && named !== life.material;
  if (other && isOn(cleaning, 'material_within_life')) {
    book.ask(at(orders.row, k), 'material', null, OTHER_MATERIAL);
    return inDoubt(life);
  }
  return work === 'tested' && !leaks ? { ...life, lastTight: floatAt(orders.day, k) } : life;
}

const OTHER_MATERIAL = fault(
  'material-within-life',
  'The order names another material than the one that was fitted, so a replacement may be missing: the life counts as one of unknown age.',
  'Give the order that replaced it, or correct the material.',
);

/** A life of unknown age: what is in place may be another diaphragm by now. */
export function inDoubt(life: InPlace): InPlace {
  return { ...life, fitted: Number.NaN, lot: NONE, fittedBy: NONE, lastTight: Number.NaN };
}

function openedBy(job: Job, life: InPlace, found: FollowedPosition): InPlace {
  const came = !Number.isNaN(job.out);
  const known = life.kind === 'order' || life.kind === 'listed' || life.kind === 'built';
  if (came) found.lives.push({ life, end: job, left: false });
  else if (known && life.kind !== 'built') found.lives.push({ life, end: null, left: true });
  if (Number.isNaN(job.in)) {
    found.retired = job.out;
    return { ...unknownLife(), kind: 'none', material: life.material };
  }
  found.retired = Number.NaN;
  return {
    kind: 'order',
    fitted: job.in,
    material: job.inDoubt.includes('material') ? NONE : job.material === NONE ? life.material : job.material,
    size: job.size,
    lot: job.lot,
    fittedBy: job.doneBy,
    recorded: job.recorded,
    lastTight: Number.NaN,
    rows: job.rows,
    listed: -1,
  };
}

function close(life: InPlace, found: FollowedPosition): void {
  if (life.kind === 'order') found.lives.push({ life, end: null, left: false });
  else if (life.kind === 'listed') found.lives.push({ life, end: null, left: false });
}

/** A diaphragm taken out for good without a reason was retired with its valve; any other without one left for a reason not known. */
function giveReasons(found: FollowedPosition, tallies: Tallies): void {
  for (const { end } of found.lives) {
    if (end === null || end.reason !== NONE) continue;
    if (end.out === found.retired && Number.isNaN(end.in)) end.reason = REASONS.indexOf('retired');
    else {
      end.reason = REASONS.indexOf('unknown');
      tallies.withoutReason += 1;
    }
  }
}
