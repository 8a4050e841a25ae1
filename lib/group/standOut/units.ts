/** The positions, lots, fitters and weeks of fitting that lives belong to. */
import type { Fleet } from '../../fleet/types.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { textFromDay } from '../../numeric/day.js';
import type { FollowedLives } from './followed.js';
import type { StandOutKind } from './types.js';

export interface Units {
  kind: StandOutKind;
  names: string[];
  /** Unit of each followed life; -1 where the records do not say. */
  of: Int32Array;
}

/** Units of every kind. A lot is told apart by material and size: makers number lots as they like. */
export function unitsOf(fleet: Fleet, followed: FollowedLives, kind: StandOutKind): Units {
  const { lives } = fleet;
  if (kind === 'position') {
    const of = Int32Array.from(followed.life, (life) => at(lives.position, life));
    return { kind, names: fleet.positions.map(({ position }) => position), of };
  }
  if (kind === 'fitter') {
    const of = Int32Array.from(followed.life, (life) => at(lives.fittedBy, life));
    return { kind, names: fleet.fitters, of };
  }
  return kind === 'lot' ? lotUnits(fleet, followed) : weekUnits(fleet, followed);
}

function lotUnits({ lives, lotNames }: Fleet, { life }: FollowedLives): Units {
  const names: string[] = [];
  const known = new Map<string, number>();
  const of = Int32Array.from(life, (i) => {
    const lot = at(lives.lot, i);
    if (lot < 0) return -1;
    const key = `${lot}/${at(lives.material, i)}/${floatAt(lives.size, i)}`;
    const unit = known.get(key) ?? names.length;
    if (unit === names.length) {
      known.set(key, unit);
      names.push(itemAt(lotNames, lot));
    }
    return unit;
  });
  return { kind: 'lot', names, of };
}

const WEEK = 7;
/** 1970-01-01 was a Thursday: Monday is three days before. */
const MONDAY = 3;

function weekUnits({ lives }: Fleet, { life }: FollowedLives): Units {
  const known = new Map<number, number>();
  const of = Int32Array.from(life, (i) => {
    const week = weekOf(floatAt(lives.fitted, i));
    const unit = known.get(week) ?? known.size;
    if (unit === known.size) known.set(week, unit);
    return unit;
  });
  const names = Array.from(known.keys(), (week) => textFromDay(week * WEEK - MONDAY));
  return { kind: 'week', names, of };
}

/** Number of the calendar week, from Monday, of a day. */
function weekOf(day: number): number {
  return Math.floor((day + MONDAY) / WEEK);
}

/** Followed lives of each unit, in order. */
export function membersOf({ names, of }: Units): number[][] {
  const members: number[][] = names.map(() => []);
  of.forEach((unit, i) => {
    if (unit >= 0) itemAt(members, unit).push(i);
  });
  return members;
}
