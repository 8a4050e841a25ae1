/** Positions that share life model, windows and interval, and the lives that run in them now. */
import type { LineWindow } from '../fleet/calendar.js';
import { lineWindows } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet, RunningLife } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { scheduledDay } from '../interval/dueRule.js';

/** A life of one age; moments are days from the day of the data. */
export interface CellLife {
  age: number;
  /** Positions, or chances of a position, that have this age. */
  weight: number;
  /** When it is replaced on schedule if it is still there; null = never within reach. */
  plannedAt: number | null;
}

/** Positions that are alike for the forecast: each has the same chances over its first life. */
export interface Cell {
  positions: number;
  lives: CellLife[];
}

export interface PositionClass {
  groupNow: number;
  groupNext: number;
  intervalNext: number | null;
  /** Windows by moment, in order; empty = replaced on the day it is due. */
  windows: { name: string; day: number; moment: number }[];
  cells: Cell[];
  positions: number;
}

/** Ages in steps of a day up to here and of a week above: lives of one cell are treated at their mean age. */
const YOUNG_DAYS = 60;
const WEEK = 7;
/** How far the windows must be known beyond the horizon, so that the rule can look at the next one. */
const LOOK_AHEAD_DAYS = 800;

export function positionClasses(
  fleet: Fleet,
  grouped: GroupedFleet,
  policy: ReplacementPolicy,
  horizonDays: number,
): PositionClass[] {
  const until = Math.ceil(fleet.site.dataUntil + horizonDays + longest(policy) + LOOK_AHEAD_DAYS);
  const calendars = new Map<string, { key: string; windows: LineWindow[] }>();
  const classes = new Map<string, ClassBuilder>();
  for (const running of grouped.running) {
    const line = fleet.positions[running.position]?.line ?? '';
    let calendar = calendars.get(line);
    if (calendar === undefined) {
      const windows = lineWindows(fleet, line, until);
      calendar = { key: windows.map(({ name, day }) => `${day} ${name}`).join('|'), windows };
      calendars.set(line, calendar);
    }
    const key = `${running.groupNow}/${running.groupNext}/${calendar.key}`;
    let builder = classes.get(key);
    if (builder === undefined) {
      builder = openClass(fleet, policy, running, calendar.windows);
      classes.set(key, builder);
    }
    builder.add(running);
  }
  return [...classes.values()].map((builder) => builder.close());
}

interface ClassBuilder {
  add(running: RunningLife): void;
  close(): PositionClass;
}

function openClass(
  fleet: Fleet,
  policy: ReplacementPolicy,
  { groupNow, groupNext }: RunningLife,
  windows: LineWindow[],
): ClassBuilder {
  const today = fleet.site.dataUntil;
  const intervalNow = policy.intervalDays[groupNow] ?? null;
  const cells = new Map<string, { positions: number; age: number; plannedAt: number | null }>();
  const spread: CellLife[] = [];
  let spreadPositions = 0;
  let positions = 0;
  const plannedAt = (age: number): number | null => {
    const day = scheduledDay(today - age, intervalNow, windows, today);
    return day === null ? null : day - today;
  };
  const addOne = (age: number): void => {
    const planned = plannedAt(age);
    const key = cellKey(age, planned, windows.length > 0);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, { positions: 1, age, plannedAt: planned });
    else {
      cell.positions += 1;
      cell.age += (age - cell.age) / cell.positions;
      // Without windows lives of one week are due in one week: the day moves with the mean age.
      if (planned !== null && cell.plannedAt !== null) {
        cell.plannedAt += (planned - cell.plannedAt) / cell.positions;
      }
    }
  };
  return {
    add(running) {
      positions += 1;
      const only = running.ages[0];
      if (running.ages.length === 1 && only !== undefined) addOne(only.age);
      else {
        spreadPositions += 1;
        for (const { age, chance } of running.ages) {
          spread.push({ age, weight: chance, plannedAt: plannedAt(age) });
        }
      }
    },
    close() {
      const known = [...cells.values()].map(
        (cell): Cell => ({
          positions: cell.positions,
          lives: [{ age: cell.age, weight: cell.positions, plannedAt: cell.plannedAt }],
        }),
      );
      if (spreadPositions > 0) known.push({ positions: spreadPositions, lives: merged(spread) });
      return {
        groupNow,
        groupNext,
        intervalNext: policy.intervalDays[groupNext] ?? null,
        windows: windows.map(({ name, day }) => ({ name, day, moment: day - today })),
        cells: known,
        positions,
      };
    },
  };
}

/** Lives of one key are alike: of one day when young, of one week when old, and due together. */
function cellKey(age: number, planned: number | null, inWindows: boolean): string {
  const width = age < YOUNG_DAYS ? 1 : WEEK;
  const due = planned === null || inWindows || planned <= 1 ? planned : 'when due';
  return `${due}/${width}/${Math.floor(age / width)}`;
}

/** Lives of unknown age put together by week of age and day planned. */
function merged(lives: CellLife[]): CellLife[] {
  const byKey = new Map<string, CellLife>();
  for (const life of lives) {
    if (life.weight <= 0) continue;
    const key = `${life.plannedAt}/${Math.floor(life.age / WEEK)}`;
    const known = byKey.get(key);
    if (known === undefined) byKey.set(key, { ...life });
    else {
      known.age += ((life.age - known.age) * life.weight) / (known.weight + life.weight);
      known.weight += life.weight;
    }
  }
  return [...byKey.values()];
}

function longest(policy: ReplacementPolicy): number {
  return policy.intervalDays.reduce<number>((most, days) => Math.max(most, days ?? 0), 0);
}
