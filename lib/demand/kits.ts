/** Dated planned need of one item: which windows (or months) there are, and what is due there if nothing leaks. */

import { floatAt, itemAt } from '../numeric/columns.js';
import { monthYear } from '../numeric/words.js';
import type { Spans } from './grid.js';
import { spanOf } from './grid.js';
import type { ClassSchedule } from './laterLives.js';

/** One kit: a shutdown of the plant, or a month of lines without shutdowns. */
export interface Kit {
  name: string;
  /** Day it must be on the shelf. */
  day: number;
  ifNothingLeaks: number;
}

export interface KitList {
  kits: Kit[];
  /** Index of the kit that a planned replacement of a class at a moment belongs to, -1 beyond the horizon. */
  kitOf: (schedule: ClassSchedule, moment: number) => number;
}

/** For a forecast that nobody makes kits from. */
export const NO_KITS: KitList = { kits: [], kitOf: () => -1 };

const MONTH_KIT = 'replacements due in ';

/** Name of the kit of a month (YYYY-MM) of lines without shutdowns. */
export function monthKitName(month: string): string {
  return `${MONTH_KIT}${monthYear(month)}`;
}

/** True of the name of such a kit. */
export function isMonthKit(name: string): boolean {
  return name.startsWith(MONTH_KIT);
}

export function kitList(
  schedules: readonly ClassSchedule[],
  spans: Spans & { names: string[] },
  today: number,
): KitList {
  const kits: Kit[] = [];
  const byKey = new Map<string, number>();
  const open = (key: string, name: string, day: number): number => {
    const known = byKey.get(key);
    if (known !== undefined) return known;
    byKey.set(key, kits.length);
    return kits.push({ name, day, ifNothingLeaks: 0 }) - 1;
  };
  const monthKit = (m: number): number => {
    const month = itemAt(spans.names, m);
    return open(`month ${m}`, monthKitName(month), Math.floor(today + floatAt(spans.edges, m)) + 1);
  };
  // Every window and month within the horizon is a kit, also where only later lives fall due.
  const kitsOf = new Map<ClassSchedule, Map<number, number>>();
  for (const schedule of schedules) {
    const { windows } = schedule.positions;
    const inside = windows.filter(({ moment }) => spanOf(spans, moment) >= 0);
    const ofWindows = inside.map(
      ({ moment, day, name }) => [moment, open(`${day} ${name}`, name, day)] as const,
    );
    kitsOf.set(
      schedule,
      new Map(windows.length > 0 ? ofWindows : spans.names.map((_, m) => [m, monthKit(m)])),
    );
  }
  const kitOf = (schedule: ClassSchedule, moment: number): number => {
    const key = schedule.positions.windows.length > 0 ? moment : spanOf(spans, moment);
    return kitsOf.get(schedule)?.get(key) ?? -1;
  };
  for (const schedule of schedules) countDue(schedule, kits, kitOf);
  return { kits, kitOf };
}

/** Walks each life from one scheduled replacement to the next, as if nothing ever leaked. */
function countDue(schedule: ClassSchedule, kits: Kit[], kitOf: KitList['kitOf']): void {
  const { positions, grid, windowNext } = schedule;
  const horizon = grid.steps * grid.stepDays;
  const walk = (moment: number | null, weight: number): void => {
    if (moment === null || moment > horizon || moment >= (positions.ends ?? Infinity)) return;
    const kit = kits[kitOf(schedule, moment)];
    if (kit === undefined) return;
    kit.ifNothingLeaks += weight;
    const window = positions.windows.findIndex((each) => each.moment === moment);
    if (window >= 0) {
      for (const next of windowNext[window] ?? []) walk(next.moment, weight * next.share);
    } else if (positions.intervalNext !== null) walk(moment + positions.intervalNext, weight);
  };
  for (const life of positions.cells.flatMap((cell) => cell.lives)) {
    for (const { moment, share } of life.due) walk(moment, life.weight * share);
  }
}
