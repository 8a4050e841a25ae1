/** What stands out, as the plan reports it: JSON-safe, with what mending it would save and what to do. */
import type { Warning } from '../../findings.js';
import type {
  LeakCount,
  ShrunkenRatio,
  StandOut,
  StandOutKind,
  StandOutSearch,
} from '../../group/standOut/types.js';

/** Mean and 80 % range. */
export interface Ranged {
  mean: number;
  low: number;
  high: number;
}

/** Leaks of diaphragms that are left in place, within so many months from the end of the data. */
export interface LeaksIfLeft {
  months: number;
  leaks: Ranged;
  /** As many as pieces without the fault would have. */
  usual: number;
}

/** A lot (or what was fitted in a week) that may have to come out: where it is and what that takes. */
export interface LotRecall {
  /** Pieces that are still fitted, by position; age in days, null where the day of fitting is not known. */
  fitted: { position: string; line: string; age: number | null }[];
  ifLeft: LeaksIfLeft[];
  /** Pieces to replace them with, what they cost, and hours of the crew. */
  replacing: { pieces: number; parts: number; fitterHours: number; instrumentHours: number };
  /** Pieces of the lot on the shelf, which must not be used. */
  onShelf: number;
}

export interface StandOutRow {
  kind: StandOutKind;
  name: string;
  /** Lines and groups of its lives, most lives first. */
  lines: string[];
  groups: string[];
  lives: number;
  tested: StandOut['tested'];
  leaks: number;
  expected: number;
  ratio: ShrunkenRatio;
  p: number;
  adjusted: number;
  early: LeakCount;
  later: LeakCount;
  excess: StandOut['excess'];
  sameAs: StandOut['sameAs'];
  /**
   * In the year to come, if it leaked like its groups: leaks avoided, and their cost in the site's currency. Of a lot or a week: of what is
   * still fitted. Rows that stand for the same lives (`sameAs`) must not be added.
   */
  saves: { leaks: Ranged; money: Ranged };
  /** Of a lot or a week; null for positions and fitters. */
  recall: LotRecall | null;
  /** The finding, and what to do. */
  text: string;
  todo: string;
}

export interface StandOutReport {
  rows: StandOutRow[];
  searches: StandOutSearch[];
  /** What would stand out but for the lives of a stronger one of another kind. */
  explained: { kind: StandOutKind; name: string; by: { kind: StandOutKind; name: string } }[];
  /** Share of leaks with a reason on record; the others are neither counted nor expected. */
  recorded: number;
  rate: number;
  warnings: Warning[];
}
