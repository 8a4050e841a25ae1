/** What leaks more often than its groups' laws expect: one of the plant's positions, lots, fitters or weeks of fitting. */
import type { Warning } from '../../findings.js';

export const STAND_OUT_KINDS = ['position', 'lot', 'fitter', 'week'] as const;
/** 'week' is the calendar week (from Monday) in which diaphragms were fitted. */
export type StandOutKind = (typeof STAND_OUT_KINDS)[number];

/** Leaks on record and leaks expected, by their age at the leak: 'early' before 60 days, 'later' from then on. */
export interface LeakCount {
  leaks: number;
  expected: number;
}

/** Ratio of leaks to expected ones, drawn towards 1 by what the others of its kind show; 80 % bounds. */
export interface ShrunkenRatio {
  estimate: number;
  low: number;
  high: number;
}

export interface StandOut {
  kind: StandOutKind;
  /** Tag, lot, fitter, or the Monday of the week. */
  name: string;
  /** Index of its unit: into Fleet.positions for a position, else into `units` of its kind. */
  unit: number;
  /** Rows of Fleet.lives that were counted. */
  lives: number[];
  /** What was tested: all leaks of positions and lots, early leaks of fitters and weeks. */
  tested: 'all leaks' | 'early leaks';
  /** Of what was tested; `expected` with its own lives left out of the fit, averaged over the draws. */
  leaks: number;
  expected: number;
  early: LeakCount;
  later: LeakCount;
  /** Which leaks are too many: at least two thirds of the excess, or else both. */
  excess: 'early leaks' | 'wear-out' | 'both';
  ratio: ShrunkenRatio;
  /** Chance of so many leaks or more if it were like its groups, averaged over the draws. */
  p: number;
  /** The same, with the number tested of its kind allowed for (Benjamini & Hochberg 1995). */
  adjusted: number;
  /** What the records cannot tell it from: at least nine in ten of its lives share them. */
  sameAs: { kind: StandOutKind | 'line'; name: string }[];
}

/** What was looked for in one kind. */
export interface StandOutSearch {
  kind: StandOutKind;
  tested: number;
  found: number;
  /** Leaks and expected leaks over all of them, of what was tested. */
  leaks: number;
  expected: number;
  /**
   * Ratios of true to expected rates are taken to follow a gamma law with mean 1 and variance 1 / k, by maximum likelihood. At 400
   * they do not differ by more than chance.
   */
  k: number;
  /** The smallest effect that would be found in four of five cases, for a typical one and one of the best watched tenth. */
  smallest: { typical: SmallestEffect; bestWatched: SmallestEffect } | null;
}

export interface SmallestEffect {
  /** Leaks expected of it. */
  expected: number;
  /** So many leaks it takes, and so many times the expected rate. */
  leaks: number;
  times: number;
}

export interface StandOuts {
  /** Strongest first. */
  found: StandOut[];
  /** Found only through the lives of a stronger one of another kind. */
  explained: { kind: StandOutKind; name: string; by: { kind: StandOutKind; name: string } }[];
  searches: StandOutSearch[];
  /** Share of leaks whose reason is on record: leaks are expected on record at so many times the law. */
  recorded: number;
  /** Share of positions etc. among those found that may be so by chance: 0.1. */
  rate: number;
  warnings: Warning[];
}
