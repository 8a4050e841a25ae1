/** Wear as the plan reports it: with the interval on each told clock, and what it is in days position by position. JSON-safe. */
import type { Wear, WearClock } from '../../group/wear/types.js';

/** An interval on the clock that wears its group. */
export interface OnClock {
  /** The whole group, whose lives tell the law. */
  of: string;
  /** 'steam cycles', or 'days and steam cycles'. */
  clock: string;
  /** Counts a day at which days of this group are counted, and counter's own rates a day of its least and most used position. */
  perDay: number;
  rates: [number, number];
  /** The interval in counts (of a clock with days in it: days and weighted counts), and those within 2 % of the least cost. */
  count: number | null;
  within2percent: [number, number] | null;
}

/** One position on the clock of its group. Dates are texts; null = not known. */
export interface ClockedPosition {
  position: string;
  line: string;
  /** Counts since its diaphragm was fitted, and counts a day. */
  count: number | null;
  perDay: number | null;
  /** Whether the rate is measured by its counter or given in positions.csv. */
  source: 'measured' | 'given' | null;
  /** Days from fitting to the interval at its own rate, with the 5th and 95th percentile by how evenly its counter rises; null = no limit. */
  days: number | null;
  daysRange: [number | null, number | null] | null;
  /** Day by which the count of the diaphragm in place reaches the interval, and the same range. */
  due: string | null;
  dueRange: [string | null, string | null] | null;
}

/** An interval counted on the clock that wears the group. */
export interface WearInterval {
  /** Counts (of a combination: days plus the weighted count). */
  count: number;
  /** Counts that cost at most 2 % more; null where it was not chosen by cost. */
  within2percent: [number, number] | null;
  /** 'least cost' over the draws of the law on the clock; 'as in days' where the interval practised in days is kept: then what it counts there. */
  basis: 'least cost' | 'as in days';
  /** What held it down, as of the interval in days; null where nothing did. */
  cappedBy: string | null;
  /** Days by position's own rate: tenth, middle and ninetieth of the positions in a hundred. */
  days: { low: number; median: number; high: number };
  /** The group's interval in days beside it. */
  intervalDays: number | null;
  /** Soonest due first. */
  positions: ClockedPosition[];
  /** "Replace after 310 steam cycles: 180 to 420 days ...". */
  text: string;
}

export interface WearGroup extends WearClock {
  /** Null where the clock is days, where it cannot be told, and where the advice is to run until it leaks. */
  interval: WearInterval | null;
}

export interface WearReport extends Omit<Wear, 'clocks' | 'worn'> {
  /** By group, in their order; empty where no use is on record at all. */
  groups: WearGroup[];
}
