/** What wears diaphragms besides days: exposures found, the clock of each group, how life goes with use. JSON-safe, but for the columns of `worn`. */
import type { DailyRate } from '../../exposure/rates.js';
import type { WeibullModel } from '../../life/model.js';
import type { Bounds } from '../../life/sampleTypes.js';

/** Counters as readers call them, in the order in which they are weighed. */
export const WEAR_COUNTERS = ['steam cycles', 'hot cleans', 'strokes', 'equivalent hours'] as const;
export type WearCounter = (typeof WEAR_COUNTERS)[number];

/** How well the counts of one counter are known: shares of lives with a known day of fitting, which add up to 1. */
export interface WearExposure {
  counter: WearCounter;
  lives: number;
  /** Readings within a week of both ends of the life. */
  measured: number;
  /** Between two readings. */
  interpolated: number;
  /** Beyond readings or over a gap, by the position's own rate. */
  byOwnRate: number;
  /** By the use given in positions.csv. */
  assumed: number;
  unknown: number;
}

/** One clock beside the best of its group. */
export interface WearClockRow {
  clock: string;
  /** Its AIC of the lives in days less that of the best; null where no law fits on it. */
  behind: number | null;
  /** Share of resampled positions that choose it. */
  agreed: number;
  /** Days that one count is worth, in a combination; null otherwise. */
  weight: number | null;
}

/** Weibull of life on the clock that was told, ages in its counts (of a combination: days plus the weight times the count). */
export interface WearLaw {
  shape: Bounds;
  scale: number;
  /** Counts by which one in ten and one in two have leaked; faulty fittings are left out. */
  tenth: Bounds;
  half: Bounds;
  weight: Bounds | null;
  level: number;
  /** Largest count up to which the records support a statement: 5 at risk, 2 leaks at or before it; null where there is none. */
  supported: number | null;
}

/** What clock wears the diaphragms of a group. */
export interface WearClock {
  group: string;
  /** The whole group, of a part of it by use; left out elsewhere. */
  partOf?: string;
  /** Whose lives were compared: the group, or all sizes of its material (and duty) where the group has too few leaks. */
  comparedOn: string;
  /** Lives compared, and leaks among them, of 60 days and older. */
  lives: number;
  leaks: number;
  verdict: 'told' | 'cannot tell';
  /** The clock to use: 'days' where the records cannot tell. */
  clock: string;
  parts: readonly string[];
  /** The one that fits best, whether or not it is told; null where none was compared. */
  best: string | null;
  rival: string | null;
  /** AIC of the rival less that of the best. */
  lead: number | null;
  /** Share of resampled positions that choose the best. */
  agreement: number | null;
  /** Standard deviation between lives of the log of counts per day, by counter. */
  rateSpread: Readonly<Record<string, number>>;
  /** From the best on; empty where none was compared. */
  clocks: WearClockRow[];
  /** Null unless a clock other than days is told. */
  law: WearLaw | null;
  /** The verdict in a sentence, and what data would settle it; the second is empty where it is settled. */
  text: string;
  todo: string;
}

/** Life at more of something against life at less of it. */
export interface WearEffect {
  /** 'steam cycles', 'hot cleans', 'strokes', 'size' or 'duty'. */
  covariate: string;
  /** Counters that rise with it and cannot be told from it. */
  alongWith: string[];
  /** What is compared: "twice the steam cycles", "dairy instead of utilities". */
  compared: string;
  /** Times the life. */
  ratio: Bounds;
  /** Whether the bounds leave 1 out. */
  clear: boolean;
  /** "twice the steam cycles: 0.62 times the life (0.50 to 0.77)". */
  text: string;
}

/** How life goes with use in one material. */
export interface WearEffects {
  material: string;
  lives: number;
  leaks: number;
  /** Coefficients that the leaks carry, one for five. */
  carried: number;
  effects: WearEffect[];
  /** What was not entered and why, a sentence each. */
  leftOut: string[];
  level: number;
}

/** Where a position of a group with a told clock stands. */
export interface WornPosition {
  /** Index into Fleet.positions. */
  position: number;
  /** Counts on the clock since its diaphragm was fitted; null where not known. */
  count: number | null;
  /** How fast the clock runs there; null where not known. */
  rate: DailyRate | null;
}

/** Counts of the counter of a told clock in the lives of its group. Columns of equal length; NaN where not known. */
export interface WornLives {
  /** Row of Fleet.lives. */
  life: Int32Array;
  /** From fitting to the end of the life or of the data, to the day from which it is watched, to its last tight test. */
  counts: Float64Array;
  toEntry: Float64Array;
  toLastTight: Float64Array;
}

/** A group whose clock is told and is not days. */
export interface WornGroup {
  /** Index of the group. */
  group: number;
  /** Best law on the clock. */
  law: WeibullModel;
  /** Of the running diaphragms of the group. */
  positions: WornPosition[];
  /** How fast the clock runs at each position of the fleet, counts a day; NaN where not known. */
  perDay: Float64Array;
  lives: WornLives;
}

/** All of it, before intervals are known. */
export interface Wear {
  exposures: WearExposure[];
  /** What counters did besides rising, and what was left out: a sentence each. */
  notes: string[];
  /** By group, in their order. */
  clocks: WearClock[];
  /** In the order of the groups. */
  worn: WornGroup[];
  effects: WearEffects[];
  /** How heat is counted; left out where positions.csv tells no temperatures. */
  heat?: WearHeat;
}

/** What equivalent hours rest on. */
export interface WearHeat {
  /** They are hours at this temperature, degrees C. */
  referenceCelsius: number;
  /** What is counted: 'steam', 'hot cleans', 'service'. */
  parts: string[];
  energies: WearEnergy[];
}

/** The activation energy of a material, kJ/mol. */
export interface WearEnergy {
  material: string;
  kJPerMol: number;
  low: number;
  high: number;
  from: 'site.json' | 'usual value' | 'lives';
  source: string;
  /** Coldest and hottest of the data it rests on, degrees C; null where not known. */
  dataCelsius: [number, number] | null;
}
