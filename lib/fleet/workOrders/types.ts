/** What a work order says was done, and the orders of a plant as columns. */
import type { Day } from '../../numeric/day.js';

/**
 * - `replaced`, `opened`: a diaphragm came out and a new one went in; one that was taken out is never put back.
 * - `fitted`: one went in where none was; with a reason or a finding it took one out as well.
 * - `removed`: one came out and none went in: the valve was taken out of service.
 * - `tested`: found tight in place. `retightened`, `inspected` (from outside), `calibrated`: the valve stayed closed.
 * - `cancelled`: nothing was done.
 */
export const WORKS = [
  'replaced',
  'opened',
  'fitted',
  'removed',
  'retightened',
  'inspected',
  'tested',
  'calibrated',
  'cancelled',
] as const;

export type Work = (typeof WORKS)[number];

/** A cell that is empty, in columns of numbers of words and names. */
export const NONE = -1;
/** In place of a work: what was done cannot be read, so that the valve may have been opened. */
export const DOUBTFUL = WORKS.length;

/** Orders as columns with room for every row. */
export interface OrderTable {
  length: number;
  readonly position: Int32Array;
  /** NaN where it cannot be read; such an order stands for a doubt only. */
  readonly day: Float64Array;
  /** Index into WORKS, or DOUBTFUL. */
  readonly work: Uint8Array;
  /** Index into REASONS or NONE. */
  readonly reason: Int8Array;
  /** Index into FINDINGS_AT_REMOVAL or NONE. */
  readonly finding: Int8Array;
  readonly material: Int32Array;
  /** DN; NaN where not given. */
  readonly size: Float64Array;
  readonly lot: Int32Array;
  readonly doneBy: Int32Array;
  /** Number of the order among the names of orders, or NONE. */
  readonly order: Int32Array;
  readonly recorded: Float64Array;
  readonly row: Int32Array;
}

export function orderTable(capacity: number): OrderTable {
  return {
    length: 0,
    position: new Int32Array(capacity),
    day: new Float64Array(capacity),
    work: new Uint8Array(capacity),
    reason: new Int8Array(capacity),
    finding: new Int8Array(capacity),
    material: new Int32Array(capacity),
    size: new Float64Array(capacity),
    lot: new Int32Array(capacity),
    doneBy: new Int32Array(capacity),
    order: new Int32Array(capacity),
    recorded: new Float64Array(capacity),
    row: new Int32Array(capacity),
  };
}

/** One opening of a valve, from one order or from several that are the same job. */
export interface Job {
  /** Day the diaphragm came out; NaN where none did. */
  out: Day;
  /** Day one went in; NaN where none did. */
  in: Day;
  reason: number;
  finding: number;
  material: number;
  size: number;
  lot: number;
  doneBy: number;
  recorded: number;
  /** The row that says most. */
  row: number;
  /** Rows of all its orders that say something, that one first. */
  rows: number[];
  /** Columns in which its orders contradict each other. */
  inDoubt: readonly ('reason' | 'finding' | 'material')[];
}
