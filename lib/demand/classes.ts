/** Positions that share life model, windows and interval, and the lives that run in them now. */
import type { LineWindow } from '../fleet/calendar.js';
import { lineWindows } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet, RunningLife } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { scheduledDay } from '../interval/dueRule.js';
import type { Day } from '../numeric/day.js';
import {
  addChain,
  type CarriedOut,
  type Chains,
  type NextWindow,
  nextCarriedOut,
  sharesOf,
} from './carriedOut.js';
import type { TimeGrid } from './grid.js';

/** A life of one age; moments are days from the day of the data. */
export interface CellLife {
  age: number;
  /** Positions, or chances of a position, that have this age. */
  weight: number;
  /** When it is replaced on schedule if it is still there, on average; null = never within reach. */
  plannedAt: number | null;
  /** The same by day, with the share of the weight due then: days of one step of the grid. Empty where never. */
  due: { moment: number; share: number }[];
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
  /** Moment from which the positions are out of service; null where none is known. */
  ends: number | null;
  /** Windows by moment, in order; empty = replaced on the day it is due. */
  windows: { name: string; day: number; moment: number; stopFor: LineWindow['stopFor'] }[];
  /**
   * Where a work list is followed: by the moment of a window, when what is fitted there is replaced next (null = not
   * within reach), with shares of the positions that the list replaces in it. Other windows go by the due rule.
   */
  after: Map<number, NextWindow[]>;
  cells: Cell[];
  positions: number;
  /** How many of them are on each line. */
  lines: { line: string; positions: number }[];
}

/** Ages by the day up to here and by the week above: lives put together are treated at their mean age. */
const YOUNG_DAYS = 14;
const WEEK = 7;
/** How far the windows must be known beyond the horizon, so that the rule can look at the next one. */
const LOOK_AHEAD_DAYS = 800;

/** Classes of a fleet under a policy; with a work list, entry i is that of position i and lines with windows follow it. */
export function positionClasses(
  fleet: Fleet,
  grouped: GroupedFleet,
  policy: ReplacementPolicy,
  grid: TimeGrid,
  list: readonly CarriedOut[] | null = null,
): PositionClass[] {
  const horizonDays = grid.steps * grid.stepDays;
  const until = Math.ceil(fleet.site.dataUntil + horizonDays + longest(policy) + LOOK_AHEAD_DAYS);
  const calendars = new Map<string, { key: string; windows: LineWindow[] }>();
  const classes = new Map<string, ClassBuilder>();
  for (const running of grouped.running) {
    const position = fleet.positions[running.position];
    const line = position?.line ?? '';
    const ends = position?.outOfServiceSince ?? null;
    let calendar = calendars.get(line);
    if (calendar === undefined) {
      const windows = lineWindows(fleet, line, until);
      calendar = { key: windows.map(({ name, day }) => `${day} ${name}`).join('|'), windows };
      calendars.set(line, calendar);
    }
    const key = `${running.groupNow}/${running.groupNext}/${ends}/${calendar.key}`;
    let builder = classes.get(key);
    if (builder === undefined) {
      builder = openClass(fleet, policy, { running, windows: calendar.windows, ends }, grid);
      classes.set(key, builder);
    }
    builder.add(running, line, list?.[running.position] ?? null);
  }
  return [...classes.values()].map((builder) => builder.close());
}

interface ClassBuilder {
  add(running: RunningLife, line: string, listed: CarriedOut | null): void;
  close(): PositionClass;
}

/** What the positions of a class share. */
interface Alike {
  running: RunningLife;
  windows: LineWindow[];
  /** First day out of service. */
  ends: Day | null;
}

function openClass(
  fleet: Fleet,
  policy: ReplacementPolicy,
  { running: { groupNow, groupNext }, windows, ends }: Alike,
  { stepDays }: TimeGrid,
): ClassBuilder {
  const today = fleet.site.dataUntil;
  const intervalNow = policy.intervalDays[groupNow] ?? null;
  const intervalNext = policy.intervalDays[groupNext] ?? null;
  const known = new Map<string, CellLife>();
  const spread = new Map<string, CellLife>();
  const chains: Chains = new Map();
  let spreadPositions = 0;
  let positions = 0;
  const lines = new Map<string, number>();
  const byUse = policy.byUse?.[groupNow] ?? false;
  const dueAt = (age: number): Day | null => scheduledDay(today - age, intervalNow, windows, today, ends);
  const add = (lives: Map<string, CellLife>, age: number, weight: number, day: Day | null): void => {
    const plannedAt = day === null ? null : day - today;
    gather(lives, { age, weight, plannedAt, due: [] }, dueKey(plannedAt, windows.length > 0, stepDays));
  };
  return {
    add(running, line, listed) {
      positions += 1;
      lines.set(line, (lines.get(line) ?? 0) + 1);
      const follows = listed !== null && windows.length > 0;
      // An interval in days goes by the calendar, whatever a count says of how worn a diaphragm is.
      const onDay = byUse || running.fitted === null ? null : Math.max(today - running.fitted, 0);
      const first = follows
        ? (nextCarriedOut(listed, windows, today, ends) ?? dueAt(onDay ?? meanAge(running)))
        : null;
      const dayOf = (age: number): Day | null => (follows ? first : dueAt(onDay ?? age));
      if (follows) addChain(chains, listed, windows, intervalNext, ends);
      const only = running.ages[0];
      if (running.ages.length === 1 && only !== undefined) add(known, only.age, 1, dayOf(only.age));
      else {
        spreadPositions += 1;
        for (const { age, chance } of running.ages) if (chance > 0) add(spread, age, chance, dayOf(age));
      }
    },
    close() {
      const cells = [...known.values()].map(
        (life): Cell => ({ positions: life.weight, lives: [closed(life)] }),
      );
      // Positions of unknown age are alike: each has the mean of their chances.
      if (spreadPositions > 0) {
        cells.push({ positions: spreadPositions, lives: [...spread.values()].map(closed) });
      }
      return {
        groupNow,
        groupNext,
        intervalNext,
        ends: ends === null ? null : ends - today,
        windows: windows.map(({ name, day, stopFor }) => ({ name, day, moment: day - today, stopFor })),
        after: sharesOf(chains, today),
        cells,
        positions,
        lines: [...lines].map(([line, count]) => ({ line, positions: count })),
      };
    },
  };
}

/** Age that a work list takes where the day of fitting is not on record. */
function meanAge({ fitted, ages }: RunningLife): number {
  const mean = ages.reduce((sum, { age, chance }) => sum + age * chance, 0);
  return fitted === null ? Math.round(mean) : mean;
}

/** Lives put together are due together: in one window, or on days of one step of the grid (or overdue today). */
function dueKey(plannedAt: number | null, inWindows: boolean, stepDays: number): string {
  if (plannedAt === null || inWindows || plannedAt <= 1) return String(plannedAt);
  return `step ${Math.ceil(plannedAt / stepDays - 1e-9)}`;
}

/** Puts a life with the ones of its age and due day, at the mean age and mean moment. */
function gather(lives: Map<string, CellLife>, life: CellLife, due: string): void {
  const width = life.age < YOUNG_DAYS ? 1 : WEEK;
  const key = `${due}/${width}/${Math.floor(life.age / width)}`;
  const { plannedAt, weight } = life;
  const known = lives.get(key) ?? { ...life, weight: 0 };
  lives.set(key, known);
  known.weight += weight;
  known.age += ((life.age - known.age) * weight) / known.weight;
  if (plannedAt === null || known.plannedAt === null) return;
  known.plannedAt += ((plannedAt - known.plannedAt) * weight) / known.weight;
  const day = known.due.find(({ moment }) => moment === plannedAt);
  if (day === undefined) known.due.push({ moment: plannedAt, share: weight });
  else day.share += weight;
}

/** Shares by day as parts of the weight. */
function closed(life: CellLife): CellLife {
  return { ...life, due: life.due.map(({ moment, share }) => ({ moment, share: share / life.weight })) };
}

function longest(policy: ReplacementPolicy): number {
  return policy.intervalDays.reduce<number>((most, days) => Math.max(most, days ?? 0), 0);
}
