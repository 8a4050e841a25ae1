/** How lives are counted on other clocks than days: options, columns and findings. */

/** Counters of readings.csv, in the order in which they are worked on. */
export const COUNTERS = ['strokes', 'steamCycles', 'hotCleans'] as const;
export type CounterName = (typeof COUNTERS)[number];

/**
 * How well a number is known, from best to worst. Columns of marks index into this.
 *
 * - `measured`: a reading within a few days (`nearDays`).
 * - `interpolated`: between two readings of one run of the counter, in proportion to the days in use.
 * - `bridged`: over a step that readings do not tell, or between readings far apart, by the position's own rate.
 * - `extrapolated`: before the first or after the last reading, by the position's own rate.
 * - `assumed`: by the duty in positions.csv.
 * - `unknown`: neither readings nor duty say it; the number is NaN.
 */
export const EXPOSURE_MARKS = [
  'measured',
  'interpolated',
  'bridged',
  'extrapolated',
  'assumed',
  'unknown',
] as const;
export type ExposureMark = (typeof EXPOSURE_MARKS)[number];

export const MEASURED = 0;
export const INTERPOLATED = 1;
export const BRIDGED = 2;
export const EXTRAPOLATED = 3;
export const ASSUMED = 4;
export const UNKNOWN = 5;

export interface ExposureOptions {
  /** A reading so close measures, days; 7 by default. */
  nearDays?: number;
  /** Between readings further apart a number is `bridged`, days; 400 by default. */
  longestInterpolationDays?: number;
  /** A step that readings do not tell is bridged by the own rate up to this, days; 400 by default, and never longer than it was measured over. */
  longestBridgeDays?: number;
  /** Beyond the readings the own rate goes at most so far, days; 365 by default, and never longer than it was measured over. */
  longestExtrapolationDays?: number;
  /** A counter that does not move for half a year though it used to: it stood still (bridged), or the valve was idle (0 counts). */
  flat?: 'stood still' | 'idle';
  /** How many events of one kind are listed; all are counted. 50 by default. */
  mostListed?: number;
}

export type ExposureLimits = Required<ExposureOptions>;

/** Counts over spans of time, a row each. A number that is not known is NaN. */
export interface CounterColumns {
  /** Counts from the start of the span to its end. */
  exposure: Float64Array;
  /** Of these, counts that come from a rate and not from readings. */
  byRate: Float64Array;
  /** The worst that `exposure` rests on, both ends and every step between them: index into EXPOSURE_MARKS. */
  mark: Uint8Array;
  /** The counter at both ends, mended: it begins with the first reading of the position, and every rise is added. */
  atStart: Float64Array;
  atEnd: Float64Array;
  /** How well the counter is known at both ends: index into EXPOSURE_MARKS. */
  markAtStart: Uint8Array;
  markAtEnd: Uint8Array;
}

export type CounterTables = Record<CounterName, CounterColumns>;

/** What a counter did that is not simply rising. */
export const COUNTER_EVENTS = [
  'rolled-over',
  'reset',
  'reset-at-fitting',
  'replaced',
  'jumped',
  'misread',
  'zero-for-missing',
  'two-values-on-a-day',
  'stood-still',
  'never-moved',
  'rose-while-idle',
  'rate-unlike-duty',
] as const;
export type CounterEventCode = (typeof COUNTER_EVENTS)[number];

/** One event of one counter, with what was made of it. */
export interface CounterEvent {
  code: CounterEventCode;
  position: string;
  counter: CounterName;
  /** The readings before and after; for `rate-unlike-duty` the rate per day from readings and from positions.csv, on the days they span. */
  before: { date: string; value: number };
  after: { date: string; value: number };
  text: string;
  todo: string;
}

/** Why a reading is not used. */
export const ASIDE_REASONS = [
  'empty',
  'not-a-count',
  'after-data',
  'no-life',
  'twice-on-a-day',
  'misread',
  'zero-for-missing',
  'never-moved',
] as const;
export type AsideReason = (typeof ASIDE_REASONS)[number];

/** Readings set aside for one reason. */
export interface ReadingsAside {
  code: AsideReason;
  number: number;
  text: string;
  todo: string;
}

/** One counter: values in = used + set aside. */
export interface CounterFindings {
  counter: CounterName;
  valuesIn: number;
  valuesUsed: number;
  valuesSetAside: number;
  setAside: ReadingsAside[];
  /** How many spans (lives) have each mark, and their share; spans without a known start are left out. */
  marks: { mark: ExposureMark; number: number; share: number }[];
  /** Of all counts, the share that comes from a rate and not from readings. */
  shareByRate: number;
  text: string;
}

/** What was found about readings. Rows in = used + set aside; a row is used where one of its counters is. */
export interface ExposureFindings {
  rowsIn: number;
  rowsUsed: number;
  rowsSetAside: number;
  setAside: ReadingsAside[];
  /** Used rows on days on which no diaphragm is on record: they serve for rates and for what lies between. */
  rowsOutsideLives: number;
  counters: CounterFindings[];
  /** The first events of each kind, by position. */
  events: CounterEvent[];
  /** How many there are of each kind. */
  eventCounts: { code: CounterEventCode; number: number }[];
  /** The limits that were applied. */
  limits: ExposureLimits;
  text: string;
}
