/**
 * Orders of one position as jobs. Two orders of one day are one job, and so are lines of one order number within three days: one diaphragm
 * came out and one went in. What one order leaves open another may say; where they contradict each other nothing is taken for true.
 */
import { at, floatAt } from '../../numeric/columns.js';
import { type Fault, fault } from '../cell.js';
import { type Cleaning, isOn, isTooMuch } from '../cleaning/rules.js';
import type { RowBook } from '../rowBook.js';
import { FINDINGS_AT_REMOVAL, REASONS } from '../types.js';
import { type Job, NONE, type OrderTable, WORKS, type Work } from './types.js';

/** Lines of one order number that lie at most so many days apart are one job. */
export const ONE_JOB_DAYS = 3;

/** Columns in which orders may contradict each other, and what then stands in them. */
const UNKNOWN = {
  reason: REASONS.indexOf('unknown'),
  finding: FINDINGS_AT_REMOVAL.indexOf('unknown'),
  material: NONE,
};
type Contradicted = keyof typeof UNKNOWN;

const OPENED = REASONS.indexOf('opened');

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
export function groupJobs(orders: OrderTable, openings: readonly number[], cleaning: Cleaning): number[][] {
  const jobs: number[][] = [];
  for (const k of openings) {
    const last = jobs[jobs.length - 1];
    if (last !== undefined && isSameJob(orders, last[0] as number, k, cleaning)) last.push(k);
    else jobs.push([k]);
  }
  return jobs;
}

function isSameJob(orders: OrderTable, first: number, k: number, cleaning: Cleaning): boolean {
  if (!isOn(cleaning, 'repeated_rows')) return false;
  const apart = floatAt(orders.day, k) - floatAt(orders.day, first);
  if (apart === 0) return true;
  if (apart > ONE_JOB_DAYS || isTooMuch(cleaning, 'repeated_rows', apart)) return false;
  const number = at(orders.order, first);
  return number !== NONE && number === at(orders.order, k);
}

/** The orders of one job as one; which rows say nothing more is noted in the book, and those are set aside. */
export function mergeJob(orders: OrderTable, rows: readonly number[], book: RowBook): Job {
  const ranked = [...rows].sort((a, b) => filled(orders, b) - filled(orders, a) || a - b);
  const job = jobOf(orders, ranked[0] as number);
  for (const k of ranked.slice(1)) {
    const before = { ...job };
    const contradicts = addOrder(job, jobOf(orders, k));
    const row = at(orders.row, k);
    for (const column of contradicts) {
      job.inDoubt = [...job.inDoubt, column];
      book.mend(row, column, null, contradicted(column, job.row));
    }
    if (contradicts.length === 0 && same(before, job)) book.setAside(row, null, null, repeated(job.row));
    else {
      job.rows.push(row);
      if (contradicts.length === 0) book.mend(row, null, null, merged(job.row));
    }
  }
  // A valve that was opened for other work needs no further reason.
  if (job.reason === NONE && rows.some((k) => workOf(orders, k) === 'opened')) job.reason = OPENED;
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
    reason: at(orders.reason, k),
    finding: at(orders.finding, k),
    material: at(orders.material, k),
    size: floatAt(orders.size, k),
    lot: at(orders.lot, k),
    doneBy: at(orders.doneBy, k),
    recorded: floatAt(orders.recorded, k),
    row: at(orders.row, k),
    rows: [at(orders.row, k)],
    inDoubt: [],
  };
}

/** Adds what an order says to the job, and returns the columns in which the two contradict each other. */
function addOrder(job: Job, other: Job): Contradicted[] {
  const first = earlier(jobDay(job), jobDay(other));
  job.out = Number.isNaN(earlier(job.out, other.out)) ? Number.NaN : first;
  job.in = earlier(job.in, other.in);
  job.size = Number.isNaN(job.size) ? other.size : job.size;
  job.lot = job.lot === NONE ? other.lot : job.lot;
  job.doneBy = job.doneBy === NONE ? other.doneBy : job.doneBy;
  job.recorded = Number.isNaN(job.recorded) ? other.recorded : job.recorded;
  return (Object.keys(UNKNOWN) as Contradicted[]).filter((column) => {
    // What two orders contradicted each other about no third one decides.
    if (job.inDoubt.includes(column)) return false;
    const { value, contradicts } = joined(job[column], other[column], UNKNOWN[column]);
    job[column] = value;
    return contradicts;
  });
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

function contradicted(column: Contradicted, row: number): Fault {
  const text = `It is the same job as row ${row} and gives another ${column}; ${IN_ITS_PLACE[column]}.`;
  return fault('orders-contradict', text, 'Correct the one that is wrong.');
}

export function jobDay(job: Job): number {
  return earlier(job.out, job.in);
}
