/** A chart: plain data, drawn by the render room. */

/** A cell of a chart's data table. */
export type Cell = string | number | null;

/** The numbers of a chart as a table, for readers who cannot or do not want to see the picture. */
export interface ChartTable {
  columns: string[];
  rows: Cell[][];
}

/** A Vega-Lite object, in the part of the language that versions 5 and 6 share. */
export type ChartSpec = Record<string, unknown>;

/** A drawing layer: a Vega-Lite mark with its data and encoding. */
export type Layer = Record<string, unknown>;

export interface Chart {
  /** Short name for ids and file names: letters, digits and hyphens. */
  name: string;
  /** What the picture is about. */
  title: string;
  /** What it shows, in a line: the finding. */
  finding: string;
  /** The finding with numbers and units, for those who hear it instead of seeing it. */
  description: string;
  spec: ChartSpec;
  table: ChartTable;
  /** What the picture leaves out, in a sentence, or null. */
  leftOut: string | null;
}
