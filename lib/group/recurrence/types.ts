/** Leaks that come again and again: by line, over the plant, and whether new diaphragms last as long as old ones did. */
import type { LifeTrend } from '../../recurrence/renewalVerdict.js';

/** An estimate with its 90 % range; `high` is null where the records set no limit. */
export interface Ranged {
  estimate: number;
  low: number;
  high: number | null;
}

/** Mean cumulative number of leaks per position: what it is from each day on. Columns of equal length. */
export interface LeakCurve {
  /** It counts from this day on: the first with five positions under watch, or else with any. */
  from: string;
  until: string;
  day: string[];
  mean: number[];
  /** 90 % bounds, robust by position; null where they would rest on under five positions. */
  low: (number | null)[];
  high: (number | null)[];
}

/** Tests of a constant rate of leaks, which say nothing on renewal. */
export interface RateTrend {
  laplace: number;
  chiSquare: number;
  /** By the chi-square test. */
  direction: 'more often' | 'less often' | 'none';
}

/** What was watched, and how often it leaked. */
export interface WatchedLeaks {
  /** Positions under watch at some time. */
  positions: number;
  /** Position-years under watch: in service, not idle, on record. */
  years: number;
  /** Leaks and failed tests by name. */
  leaks: number;
  /** Leaks that are expected among removals without a reason: not among `leaks`, nor in anything else here. */
  withoutReason: number;
  /** Leaks per position and year; null where nothing was watched. */
  perYear: Ranged | null;
  /** Null where nothing was watched. */
  curve: LeakCurve | null;
  /** Null without a leak. */
  trend: RateTrend | null;
}

export interface LineLeaks extends WatchedLeaks {
  /** Empty where positions.csv gives none. */
  line: string;
  /** Leaks that it would have had if it leaked as often as the other lines that do not differ; null where these tell nothing. */
  expected: number | null;
  /** Times as often as the others. */
  times: Ranged | null;
  /** Leaks per position and year more than the others. */
  difference: Ranged | null;
  /** Chance of a difference as large if the line were like the others, and the same with all lines allowed for. */
  p: number | null;
  adjusted: number | null;
  differs: 'more' | 'less' | 'no' | 'cannot tell';
  text: string;
  todo: string;
}

export interface RenewalFinding {
  /** Null for the plant. */
  group: string | null;
  /** Leaks at 60 days or older, and the positions with lives so old. */
  leaks: number;
  positions: number;
  verdict: 'renewal' | 'trend' | 'cannot tell';
  /** Times as long per year of fitting date, and from one life of a position to the next. */
  trends: LifeTrend[];
  /** Smallest p times the trends tested. */
  pValue: number | null;
  /** Of groups: with the other groups allowed for. */
  adjusted: number | null;
  text: string;
  /** What it means for the interval, or what would settle it. */
  todo: string;
}

export interface Recurrence {
  plant: WatchedLeaks;
  /** In the order of positions.csv. */
  lines: LineLeaks[];
  /** How far positions of one line differ in their leaks, as the variance of their rates round a mean of 1; 0 is chance alone. */
  spread: number;
  /** Share of the lines said to differ that may do so by chance: 0.1. */
  rate: number;
  /** What Laplace's and the chi-square test say, and what they do not. */
  trendLabel: string;
  renewal: { plant: RenewalFinding; groups: RenewalFinding[] };
  notes: string[];
}
