/**
 * What was found in the data (`Problem`) and what a result cannot promise (`Warning`): plain data with a
 * code, a text and what to do. Codes are stable; texts may be reworded.
 */

/** What reading did with the row that has the problem. */
export type Done = 'used' | 'mended' | 'set aside';

/** One thing found in one place of the plant's files. */
export interface Problem {
  code: string;
  file: string;
  /** Data row from 1 (the line under the header), or null where the whole file is meant. */
  row: number | null;
  column: string | null;
  value: string | null;
  done: Done;
  /** What was found, in a sentence. */
  text: string;
  /** What the plant can do about it. */
  todo: string;
}

/** Rows of one file: rowsIn = rowsUsed + rowsSetAside, always. */
export interface RowCount {
  file: string;
  rowsIn: number;
  rowsUsed: number;
  rowsSetAside: number;
}

/** Where a cleaning rule found something. */
export interface RuleExample {
  file: string;
  row: number | null;
  column: string | null;
  value: string | null;
  done: Done;
}

/** What one cleaning rule found, as numbers of rows or cells; found = mended + set aside + asked. */
export interface RuleCount {
  /** Its name in site.json under "cleaning". */
  rule: string;
  on: boolean;
  found: number;
  mended: number;
  setAside: number;
  /** Used as it stands, and asked about. */
  asked: number;
  examples: RuleExample[];
}

/** All that reading found. The three totals are sums over `files`. */
export interface Findings {
  rowsIn: number;
  rowsUsed: number;
  rowsSetAside: number;
  files: RowCount[];
  /** Running lives that the history implied but did not list (METHODS: lives that are not there). */
  livesBuilt: number;
  problems: Problem[];
  /** Every cleaning rule, whether or not it found something. */
  rules: RuleCount[];
}

/** A limit of a result, said with what to do about it. */
export interface Warning {
  code: string;
  text: string;
  todo: string;
}
