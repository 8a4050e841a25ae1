/** A table by columns, each cell the number of its text: a million rows hold few distinct texts, and each is then read once. */

export interface CodedColumn {
  /** For each row the place of its text in `texts`. */
  readonly codes: Int32Array;
  /** The distinct texts of the column, by first appearance. */
  readonly texts: readonly string[];
  /** Whether texts were made from numbers with fractions, and so have a decimal point whatever the plant writes. */
  readonly hasPoint?: boolean;
  /** Why the column cannot be read, in a sentence; such a column is only refused where it is one that is needed. */
  readonly refused?: string;
}

export interface CodedTable {
  /** The header as it is written. */
  readonly header: readonly string[];
  /** Rows under the header. */
  readonly length: number;
  readonly columns: readonly CodedColumn[];
  /** Rows (from 0) that do not have one cell for each column; their codes mean nothing. */
  readonly odd: ReadonlyMap<number, readonly string[]>;
}
