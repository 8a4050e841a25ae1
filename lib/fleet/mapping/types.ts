/** What is proposed for a folder: which table and column is which of ours, and what has to be asked. Plain data. */
import type { CsvFile, HistoryFile } from '../columnNames.js';

/** `sure` and `likely` are written into the settings; a `guess` is asked. */
export type Sureness = 'sure' | 'likely' | 'guess';

export function surenessOf(confidence: number): Sureness {
  return confidence >= 0.85 ? 'sure' : confidence >= 0.6 ? 'likely' : 'guess';
}

export interface ColumnProposal {
  /** The name in the header, which may be empty. */
  theirs: string;
  /** Place of the column from 0. */
  place: number;
  /** Its place among all columns that were looked at, those read from a text among them. */
  looked: number;
  /** Read from a text that says more: `"columns": { "theirs": ["ours"] }`. */
  isRead: boolean;
  ours: string;
  /** 0 to 1. */
  confidence: number;
  sureness: Sureness;
  why: string;
  /** Asked and not written: another answer is about as good, or this one is a guess. */
  asked: boolean;
  /** Other columns that may be meant instead. */
  rivals: string[];
  /** Its unit, where that is not the one of the documentation. */
  unit: string | null;
}

export interface TableProposal {
  table: CsvFile;
  file: string;
  sheet: string | null;
  headerRow: number;
  rows: number;
  separator: string;
  encoding: string | null;
  /** The table of the history from which positions are taken; null for a table of its own. */
  takenFrom: HistoryFile | null;
  /** 0 to 1. */
  confidence: number;
  sureness: Sureness;
  why: string;
  columns: ColumnProposal[];
  /** Columns that are not read, as they are called. */
  left: string[];
  /** Columns, as site.json names them, that would be read by their name and must not be. */
  barred: string[];
  /** All cells of the header. */
  header: string[];
  /** Further tables of the kind, to be joined with it. */
  more: TableProposal[];
}

export interface WordProposal {
  column: string;
  theirs: string;
  /** Null where nothing is proposed. */
  ours: string | null;
  /** Rows that have it. */
  rows: number;
  confidence: number;
  sureness: Sureness;
  why: string;
}

/** Whether a word is sure enough to be written into the settings. */
export function isWritten({ ours, sureness }: WordProposal): boolean {
  return ours !== null && sureness !== 'guess';
}

export interface AliasProposal {
  theirs: string;
  ours: string;
  why: string;
}

export interface Question {
  text: string;
  /** What to write into site.json as an answer, for example. */
  answer: string | null;
}

export interface MapProposal {
  tables: TableProposal[];
  words: WordProposal[];
  aliases: AliasProposal[];
  questions: Question[];
  /** Files and sheets that are not used, each with the reason. */
  unused: string[];
}
