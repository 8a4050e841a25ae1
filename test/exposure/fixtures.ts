/** Small plants with counters, made from rows. */
import type { ExposedFleet } from '../../lib/exposure/exposeLives.js';
import type { CountedFleet, DaySpans } from '../../lib/exposure/exposeSpans.js';
import type { ReadingTable } from '../../lib/fleet/types.js';

/** Position, day, strokes, steam cycles, hot cleans; what is left out was not read. */
export type ReadingRow = readonly [number, number, number?, number?, number?];

export interface Duty {
  strokesPerDay?: number;
  steamCyclesPerWeek?: number;
  hotCleansPerWeek?: number;
  idle?: { start: number; end: number }[];
  outOfServiceSince?: number;
  inServiceSince?: number;
}

export function readingTable(rows: readonly ReadingRow[]): ReadingTable {
  const column = (k: number): Float64Array => Float64Array.from(rows, (row) => row[k] ?? Number.NaN);
  return {
    length: rows.length,
    position: Int32Array.from(rows, ([position]) => position),
    date: column(1),
    strokes: column(2),
    steamCycles: column(3),
    hotCleans: column(4),
  };
}

export function counted(
  rows: readonly ReadingRow[],
  duties: readonly Duty[] = [{}],
  dataUntil = 5000,
): CountedFleet {
  const positions = duties.map((duty, p) => ({
    position: `V${p + 1}`,
    strokesPerDay: duty.strokesPerDay ?? null,
    steamCyclesPerWeek: duty.steamCyclesPerWeek ?? null,
    hotCleansPerWeek: duty.hotCleansPerWeek ?? null,
    idle: duty.idle ?? [],
    outOfServiceSince: duty.outOfServiceSince ?? null,
    inServiceSince: duty.inServiceSince ?? null,
  }));
  return { positions, readings: readingTable(rows), site: { dataUntil } };
}

/** Spans of the first position. */
export function spansOf(...spans: readonly (readonly [number, number])[]): DaySpans {
  return {
    position: new Int32Array(spans.length),
    from: Float64Array.from(spans, ([from]) => from),
    to: Float64Array.from(spans, ([, to]) => to),
  };
}

/** Lives of position, fitted, removed, last found tight; NaN where not known or running. */
export function withLives(
  fleet: CountedFleet,
  lives: readonly (readonly [number, number, number, number?])[],
  recordsFrom: number | null = null,
): ExposedFleet {
  const column = (k: number): Float64Array => Float64Array.from(lives, (life) => life[k] ?? Number.NaN);
  return {
    ...fleet,
    site: { ...fleet.site, recordsFrom },
    lives: {
      length: lives.length,
      position: Int32Array.from(lives, ([position]) => position),
      fitted: column(1),
      removed: column(2),
      lastTight: column(3),
    },
  };
}
