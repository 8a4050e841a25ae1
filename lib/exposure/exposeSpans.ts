/** Readings of counters become counts over spans of time, such as lives. */
import type { Position, ReadingTable, Site } from '../fleet/types.js';
import { checkReadings, checkSpans, exposureLimits } from './checkExposure.js';
import { exposureFindings } from './exposureFindings.js';
import {
  type CounterColumns,
  type CounterTables,
  type ExposureFindings,
  type ExposureLimits,
  type ExposureOptions,
  UNKNOWN,
} from './exposureTypes.js';
import { followPosition, readingsWork } from './followPosition.js';
import { sortReadings } from './sortReadings.js';

/** What of a fleet is needed: columns of readings from elsewhere do as well (see `readingColumns`). */
export interface CountedFleet {
  positions: readonly CountedPosition[];
  readings: ReadingTable;
  site: Pick<Site, 'dataUntil'>;
}

/** What of a position is needed. */
export type CountedPosition = Pick<
  Position,
  | 'position'
  | 'strokesPerDay'
  | 'steamCyclesPerWeek'
  | 'hotCleansPerWeek'
  | 'inServiceSince'
  | 'outOfServiceSince'
  | 'idle'
>;

/** Spans of time as columns: index into `positions`, first and last day. A span with a NaN end is not known and stays so. */
export interface DaySpans {
  position: Int32Array;
  from: Float64Array;
  to: Float64Array;
}

export interface ExposedSpans extends CounterTables {
  length: number;
  findings: ExposureFindings;
}

/**
 * Counts of strokes, steam cycles and hot cleans over spans of time, each with how well it is known. A reading and the two ends of a span
 * on one day are taken as one moment. The spans of a position tell where diaphragms were fitted (a counter set to zero there is
 * recognised) and whether a reading lies outside all of them.
 *
 * One pass over the readings, sorted once: 5 million take about a second.
 * @throws UsageError for columns of different length, positions that do not exist, days that are no whole numbers, spans that end before they
 * begin, and limits that make no sense
 */
export function exposeSpans(
  fleet: CountedFleet,
  spans: DaySpans,
  options: ExposureOptions = {},
): ExposedSpans {
  const limits = exposureLimits('exposeSpans', options);
  checkReadings('exposeSpans', fleet.readings, fleet.positions.length);
  checkSpans('exposeSpans', spans, fleet.positions.length);
  return followSpans(fleet, spans, new Uint8Array(spans.position.length).fill(1), limits);
}

/** Preconditions as `exposeSpans` checks them. `isLife`: 1 for spans that are lives; the others only ask. */
export function followSpans(
  fleet: CountedFleet,
  spans: DaySpans,
  isLife: Uint8Array,
  limits: ExposureLimits,
): ExposedSpans {
  const { readings, positions } = fleet;
  const rows = sortReadings(readings.position, readings.date, positions.length);
  const length = spans.position.length;
  const tables: CounterTables = {
    strokes: counterColumns(length),
    steamCycles: counterColumns(length),
    hotCleans: counterColumns(length),
  };
  const asked = sortReadings(
    spans.position,
    spans.from.map((day) => (Number.isNaN(day) ? 0 : day)),
    positions.length,
  );
  const work = readingsWork(fleet, { spans, isLife, rows, asked, limits, tables });
  for (let p = 0; p < positions.length; p++) followPosition(work, p);
  return { length, ...tables, findings: exposureFindings(work) };
}

function counterColumns(length: number): CounterColumns {
  const real = (): Float64Array => new Float64Array(length).fill(Number.NaN);
  const mark = (): Uint8Array => new Uint8Array(length).fill(UNKNOWN);
  return {
    exposure: real(),
    byRate: real(),
    mark: mark(),
    atStart: real(),
    atEnd: real(),
    markAtStart: mark(),
    markAtEnd: mark(),
  };
}
