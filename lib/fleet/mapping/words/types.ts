/** Words that plants use for our tables, columns and values in one language. Entries are separated by commas; case and accents do not matter. */
import type { CsvFile } from '../../columnNames.js';
import type { Criticality, FindingAtRemoval, Reason } from '../../types.js';
import type { Work } from '../../workOrders/types.js';

/** `~` before an entry says that it is weak evidence: it may mean other things as well. */
export type Words = string;

export interface LanguageWords {
  /** The language in English. */
  name: string;
  /** Words in names of files and sheets. */
  tables: Partial<Record<CsvFile, Words>>;
  /** By our column; a name that several tables have means the same in each. */
  columns: Readonly<Record<string, Words>>;
  reason: Partial<Record<Reason, Words>>;
  finding: Partial<Record<FindingAtRemoval, Words>>;
  /** What a work order says was done. */
  work: Partial<Record<Work, Words>>;
  criticality: Partial<Record<Criticality, Words>>;
  stop_for: Partial<Record<'replacements' | 'anyway', Words>>;
  /** Words that stand beside a name and say its unit. */
  units: Partial<Record<UnitWord, Words>>;
}

export type UnitWord =
  | 'days'
  | 'weeks'
  | 'months'
  | 'years'
  | 'hours'
  | 'minutes'
  | 'seconds'
  | 'degC'
  | 'degF'
  | 'K'
  | 'inch'
  | 'thousand';
