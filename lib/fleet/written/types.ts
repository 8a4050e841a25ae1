/** How a plant writes its tables: what stands between cells, before decimals, and in which order a date has its parts. */
import type { Cleaning } from '../cleaning/rules.js';

export type DateOrder = 'day first' | 'month first' | 'year first';
export type Decimal = '.' | ',';
export type Separator = ',' | ';' | '\t' | '|';

/** What site.json says of a file under "formats"; what it does not say is found from the file. */
export interface FileFormat {
  separator?: Separator;
  decimal?: Decimal;
  dates?: DateOrder;
  /** A label of the WHATWG Encoding standard, such as windows-1252. */
  encoding?: string;
  /** The unit of a column, where it is not that of the documentation. */
  units?: Readonly<Record<string, string>>;
  /** Rules that the plant switched off; all are on where it is left out. */
  cleaning?: Cleaning;
}

export const SEPARATORS: readonly Separator[] = [',', ';', '\t', '|'];

/** A separator in words. */
export const SEPARATOR_WORDS: Readonly<Record<Separator, string>> = {
  ',': 'a comma',
  ';': 'a semicolon',
  '\t': 'a tab',
  '|': 'a vertical bar',
};
