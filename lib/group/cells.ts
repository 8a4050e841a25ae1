/** Which groups there are: material and size, and duty where a material is split. */
import type { Fleet, Position } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { dutyOf, type History } from './history.js';

/** A group before it is fitted. */
export interface GroupCell {
  name: string;
  material: string;
  size: number;
  duty: string | null;
  /** Rows of the history. */
  rows: number[];
  /** Rows of Fleet.lives: all of them, usable in a fit or not. */
  lives: number[];
  /** Indices of positions that hold it now or will be refitted with it. */
  positions: Set<number>;
}

export interface Cells {
  cells: GroupCell[];
  /** Cell of a life (row of Fleet.lives). */
  ofLife: Int32Array;
  /** Cell of what a position will be fitted with next, given the material it holds now. */
  next(position: Position, materialNow: string): number;
}

/** Every group, in order of material, size and duty. `isSplit` tells by name of material. */
export function groupCells(fleet: Fleet, history: History, isSplit: (material: string) => boolean): Cells {
  const found = new Map<string, GroupCell>();
  const cellOf = (material: string, size: number, dutyName: string): GroupCell => {
    const duty = isSplit(material) ? dutyName : null;
    const key = JSON.stringify([material, size, duty]);
    const known = found.get(key);
    if (known !== undefined) return known;
    const name = nameOf(material, size, duty);
    const cell: GroupCell = { name, material, size, duty, rows: [], lives: [], positions: new Set() };
    found.set(key, cell);
    return cell;
  };
  const { lives } = fleet;
  const ofLife = Array.from({ length: lives.length }, (_, i) => {
    const cell = cellOf(
      itemAt(fleet.materials, at(lives.material, i)),
      floatAt(lives.size, i),
      dutyOf(fleet, i),
    );
    cell.lives.push(i);
    return cell;
  });
  for (let row = 0; row < history.length; row++) itemAt(ofLife, at(history.life, row)).rows.push(row);
  const nextCell = (position: Position, materialNow: string): GroupCell =>
    cellOf(position.materialNext ?? materialNow, position.size, position.duty);
  for (const i of runningLives(fleet)) {
    const index = at(lives.position, i);
    const cell = itemAt(ofLife, i);
    cell.positions.add(index);
    nextCell(itemAt(fleet.positions, index), cell.material).positions.add(index);
  }
  const cells = [...found.values()].sort(inOrder);
  const indexOf = new Map(cells.map((cell, g) => [cell, g]));
  return {
    cells,
    ofLife: Int32Array.from(ofLife, (cell) => indexOf.get(cell) ?? -1),
    next: (position, materialNow) => indexOf.get(nextCell(position, materialNow)) ?? -1,
  };
}

/** Rows of Fleet.lives that are running in a position in service at the end of the data. */
export function runningLives({ lives, positions, site }: Fleet): number[] {
  const running: number[] = [];
  for (let i = 0; i < lives.length; i++) {
    if (!Number.isNaN(floatAt(lives.removed, i))) continue;
    const ended = itemAt(positions, at(lives.position, i)).outOfServiceSince;
    if (ended === null || ended > site.dataUntil) running.push(i);
  }
  return running;
}

function nameOf(material: string, size: number, duty: string | null): string {
  const base = `${material} DN ${size}`;
  return duty === null ? base : `${base}, ${duty === '' ? 'duty not given' : duty}`;
}

function inOrder(a: GroupCell, b: GroupCell): number {
  if (a.material !== b.material) return a.material < b.material ? -1 : 1;
  if (a.size !== b.size) return a.size - b.size;
  return (a.duty ?? '') < (b.duty ?? '') ? -1 : 1;
}
