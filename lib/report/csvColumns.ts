/** Columns of a table that is written as CSV, and its numbers. */
export type Value = string | number | boolean | null;

/** A column: its header and how to read it from a row. */
export type Columns<Row> = readonly (readonly [header: string, value: (row: Row) => Value])[];

/** Two decimals: hundredths of a piece are more than a forecast knows. */
export function hundredths(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Math.round(value * 100) / 100;
}

export function tenThousandths(value: number): number | null {
  return Number.isFinite(value) ? Math.round(value * 1e4) / 1e4 : null;
}

/** Six significant digits: more than any of these numbers is known to. */
export function rounded(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Number(value.toPrecision(6));
}
