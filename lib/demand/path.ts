/**
 * One renewal path per position (METHODS 5.1): leaks, openings and scheduled replacements compete, whichever comes
 * first starts a new life, and nothing is counted twice. Expected numbers are linear in the positions, so that all
 * births of a class are followed together (renewal equation: Cox 1962, Renewal Theory, from memory).
 */
import type { Fleet } from '../fleet/types.js';
import type { Group, GroupedFleet } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import type { ShutdownTask } from '../interval/types.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_MONTH, DAYS_PER_YEAR } from '../numeric/day.js';
import { randomStream } from '../numeric/random.js';
import { carriedOut } from './carriedOut.js';
import type { PositionClass } from './classes.js';
import { positionClasses } from './classes.js';
import { emptyFirstFlow, type FirstFlow, fillFirstFlow } from './firstLives.js';
import type { Spans, StepShares, TimeGrid } from './grid.js';
import { addToSpans, equalMonths, gridOver, STEP_DAYS, shareBefore, spanOf, stepShares } from './grid.js';
import {
  type ClassSchedule,
  classSchedule,
  emptyLaterFlow,
  fillLaterFlow,
  type LaterFlow,
} from './laterLives.js';
import { shortestWait } from './shortestWait.js';
import { type AgeColumns, ageColumns, emptyTable, fillTable, type SurvivalTable } from './survivalTable.js';

/** Posterior draws used where a group has more: every so-manyth, from a start that the seed picks. */
export const DRAWS_USED = 200;
/** A step is at most this share of the shortest time between two replacements. */
const STEPS_PER_INTERVAL = 3;

export interface PathOptions {
  seed?: number;
  /** Posterior draws to use, DRAWS_USED by default. */
  draws?: number;
  /** Step of the recursion in days, a quarter month by default. */
  stepDays?: number;
  /** The work list of the same policy (planShutdowns): crew hours decide when a replacement is carried out. */
  workList?: readonly ShutdownTask[];
}

/** Everything about a path that does not depend on the draw. */
export interface PathSetup {
  grid: TimeGrid;
  groups: readonly Group[];
  schedules: ClassSchedule[];
  /** Columns that each draw fills anew, per schedule. */
  flows: Map<ClassSchedule, ClassFlow>;
  /** Per group; tables are filled anew for each draw. */
  columns: AgeColumns[];
  tables: SurvivalTable[];
  /** Indices of the draws used. */
  draws: Int32Array;
}

/** One class under one draw. */
export interface ClassFlow {
  /** The lives that run today. */
  first: FirstFlow;
  later: LaterFlow;
  /** Openings by step, all lives. */
  opened: Float64Array;
  /** Leaks by step of lives that run today, and of later ones. */
  firstLeaks: Float64Array;
  laterLeaks: Float64Array;
  /** Openings per day of the lives that run today. */
  openingsNow: number;
}

/** Expected events of one group by month of 30.4375 days; an event counts for the group that is fitted at it. */
export interface GroupEvents {
  /** Name of the group. */
  group: string;
  planned: Float64Array;
  leaks: Float64Array;
  opened: Float64Array;
}

/**
 * Expected scheduled replacements, leaks and openings per group and month (30.4375 days, from the day of the data) if
 * the plant follows `policy`; one element per group of `grouped`, in its order. Mean over up to 200 posterior draws,
 * evenly thinned. An event counts for the group whose diaphragm is fitted at it.
 */
export function expectedEvents(
  fleet: Fleet,
  grouped: GroupedFleet,
  policy: ReplacementPolicy,
  months: number,
  options: PathOptions = {},
): GroupEvents[] {
  const setup = preparePath(fleet, grouped, policy, months * DAYS_PER_MONTH, options);
  const spans = equalMonths(months);
  const shares = stepShares(setup.grid, spans);
  const events = emptyEvents(grouped.groups, months);
  for (const draw of setup.draws) {
    const tables = tablesOf(setup, draw);
    for (const schedule of setup.schedules) {
      const flow = classFlow(setup, schedule, tables);
      addFlow(itemAt(events, schedule.positions.groupNext), schedule, flow, spans, shares);
    }
  }
  for (const each of events) {
    for (const column of [each.planned, each.leaks, each.opened]) scaleBy(column, 1 / setup.draws.length);
  }
  return events;
}

/** No events yet, in so many spans of time. */
export function emptyEvents(groups: readonly Group[], spans: number): GroupEvents[] {
  const column = (): Float64Array => new Float64Array(spans);
  return groups.map(({ name }) => ({ group: name, planned: column(), leaks: column(), opened: column() }));
}

/** Adds what happens to a class under one draw to the events of the group that it is refitted with. */
export function addFlow(
  events: GroupEvents,
  schedule: ClassSchedule,
  flow: ClassFlow,
  spans: Spans,
  shares: StepShares,
): void {
  addToSpans(shares, flow.firstLeaks, events.leaks);
  addToSpans(shares, flow.laterLeaks, events.leaks);
  addToSpans(shares, flow.opened, events.opened);
  addToSpans(shares, flow.later.plannedByStep, events.planned);
  const add = (moment: number, amount: number): void => {
    const m = spanOf(spans, moment);
    if (m >= 0) events.planned[m] = floatAt(events.planned, m) + amount;
  };
  const { moment, amount } = flow.first.due;
  for (let i = 0; i < moment.length; i++) add(floatAt(moment, i), floatAt(amount, i));
  flow.later.plannedByWindow.forEach((replaced, w) => {
    add(itemAt(schedule.positions.windows, w).moment, replaced);
  });
}

/** Lays out classes, grid and draws. */
export function preparePath(
  fleet: Fleet,
  grouped: GroupedFleet,
  policy: ReplacementPolicy,
  horizonDays: number,
  options: PathOptions = {},
): PathSetup {
  const shortest = shortestWait(fleet, grouped, policy);
  const grid = gridOver(horizonDays, Math.min(options.stepDays ?? STEP_DAYS, shortest / STEPS_PER_INTERVAL));
  const list = options.workList === undefined ? null : carriedOut(fleet, options.workList);
  const classes = positionClasses(fleet, grouped, policy, grid, list);
  const columns = groupColumns(grouped.groups, classes, grid);
  const schedules = classes.map((positions) => classSchedule(positions, grid));
  return {
    grid,
    groups: grouped.groups,
    schedules,
    flows: new Map(schedules.map((each) => [each, emptyFlow(each)])),
    columns,
    tables: columns.map(emptyTable),
    draws: drawsUsed(grouped.groups, options),
  };
}

function groupColumns(
  groups: readonly Group[],
  classes: readonly PositionClass[],
  grid: TimeGrid,
): AgeColumns[] {
  const oldest = new Float64Array(groups.length);
  for (const { groupNow, cells } of classes) {
    for (const { age } of cells.flatMap((cell) => cell.lives)) {
      oldest[groupNow] = Math.max(floatAt(oldest, groupNow), age);
    }
  }
  return groups.map(({ draws, openingsPerYear }, g) => {
    const cells = Math.ceil(floatAt(oldest, g) / grid.stepDays) + grid.steps + 4;
    return ageColumns(
      grid.stepDays,
      cells,
      draws.faultShape,
      draws.faultScale,
      openingsPerYear / DAYS_PER_YEAR,
    );
  });
}

/** Every so-manyth draw, evenly spread; all groups have the same number, and draw d belongs together over them. */
function drawsUsed(groups: readonly Group[], { seed = 1, draws = DRAWS_USED }: PathOptions): Int32Array {
  const have = groups.reduce((least, group) => Math.min(least, group.draws.shape.length), Infinity);
  if (!Number.isFinite(have)) return new Int32Array(0);
  const used = Math.min(have, draws);
  const start = randomStream(seed, 'draws used by the demand path').uniform();
  return Int32Array.from({ length: used }, (_, i) => Math.floor(((i + start) * have) / used));
}

/** Survival tables of all groups under one draw; valid until the next draw. */
export function tablesOf(setup: PathSetup, draw: number): SurvivalTable[] {
  setup.groups.forEach(({ draws }, g) => {
    const model = {
      shape: floatAt(draws.shape, draw),
      scale: floatAt(draws.scale, draw),
      share: floatAt(draws.share, draw),
      faultShape: draws.faultShape,
      faultScale: draws.faultScale,
    };
    fillTable(itemAt(setup.tables, g), itemAt(setup.columns, g), model);
  });
  return setup.tables;
}

function emptyFlow(schedule: ClassSchedule): ClassFlow {
  const { steps } = schedule.grid;
  return {
    first: emptyFirstFlow(schedule.positions, schedule.grid),
    later: emptyLaterFlow(schedule),
    opened: new Float64Array(steps),
    firstLeaks: new Float64Array(steps),
    laterLeaks: new Float64Array(steps),
    openingsNow: 0,
  };
}

/** Follows one class under one draw; the flow is valid until the next draw. */
export function classFlow(
  { grid, flows }: PathSetup,
  schedule: ClassSchedule,
  tables: readonly SurvivalTable[],
): ClassFlow {
  const { positions } = schedule;
  const now = itemAt(tables, positions.groupNow);
  const next = itemAt(tables, positions.groupNext);
  const flow = flows.get(schedule) ?? emptyFlow(schedule);
  const { first, later, opened, firstLeaks, laterLeaks } = flow;
  fillFirstFlow(first, positions, now, grid);
  fillLaterFlow(later, schedule, next, first);
  for (let k = 0; k < grid.steps; k++) {
    const running = floatAt(first.running, k);
    const inService = shareBefore(positions.ends, k, grid);
    const days = inService * grid.stepDays;
    const openedFirst = now.openings * days * running;
    const openedLater = next.openings * days * (positions.positions - running);
    opened[k] = openedFirst + openedLater;
    firstLeaks[k] = Math.max(0, floatAt(first.gone, k) - openedFirst);
    laterLeaks[k] = Math.max(0, inService * floatAt(later.gone, k) - openedLater);
    later.plannedByStep[k] = inService * floatAt(later.plannedByStep, k);
  }
  flow.openingsNow = now.openings;
  return flow;
}

function scaleBy(column: Float64Array, factor: number): void {
  for (let i = 0; i < column.length; i++) column[i] = floatAt(column, i) * factor;
}
