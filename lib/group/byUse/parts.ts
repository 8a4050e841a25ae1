/** The parts that groups fall into by use: which positions and lives belong to which. */
import type { Fleet, Position } from '../../fleet/types.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import type { Cells, GroupCell } from '../cells.js';
import type { Group } from '../types.js';
import type { ClockedGroups } from './reAge.js';
import { nearestClass, type UseClass, useClasses } from './useClasses.js';

/** A group of the result. */
export interface Part {
  /** Index of the group that it is part of. */
  parent: number;
  /** Null where it stays in days: its group is told in days, or the rates of its positions are not known. */
  use: UseClass | null;
  positions: number[];
}

export interface Parts {
  /** In the order of their groups, from the least used on; what stays in days last. */
  list: Part[];
  /** Index of the part of a position among those of a group; of one that the group is not at now, the nearest by its use. */
  of(group: number, position: number): number;
}

/** Of a group in days one part, itself; of a group on another clock a part a class, and one for positions of unknown use. */
export function partsOf(groups: readonly Group[], clocked: ClockedGroups): Parts {
  const list: Part[] = [];
  const places = groups.map((group, parent) => {
    const first = list.length;
    const own = clocked.get(parent);
    if (own === undefined) {
      list.push({ parent, use: null, positions: group.positions });
      return { first, classes: [], member: new Map<number, number>(), unknown: first };
    }
    const { perDay } = own.worn;
    const known = group.positions.filter((position) => floatAt(perDay, position) > 0);
    const rest = group.positions.filter((position) => !(floatAt(perDay, position) > 0));
    const rates = new Map(known.map((position) => [position, floatAt(perDay, position)]));
    const classes = useClasses(rates, group.planned.shape.median);
    const member = new Map<number, number>();
    for (const use of classes) {
      for (const position of use.positions) member.set(position, list.length);
      list.push({ parent, use, positions: use.positions });
    }
    const unknown = rest.length > 0 || classes.length === 0 ? list.length : first + (classes.length >> 1);
    if (unknown === list.length) list.push({ parent, use: null, positions: rest });
    return { first, classes, member, unknown };
  });
  return {
    list,
    of(group, position) {
      const { first, classes, member, unknown } = itemAt(places, group);
      const own = member.get(position);
      if (own !== undefined) return own;
      const perDay = clocked.get(group)?.worn.perDay;
      const found = perDay === undefined ? -1 : nearestClass(classes, floatAt(perDay, position));
      return found < 0 ? unknown : first + found;
    },
  };
}

/** The cells of the parts: lives and positions of each by the use of each position. */
export function partCells(fleet: Fleet, cells: Cells, parts: Parts): Cells {
  const finer = parts.list.map(
    ({ parent, positions }): GroupCell => ({
      ...itemAt(cells.cells, parent),
      rows: [],
      lives: [],
      positions: new Set(positions),
    }),
  );
  const ofLife = cells.ofLife.map((g, life) => (g < 0 ? g : parts.of(g, at(fleet.lives.position, life))));
  ofLife.forEach((part, life) => {
    if (part >= 0) itemAt(finer, part).lives.push(life);
  });
  const indexOf = new Map<Position, number>(fleet.positions.map((position, p) => [position, p]));
  return {
    cells: finer,
    ofLife,
    next: (position, materialNow) => {
      const g = cells.next(position, materialNow);
      return g < 0 ? g : parts.of(g, indexOf.get(position) ?? -1);
    },
  };
}
