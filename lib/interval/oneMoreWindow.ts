/** What one more window would save, before the cost of its own stop: each calendar's lines planned with and without it, nothing else limited. */
import { itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR, type Day, textFromDay } from '../numeric/day.js';
import { MOST_WINDOWS } from './fleetPlan/checkProblem.js';
import { optimise } from './fleetPlan/optimise.js';
import { type SharedParts, sharedParts } from './fleetPlan/sharedParts.js';
import type { FleetLine, FleetPosition, FleetProblem, FleetWindow } from './fleetPlan/types.js';

/** Gaps shorter than this are not halved. */
const LEAST_GAP_DAYS = 60;
/** Above so many positions nothing is said: it would cost as much again as the plan. */
export const MOST_POSITIONS = 2000;
/** Calendars looked at: those with the most at stake, by the cost of their leaks and the length of the gap. */
const MOST_CALENDARS = 2;
const EXTRA = 'one more';

/** One more window in the widest gap of a calendar. */
export interface ExtraWindow {
  /** Lines that have this calendar. */
  lines: string[];
  /** Middle of the gap, YYYY-MM-DD, and the known windows on both sides. */
  day: string;
  after: string;
  before: string;
  positions: number;
  /** Replacements and leaks saved a year until the last known window, before what the stop itself costs and without limits of hours. */
  savingPerYear: number;
}

/** For the calendars with most at stake and a gap to halve, the one that saves most first; null for a fleet that is too large. */
export function oneMoreWindow(
  problem: FleetProblem,
  shared: SharedParts = sharedParts(),
): ExtraWindow[] | null {
  if (problem.positions.length > MOST_POSITIONS) return null;
  const calendars = new Map<string, FleetLine[]>();
  for (const line of problem.lines) {
    const key = line.windows.map(({ window }) => window).join();
    calendars.set(key, [...(calendars.get(key) ?? []), line]);
  }
  return [...calendars.values()]
    .flatMap((lines) => placeFor(problem, lines) ?? [])
    .sort((a, b) => b.atStake - a.atStake)
    .slice(0, MOST_CALENDARS)
    .map((place) => extraAt(problem, place, shared))
    .sort((a, b) => b.savingPerYear - a.savingPerYear);
}

/** The same with the shutdowns by name, where windows go by their place in the list of stops. */
export function extraWindows(
  stops: readonly { name: string }[],
  problem: FleetProblem,
  shared: SharedParts,
): ExtraWindow[] | null {
  const name = (window: string): string => itemAt(stops, Number(window)).name;
  const found = oneMoreWindow(problem, shared);
  return found?.map((each) => ({ ...each, after: name(each.after), before: name(each.before) })) ?? null;
}

interface Gap {
  after: FleetWindow;
  before: FleetWindow;
  day: Day;
}

/** A calendar: its lines and windows, what is done there, and where one more would go. */
interface Place {
  lines: readonly FleetLine[];
  windows: FleetWindow[];
  positions: FleetPosition[];
  gap: Gap;
  atStake: number;
}

function placeFor(problem: FleetProblem, lines: readonly FleetLine[]): Place | null {
  const names = new Set(lines.map(({ line }) => line));
  const used = new Set(lines.flatMap(({ windows }) => windows.map(({ window }) => window)));
  const windows = problem.windows
    .filter(({ name }) => used.has(name))
    .map(({ name, day }): FleetWindow => ({ name, day, crewHours: null }))
    .sort((a, b) => a.day - b.day);
  const gap = windows.length >= MOST_WINDOWS ? null : widestGap(windows);
  if (gap === null) return null;
  const positions = problem.positions.filter(({ line }) => names.has(line));
  const leaks = positions.reduce((sum, { next }) => sum + next.leakCost, 0);
  return { lines, windows, positions, gap, atStake: leaks * (gap.before.day - gap.after.day) };
}

function extraAt(
  problem: FleetProblem,
  { lines, windows, positions, gap }: Place,
  shared: SharedParts,
): ExtraWindow {
  const names = new Set(lines.map(({ line }) => line));
  const own = new Set(positions.map(({ position }) => position));
  const base: FleetProblem = {
    today: problem.today,
    windows,
    lines,
    positions,
    must: (problem.must ?? []).filter(({ position }) => own.has(position)),
    frozen: (problem.frozen ?? []).filter((each) =>
      'line' in each ? names.has(each.line) : own.has(each.position),
    ),
  };
  const more: FleetProblem = {
    ...base,
    windows: [...windows, { name: EXTRA, day: gap.day, crewHours: null }],
    lines: lines.map((line) => ({ ...line, windows: [...line.windows, { window: EXTRA, stopCost: 0 }] })),
  };
  const years = (itemAt(windows, windows.length - 1).day - problem.today) / DAYS_PER_YEAR;
  // Demands that cannot be met cost nothing here: they would be no saving of money.
  const costOf = (each: FleetProblem): number => optimise(each, { rounds: 1, gap: 1 }, shared).cost;
  return {
    lines: [...names].sort(),
    day: textFromDay(gap.day),
    after: gap.after.name,
    before: gap.before.name,
    positions: positions.length,
    savingPerYear: Math.max(0, costOf(base) - costOf(more)) / years,
  };
}

/** The widest gap between two windows, the first of equals; null where all are short. */
function widestGap(windows: readonly FleetWindow[]): Gap | null {
  let [widest, found]: [number, Gap | null] = [LEAST_GAP_DAYS - 1, null];
  for (const [i, before] of windows.entries()) {
    const after = windows[i - 1];
    if (after === undefined || before.day - after.day <= widest) continue;
    widest = before.day - after.day;
    found = { after, before, day: after.day + Math.round(widest / 2) };
  }
  return found;
}
