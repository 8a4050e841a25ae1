/** A plant's history and settings as read: plain data, days as whole numbers (see numeric/day.ts). */
import type { Findings } from '../findings.js';
import type { Day } from '../numeric/day.js';
import type { Heated, HeatedSite } from './heat/types.js';

export const REASONS = [
  'leak',
  'failed_test',
  'condition',
  'scheduled',
  'opened',
  'retired',
  'unknown',
] as const;
export const FINDINGS_AT_REMOVAL = [
  'sound',
  'worn',
  'cracked',
  'torn',
  'swollen',
  'creased',
  'hardened',
  'unknown',
] as const;
export const CRITICALITIES = ['low', 'normal', 'high', 'safety'] as const;

export type Reason = (typeof REASONS)[number];
export type FindingAtRemoval = (typeof FINDINGS_AT_REMOVAL)[number];
export type Criticality = (typeof CRITICALITIES)[number];

/** One valve in the plant. */
export interface Position extends Heated {
  position: string;
  line: string;
  /** Where in the plant, in its own words; empty where not given. */
  location: string;
  /** Nominal diameter, DN. */
  size: number;
  /** What it does (service class in the plant's own words), empty where not given. */
  duty: string;
  criticality: Criticality;
  steamCyclesPerWeek: number | null;
  strokesPerDay: number | null;
  hotCleansPerWeek: number | null;
  /** How many accessories must be recalibrated after a replacement. */
  accessories: number;
  /** Material that will be fitted next, or null: the last one fitted. */
  materialNext: string | null;
  inServiceSince: Day | null;
  outOfServiceSince: Day | null;
  idle: { start: Day; end: Day }[];
}

/**
 * The lives that reading kept, one row a life, as columns of equal length. A number that is not known is NaN.
 * `reason` and `finding` index into REASONS and FINDINGS_AT_REMOVAL; of a running life they are 'unknown' and mean nothing.
 */
export interface LifeTable {
  readonly length: number;
  /** Index into `Fleet.positions`. */
  readonly position: Int32Array;
  /** Index into `Fleet.materials`. */
  readonly material: Int32Array;
  /** Nominal diameter, DN. */
  readonly size: Float64Array;
  /** Day fitted; NaN where not known (such a life is kept for openings and demand, and left out of fitting). */
  readonly fitted: Float64Array;
  /** Day removed; NaN while running. */
  readonly removed: Float64Array;
  readonly reason: Uint8Array;
  readonly finding: Uint8Array;
  /** Last day a test found it tight; NaN where not known. */
  readonly lastTight: Float64Array;
  /** Index into `Fleet.lotNames`, -1 where not known. */
  readonly lot: Int32Array;
  /** Index into `Fleet.fitters`, -1 where not known. */
  readonly fittedBy: Int32Array;
  /** Day the row was recorded; NaN where not known. */
  readonly recorded: Float64Array;
  /**
   * Data row of lives.csv from 1; 0 for a running life that was built from the history. Of a life from orders: the row of work-orders.csv
   * that ended it, or fitted it where it is running, counted on after the lines of lives.csv where both are there.
   */
  readonly row: Int32Array;
}

/** From this many pieces on, all pieces of an order cost `price` each. */
export interface PriceBreak {
  from: number;
  price: number;
}

/** One material in one size, as stores keeps it. */
export interface Item {
  item: string;
  material: string;
  size: number;
  price: number | null;
  /** Lower prices of larger orders, from the smallest on; empty where there are none. */
  priceBreaks: PriceBreak[];
  leadTimeDays: number | null;
  leadTimeSdDays: number | null;
  pack: number;
  minOrder: number;
  shelfLifeMonths: number | null;
  shelfLifeLeftAtReceiptMonths: number | null;
  onHand: number;
  /** False where on_hand is empty: then 0 is not a count. Left out: an amount above 0 is one. */
  onHandKnown?: boolean;
  emergencyDays: number | null;
  emergencyExtraCost: number | null;
  approvedSubstitute: string | null;
}

/** An order already placed and not yet received. */
export interface OpenOrder {
  item: string;
  quantity: number;
  placed: Day | null;
  due: Day;
}

/** An order that has come. */
export interface Delivery {
  item: string;
  quantity: number;
  placed: Day;
  received: Day;
}

/** Pieces taken from the shelf by month, as stores counts them; months are numbered year x 12 + month - 1. */
export interface MonthlyUse {
  item: string;
  /** The first month given; used[i] and planned[i] are of month first + i, 0 where a month between is not given. */
  first: number;
  used: number[];
  /** Of `used`, for work that was planned. */
  planned: number[];
  /** Months that were given. */
  given: number;
  /** Planned use of months to come. */
  ahead: { month: number; pieces: number }[];
}

/** A lot on the shelf. */
export interface Lot {
  item: string;
  lot: string;
  quantity: number;
  cured: Day | null;
  useBy: Day | null;
}

/** A planned window in which positions can be replaced. */
export interface Shutdown {
  name: string;
  start: Day;
  end: Day;
  /** Hours of the crew in the window; null = no limit given. */
  crewHours: number | null;
  /** Of these at most so many of fitters and of instrument fitters; null = no limit of their own. */
  fitterHours: number | null;
  instrumentHours: number | null;
  /** Most replacements; null = no limit. */
  mostReplacements: number | null;
  /** Most lines that may be down in it; null = no limit. */
  mostLines: number | null;
  /** Tags that must be replaced in it. */
  must: string[];
  /** Tags and lines that must not be touched in it. */
  notOn: string[];
  /** Lines it covers; empty = all. */
  lines: string[];
  /** Whether the stop is made for the replacements or happens anyway. */
  stopFor: 'replacements' | 'anyway';
}

/** Counter readings as columns; a counter not read is NaN. */
export interface ReadingTable {
  readonly length: number;
  readonly position: Int32Array;
  readonly date: Float64Array;
  readonly strokes: Float64Array;
  readonly steamCycles: Float64Array;
  readonly hotCleans: Float64Array;
}

/** Low, likely and high of an amount; all equal where one number was given. */
export interface Spread {
  low: number;
  likely: number;
  high: number;
}

/** Names of the money settings; null = not given, and every result that needs it says so. */
export interface Money {
  /** Per hour, one fitter. */
  labourPerHour: Spread | null;
  /** Per hour, one instrument fitter; null = as `labourPerHour`. */
  instrumentLabourPerHour: Spread | null;
  fittingHours: Spread | null;
  retightenHours: Spread | null;
  recalibrationHoursPerAccessory: Spread | null;
  /** Per line and stop. */
  resteriliseCost: Spread | null;
  /** Per line and stop. */
  plannedStopHours: Spread | null;
  /** Per hour of line downtime: one amount, or one per line (key '' is the amount for lines not named). */
  downtimePerHour: Map<string, Spread> | null;
  leakDowntimeHours: Spread | null;
  /** Chance per leak, 0 to 1. */
  lostBatchProbability: Spread | null;
  batchValue: Spread | null;
  cleanupCost: Spread | null;
  /** Per leak: finding the cause, quality paperwork; null = nothing beyond clean-up. */
  investigationCost: Spread | null;
  /** Per leak: parts beyond the diaphragm; null = none. */
  leakPartsCost: Spread | null;
  /** Share of price per year. */
  holdingRatePerYear: Spread | null;
  orderCost: Spread | null;
  /** By how much money a year later counts for less, a share: 0.08 is 8 %. */
  discountRatePerYear: Spread | null;
}

/** The maker's or site's limit for a material (and size; null = every size). */
export interface Limit {
  material: string;
  size: number | null;
  maxDays: number | null;
  maxStrokes: number | null;
  maxSteamCycles: number | null;
}

export interface Targets {
  /** Share of unplanned demand met at once, by criticality. */
  served: Record<Criticality, number>;
  /** Chance that a shutdown kit is complete on the day. */
  kitComplete: number;
  /** Most money in stock for leaks and openings, in the site's currency; left out = none given. */
  stockBudget?: number;
  /** Survival over the time between shutdowns, by criticality; null = no target. */
  survival: Record<Criticality, number | null>;
}

/** A local store, and the lines it serves. */
export interface Store {
  name: string;
  lines: string[];
  /** From the central store. */
  transportDays: number;
}

export interface Site extends HeatedSite {
  name: string;
  /** ISO 4217. */
  currency: string;
  /** How numbers and dates are written for readers, e.g. 'de-DE'; left out = the house way. */
  locale?: string;
  recordsFrom: Day | null;
  /** The day the extract was made. */
  dataUntil: Day;
  event: 'leak' | 'damage';
  damageFindings: FindingAtRemoval[];
  money: Money;
  limits: Limit[];
  targets: Targets;
  /** Local stores that a central one fills up; left out = one store for all. */
  stores?: Store[];
  horizonMonths: number;
  reviewDays: number;
  /** Settings that were not given and what was assumed instead, in words. */
  assumed: string[];
}

/** Everything known about the plant, checked. */
export interface Fleet {
  site: Site;
  positions: Position[];
  /** Names of the materials, in the order of first appearance. */
  materials: string[];
  lotNames: string[];
  fitters: string[];
  lives: LifeTable;
  readings: ReadingTable;
  items: Item[];
  orders: OpenOrder[];
  /** Orders that have come, with the day placed: what lead times are seen in. */
  deliveries: Delivery[];
  monthlyUse: MonthlyUse[];
  lots: Lot[];
  shutdowns: Shutdown[];
  /** Files that were there, e.g. 'items.csv'. */
  filesRead: string[];
  findings: Findings;
  /** SHA-256 over the bytes of the files read, in name order. */
  inputsHash: string;
}
