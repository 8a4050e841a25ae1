/**
 * The assignment problem: which of their columns is which of ours, each used once, so that the sum of weights is largest. Rows or columns
 * may stay without a partner, for nothing. Shortest augmenting paths with prices (Kuhn 1955, Munkres 1957; as in Burkard, Dell'Amico and
 * Martello, Assignment Problems, SIAM 2009, section 4.4; from memory).
 */
import { itemAt } from '../../numeric/columns.js';

/** Partner of each row, -1 where it has none; and the sum of the weights. */
export interface Assignment {
  partner: number[];
  total: number;
}

/** @param weights by row and column, all rows of one length; pairs of weight 0 or less are never made */
export function assign(weights: readonly (readonly number[])[]): Assignment {
  const columns = weights[0]?.length ?? 0;
  // Each row has a column of its own, of weight 0, that stands for no partner.
  const width = columns + weights.length;
  const cost = (row: number, column: number): number =>
    column < columns ? -Math.max(0, itemAt(itemAt(weights, row), column)) : 0;
  const taken = solve(weights.length, width, cost);
  const partner = weights.map(() => -1);
  let total = 0;
  taken.forEach((row, column) => {
    if (row < 0 || column >= columns || cost(row, column) >= 0) return;
    partner[row] = column;
    total -= cost(row, column);
  });
  return { partner, total };
}

/** Row of each column, -1 where it is free; width is at least the number of rows. */
function solve(rows: number, width: number, cost: (row: number, column: number) => number): number[] {
  const rowPrice = new Float64Array(rows);
  const columnPrice = new Float64Array(width);
  const rowOf = Array.from({ length: width }, () => -1);
  for (let row = 0; row < rows; row++) {
    const path = shortestPath(
      row,
      width,
      rowOf,
      (r, c) => cost(r, c) - (rowPrice[r] ?? 0) - (columnPrice[c] ?? 0),
    );
    rowPrice[row] = (rowPrice[row] ?? 0) + path.length;
    for (const column of path.visited) {
      const rise = path.length - itemAt(path.distance, column);
      columnPrice[column] = (columnPrice[column] ?? 0) - rise;
      const held = itemAt(rowOf, column);
      if (held >= 0) rowPrice[held] = (rowPrice[held] ?? 0) + rise;
    }
    for (let column = path.end; ; ) {
      const from = itemAt(path.from, column);
      const holder = from < 0 ? row : itemAt(rowOf, from);
      rowOf[column] = holder;
      if (from < 0) break;
      column = from;
    }
  }
  return rowOf;
}

interface Path {
  end: number;
  length: number;
  visited: number[];
  distance: number[];
  /** The column before each column on the path, -1 for the start. */
  from: number[];
}

/** The shortest way from a row to a free column, over pairs that are made already (Dijkstra on reduced costs). */
function shortestPath(
  start: number,
  width: number,
  rowOf: readonly number[],
  reduced: (row: number, column: number) => number,
): Path {
  const distance = Array.from({ length: width }, () => Infinity);
  const from = Array.from({ length: width }, () => -1);
  const done = new Uint8Array(width);
  const visited: number[] = [];
  let row = start;
  let length = 0;
  let last = -1;
  for (;;) {
    let nearest = -1;
    for (let column = 0; column < width; column++) {
      if (done[column] === 1) continue;
      const through = length + reduced(row, column);
      if (through < itemAt(distance, column)) {
        distance[column] = through;
        from[column] = last;
      }
      if (nearest < 0 || itemAt(distance, column) < itemAt(distance, nearest)) nearest = column;
    }
    length = itemAt(distance, nearest);
    if (itemAt(rowOf, nearest) < 0) return { end: nearest, length, visited, distance, from };
    done[nearest] = 1;
    visited.push(nearest);
    row = itemAt(rowOf, nearest);
    last = nearest;
  }
}
