/**
 * Orders of one position as jobs. Two orders of one day are one job, and so are lines of one order number within three days: one diaphragm
 * came out and one went in. What one order leaves open another may say; where they contradict each other nothing is taken for true.
 */
import { at, floatAt } from '../../numeric/columns.js';
import { type Fault, fault } from '../cell.js';
import type { RowBook } from '../rowBook.js';
import { FINDINGS_AT_REMOVAL, REASONS } from '../types.js';
import { type Job, NONE, type OrderTable, WORKS, type Work } from './types.js';

/** Lines of one order number that lie at most so many days apart are one job. */
export const ONE_JOB_DAYS = 3;

const UNKNOWN_REASON = REASONS.indexOf('unknown');
const UNKNOWN_FINDING = FINDINGS_AT_REMOVAL.indexOf('unknown');

export function workOf(orders: OrderTable, k: number): Work | null {
  return WORKS[at(orders.work, k)] ?? null;
}

/** Whether a diaphragm came out. One that was fitted with a reason or a finding was fitted in the place of another. */
export function tookOut(orders: OrderTable, k: number): boolean {
  const work = workOf(orders, k);
  if (work === 'fitted') return at(orders.reason, k) !== NONE || at(orders.finding, k) !== NONE;
  return work === 'replaced' || work === 'opened' || work === 'removed';
}

/** Whether one went in. */
export function putIn(orders: OrderTable, k: number): boolean {
  const work = workOf(orders, k);
  return work === 'replaced' || work === 'opened' || work === 'fitted';
}

export function opened(orders: OrderTable, k: number): boolean {
  return tookOut(orders, k) || putIn(orders, k);
}

/** Orders that are one job; `openings` are orders of one position that opened the valve, in order of time. */
export function groupJobs(orders: OrderTable, openings: readonly number[], joined = true): number[][] {
  const jobs: number[][] = [];
  for (const k of openings) {
    const last = jobs[jobs.length - 1];
    if (joined && last !== undefined && isSameJob(orders, last[0] as number, k)) last.push(k);
    else jobs.push([k]);
  }
  return jobs;
}

function isSameJob(orders: OrderTable, first: number, k: number): boolean {
  const apart = floatAt(orders.day, k) - floatAt(orders.day, first);
  const number = at(orders.order, first);
  return apart === 0 || (apart <= ONE_JOB_DAYS && number !== NONE && number === at(orders.order, k));
}

/** The orders of one job as one; which rows say nothing more is noted in the book, and those are set aside. */
export function mergeJob(orders: OrderTable, rows: readonly number[], book: RowBook): Job {
  const ranked = [...rows].sort((a, b) => filled(orders, b) - filled(orders, a) || a - b);
  const lead = ranked[0] as number;
  const job = jobOf(orders, lead);
  for (const k of ranked.slice(1)) {
    const told = addOrder(job, orders, k);
    const row = at(orders.row, k);
    if (told === 'nothing new') book.setAside(row, null, null, repeated(job.row));
    else {
      job.rows.push(row);
      if (told === 'more') book.mend(row, null, null, merged(job.row));
      else book.mend(row, told, null, contradicted(told, job.row));
    }
  }
  return job;
}

function filled(orders: OrderTable, k: number): number {
  const words = [orders.reason, orders.finding, orders.material, orders.lot, orders.doneBy];
  const known = words.filter((column) => at(column, k) !== NONE).length;
  const both = tookOut(orders, k) && putIn(orders, k) ? 1 : 0;
  return known + both + (Number.isNaN(floatAt(orders.size, k)) ? 0 : 1);
}

function jobOf(orders: OrderTable, k: number): Job {
  const day = floatAt(orders.day, k);
  return {
    out: tookOut(orders, k) ? day : Number.NaN,
    in: putIn(orders, k) ? day : Number.NaN,
    reason: reasonOf(orders, k),
    finding: at(orders.finding, k),
    material: at(orders.material, k),
    size: floatAt(orders.size, k),
    lot: at(orders.lot, k),
    doneBy: at(orders.doneBy, k),
    recorded: floatAt(orders.recorded, k),
    row: at(orders.row, k),
    rows: [at(orders.row, k)],
    materialInDoubt: false,
  };
}

/** A valve that was opened for other work needs no further reason. */
function reasonOf(orders: OrderTable, k: number): number {
  const reason = at(orders.reason, k);
  return reason === NONE && workOf(orders, k) === 'opened' ? REASONS.indexOf('opened') : reason;
}

/** Adds what an order says to the job: nothing new, more, or the column in which it contradicts. */
function addOrder(
  job: Job,
  orders: OrderTable,
  k: number,
): 'nothing new' | 'more' | 'reason' | 'finding' | 'material' {
  const other = jobOf(orders, k);
  // An order of the kind "opened" without a reason of its own does not contradict the one that gives it.
  if (at(orders.reason, k) === NONE && job.reason !== NONE) other.reason = job.reason;
  const before = { ...job };
  const first = earlier(jobDay(job), jobDay(other));
  job.out = Number.isNaN(earlier(job.out, other.out)) ? Number.NaN : first;
  job.in = earlier(job.in, other.in);
  job.size = Number.isNaN(job.size) ? other.size : job.size;
  job.lot = job.lot === NONE ? other.lot : job.lot;
  job.doneBy = job.doneBy === NONE ? other.doneBy : job.doneBy;
  job.recorded = Number.isNaN(job.recorded) ? other.recorded : job.recorded;
  const reason = joined(job.reason, other.reason, UNKNOWN_REASON);
  const finding = joined(job.finding, other.finding, UNKNOWN_FINDING);
  const material = joined(job.material, other.material, NONE);
  job.reason = reason.value;
  job.finding = finding.value;
  job.material = material.value;
  if (material.contradicts) {
    job.materialInDoubt = true;
    return 'material';
  }
  if (reason.contradicts) return 'reason';
  if (finding.contradicts) return 'finding';
  return same(before, job) ? 'nothing new' : 'more';
}

function earlier(a: number, b: number): number {
  if (Number.isNaN(a)) return b;
  return Number.isNaN(b) ? a : Math.min(a, b);
}

/** Two words of which one may be empty or the word for unknown; `none` where they contradict each other. */
function joined(a: number, b: number, none: number): { value: number; contradicts: boolean } {
  if (b === NONE || b === none || a === b) return { value: a === NONE ? b : a, contradicts: false };
  if (a === NONE || a === none) return { value: b, contradicts: false };
  return { value: none, contradicts: true };
}

function same(a: Job, b: Job): boolean {
  return (Object.keys(a) as (keyof Job)[]).every((key) => key === 'rows' || Object.is(a[key], b[key]));
}

function repeated(row: number): Fault {
  return fault(
    'order-repeated',
    `It is the same job as row ${row}, which says as much or more: one diaphragm was replaced, not two.`,
    'Nothing, if it was one job; otherwise correct the date.',
  );
}

function merged(row: number): Fault {
  return fault(
    'orders-merged',
    `It is the same job as row ${row}; what each of them says is put together.`,
    'Nothing, if it was one job; otherwise correct the date.',
  );
}

const IN_ITS_PLACE = {
  reason: 'the reason counts as unknown',
  finding: 'the finding counts as unknown',
  material: 'the life that began then is set aside',
} as const;

function contradicted(column: keyof typeof IN_ITS_PLACE, row: number): Fault {
  const text = `It is the same job as row ${row} and gives another ${column}; ${IN_ITS_PLACE[column]}.`;
  return fault('orders-contradict', text, 'Correct the one that is wrong.');
}

export function jobDay(job: Job): number {
  return earlier(job.out, job.in);
}
