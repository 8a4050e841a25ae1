/** The shutdown plan of a fleet as an optimisation: what it is given and what it answers. Plain data, no plant. */
import type { Day } from '../../numeric/day.js';

/** How one kind of diaphragm holds and what it costs when it does not. */
export interface FleetDiaphragm {
  /** Chance that one of an age holds without a leak for some days more; 1 for no days. `mean` of a `Holding` fits. */
  holds: (ageDays: number, days: number) => number;
  /** Whole cost of a leak, its replacement included. */
  leakCost: number;
  /** Openings for other work, at which it is replaced too; 0 where left out. */
  openingsPerYear?: number;
  openingCost?: number;
}

/** One window in which work can be done, with what is shared in it. Null or left out: no limit. */
export interface FleetWindow {
  name: string;
  day: Day;
  /** Hours of all crafts together, and of each craft. */
  crewHours: number | null;
  fitterHours?: number | null;
  instrumentHours?: number | null;
  /** Most lines that may be open, and most replacements. */
  lines?: number | null;
  replacements?: number | null;
}

/** A line, the windows in which its positions can be replaced, and how its calendar goes on after them. */
export interface FleetLine {
  line: string;
  /**
   * Known windows; `stopCost` is paid once if anything is done there (0 where the line stops anyway). Where other work has
   * opened the line already (`isOpen`), it does not count among the lines that may be open.
   */
  windows: readonly { window: string; stopCost: number; isOpen?: boolean }[];
  /** Windows after the known ones, as far ahead as is looked; `made` where the stop is made for the replacements. */
  later: readonly { day: Day; made: boolean }[];
}

/** A position, what is fitted in it and what a replacement takes. */
export interface FleetPosition {
  position: string;
  line: string;
  now: FleetDiaphragm;
  next: FleetDiaphragm;
  /** Age today of what is fitted; several with their chances where it is not known. */
  ages: readonly { age: number; chance: number }[];
  /** Own cost of a planned replacement, without the stop. */
  replacementCost: number;
  /** Share of a stop that a replacement pays in windows made for it: after a leak, and after the known windows. */
  stopShare: number;
  fitterHours: number;
  instrumentHours: number;
  item: string | null;
  /** Days: never older at the next window (a maker's limit); null = none. */
  latestAge: number | null;
  /** First day out of service; null = none known. */
  until: Day | null;
  /** How much a demand of it that is not met counts, in `unmetCost`; 1 where left out. */
  unmetWeight?: number;
}

/** Diaphragms of one item that can be there by a window, counted from today; null = no limit at that window. */
export interface FleetStock {
  item: string;
  ready: readonly { window: string; pieces: number }[];
}

export interface FleetProblem {
  today: Day;
  windows: readonly FleetWindow[];
  lines: readonly FleetLine[];
  positions: readonly FleetPosition[];
  stock?: readonly FleetStock[];
  /** Positions that must be replaced in a window. */
  must?: readonly { position: string; window: string }[];
  /** A position, or all of a line, that must not be touched in a window. */
  frozen?: readonly ({ position: string; window: string } | { line: string; window: string })[];
}

export interface FleetOptions {
  /** Most rounds of the search for prices; 300 by default. */
  rounds?: number;
  /** The search ends when the plan is within this share of the best possible; 0.001 by default. */
  gap?: number;
  /** Amount that a demand not met counts; ten times the dearest leak by default. */
  unmetCost?: number;
  /**
   * Another plan to be priced alike, and to start from: names of windows by position; a position left out is never
   * replaced. Where it is within the limits, the answer is no dearer.
   */
  against?: ReadonlyMap<string, readonly string[]>;
}

export type LimitKind =
  | 'crew hours'
  | 'fitter hours'
  | 'instrument hours'
  | 'lines'
  | 'replacements'
  | 'stock';

/** A shared limit of the plan that is used up, or nearly, or has a price. */
export interface FleetLimit {
  window: string;
  limit: LimitKind;
  item: string | null;
  available: number;
  used: number;
  /** What would be used if nothing were limited: each position at its own best. */
  wanted: number;
  /**
   * What one more unit (hour, line, piece) saves on average, by the price at which the lower bound is highest: right
   * for a change of many units, an average for a single one. 0 where the limit does not bind.
   */
  savingPerUnit: number;
}

/** What was asked for and cannot be had. */
export interface FleetUnmet {
  position: string;
  window: string;
  demand: 'must' | 'latest age';
  /** True where a shared limit is why: more of it would meet the demand. */
  short: boolean;
  because: string;
}

/** What is planned for one position. */
export interface FleetChoice {
  position: string;
  /** Names of the windows, in order of date. A leak before a window drops the task. */
  windows: string[];
  /** The same if nothing were limited and stops cost their share. */
  unlimited: string[];
  /** Expected cost by the plan, and if it went by `unlimited`. */
  cost: number;
  unlimitedCost: number;
}

export interface FleetOptimum {
  choices: FleetChoice[];
  /**
   * Expected cost from today to each line's last window: replacements, leaks, openings, stops; and how much dearer what
   * is in place then is to go on with than a fresh diaphragm.
   */
  cost: number;
  /** No plan within the limits costs less, demands that are not met counted at `unmetCost`. */
  lowerBound: number;
  /** No plan costs less whatever demands it misses: every position at its own least cost, nothing limited, stops free. */
  leastCost: number;
  /** Most that another plan could save, as a share of the cost; demands not met are counted at `unmetCost`. */
  gap: number;
  /** Expected cost of the other plan that was given to be priced, within the limits or not; null without one. */
  againstCost: number | null;
  /** Amount at which each demand that is not met counts in bound and gap. */
  unmetCost: number;
  limits: FleetLimit[];
  unmet: FleetUnmet[];
  /** 'best': nothing better exists; 'close': within the gap asked for; 'rounds': they were used up; 'stalled': prices no longer move. */
  status: 'best' | 'close' | 'rounds' | 'stalled' | 'nothing to plan';
  rounds: number;
}
