/** What the parts of the plant program hand to each other. Days are whole numbers since 1970-01-01. */
import type { DutyDesign } from './design.js';

export interface PlantOptions {
  /** Whole number; the same seed gives the same plant. */
  seed: number;
  /** Some positions wear faster than their group; true by default. */
  worsePositions?: boolean;
  /** One lot wears faster; true by default. */
  poorLot?: boolean;
  /** By how much of the usual scale; 0.5 by default. */
  poorLotFactor?: number;
  /** One fitter makes five times as many faulty fittings as the others; false by default. */
  poorFitter?: boolean;
  /** Of what was fitted in one week of a shutdown, three in ten were fitted badly; false by default. */
  poorWeek?: boolean;
  /**
   * What lives run in; 'days' by default. With another clock each counter of a position has a use of its own, and wear-out goes with the
   * counts: at the usual rate of the duty as in days, at twice the rate twice as fast. Equivalent hours are those of its steam.
   */
  clock?: 'days' | 'steam cycles' | 'hot cleans' | 'strokes' | 'equivalent hours';
  /** Steam of a position is held at one of two temperatures, and positions.csv tells which; false by default. */
  temperatures?: boolean;
  /** The files hold ordinary mistakes; true by default. */
  dataFaults?: boolean;
  /** Times as many positions in every group; 1 by default. */
  times?: number;
}

/** One valve of the plant, with what only the truth knows. */
export interface TruePosition {
  index: number;
  tag: string;
  /** Tag before it was renamed, and the day it was; null where it never was. */
  former: { tag: string; until: number } | null;
  line: string;
  duty: DutyDesign;
  material: string;
  size: number;
  shape: number;
  /** Scale of its own wear-out, days: that of its group, or less for a worse position. */
  scale: number;
  worse: boolean;
  accessories: number;
  steamPerWeek: number;
  /** Degrees C of its steam; null where there is none, or where it is not told. */
  steamCelsius: number | null;
  strokesPerDay: number;
  hotCleansPerWeek: number;
  commissioned: number;
  retired: number | null;
}

export type Reason = 'leak' | 'failed_test' | 'condition' | 'scheduled' | 'opened' | 'retired';

/** One diaphragm as it really was. */
export interface TrueLife {
  position: TruePosition;
  lot: string;
  fitted: number;
  /** Null while running. */
  removed: number | null;
  reason: Reason | null;
  /** What ended it, or would have: 'fault' where the fitting was faulty and leaked before it wore out. */
  mode: 'wear' | 'fault';
  /** Age at which it leaked or would have, days. */
  leakAge: number;
  finding: string;
  lastTight: number | null;
  fitter: string;
}

/** A row of a table by column name; empty text = not known. */
export type Row = Record<string, string>;

/** A mistake put into a file on purpose. `row` counts data rows from 1; null where reading reports the file as a whole. */
export interface PlantedFault {
  code: string;
  file: string;
  row: number | null;
  column: string | null;
  /** What was done to the row, in words. */
  what: string;
}

export interface TrueGroup {
  /** As the plan names it: "EPDM DN 25, bioreactor"; without the duty where the material has only one. */
  name: string;
  material: string;
  size: number;
  duty: string;
  positions: number;
  shape: number;
  scale: number;
  faultShare: number;
  practisedMonths: number;
  /** Lives and leaks that fell between the first and the last day of the records, all of them. */
  lives: number;
  leaks: number;
  worsePositions: number;
}
