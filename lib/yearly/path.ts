/** The way there: expected events and cost by year from the diaphragms as they stand now (METHODS 4.6). */
import type { GroupCost } from '../cost/types.js';
import { type Spans, stepShares } from '../demand/grid.js';
import { addFlow, classFlow, emptyEvents, type GroupEvents, preparePath, tablesOf } from '../demand/path.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import type { ShutdownTask } from '../interval/types.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_MONTH, DAYS_PER_YEAR } from '../numeric/day.js';
import type { PlantLine } from './lines.js';
import type { DrawnPrices } from './price.js';
import { addStops, clearStops, stopCounts, stopsByYear } from './stopsAhead.js';
import type { YearlyCost } from './types.js';

/** The path covers at least so many years. */
const LEAST_YEARS = 5;
const MONTHS_PER_YEAR = 12;
/** Posterior draws and step of the path: the same draws for both policies. */
const PATH_OPTIONS = { draws: 60, stepDays: DAYS_PER_MONTH / 2 };

export interface YearlyPath {
  years: YearlyCost['years'];
  /** By year: cost in each draw followed. */
  drawn: Float64Array[];
  /** The posterior draws followed. */
  draws: Int32Array;
}

export interface PathInputs {
  fleet: Fleet;
  grouped: GroupedFleet;
  costs: readonly GroupCost[];
  lines: readonly PlantLine[];
  prices: DrawnPrices;
  seed: number;
  /** Work lists of the policies (planShutdowns), where they are at hand. */
  workLists?: WorkLists;
}

/** Replacements at the known shutdowns, by policy. */
export type WorkLists = Partial<Record<ReplacementPolicy['name'], readonly ShutdownTask[]>>;

/**
 * Years from the day of the data on; replacements count every diaphragm fitted, as in the long run. As far as a work
 * list reaches the replacements are those that it carries out within the crew hours; beyond it the due rule goes on.
 */
export function yearlyPath(inputs: PathInputs, policy: ReplacementPolicy): YearlyPath {
  const { fleet, grouped, costs, lines, prices, seed, workLists } = inputs;
  const workList = workLists?.[policy.name];
  const count = Math.max(LEAST_YEARS, Math.ceil(fleet.site.horizonMonths / MONTHS_PER_YEAR));
  const spans = yearSpans(count);
  const setup = preparePath(fleet, grouped, policy, count * DAYS_PER_YEAR, {
    ...PATH_OPTIONS,
    seed,
    ...(workList === undefined ? {} : { workList }),
  });
  const shares = stepShares(setup.grid, spans);
  const total = emptyEvents(grouped.groups, count);
  const stopCost = new Float64Array(count);
  const stops = stopCounts(lines, setup.schedules);
  const drawn = Array.from({ length: count }, () => new Float64Array(setup.draws.length));
  setup.draws.forEach((draw, d) => {
    const events = emptyEvents(grouped.groups, count);
    clearStops(stops);
    const tables = tablesOf(setup, draw);
    for (const schedule of setup.schedules) {
      const flow = classFlow(setup, schedule, tables);
      addFlow(itemAt(events, schedule.positions.groupNext), schedule, flow, spans, shares);
      addStops(stops, schedule, flow);
    }
    const held = stopsByYear(stops, count);
    addMeans({ total, stopCost }, events, held, lines, 1 / setup.draws.length);
    drawn.forEach((costs, year) => {
      costs[d] = costOfYear(year, draw, events, held, prices);
    });
  });
  return { years: yearRows(total, stopCost, costs), drawn, draws: setup.draws };
}

function yearSpans(count: number): Spans {
  return { edges: Float64Array.from({ length: count + 1 }, (_, y) => y * DAYS_PER_YEAR), count };
}

function addMeans(
  means: { total: GroupEvents[]; stopCost: Float64Array },
  events: readonly GroupEvents[],
  held: readonly Float64Array[],
  lines: readonly PlantLine[],
  weight: number,
): void {
  events.forEach((own, g) => {
    const all = itemAt(means.total, g);
    for (const kind of ['planned', 'leaks', 'opened'] as const) addTo(all[kind], own[kind], weight);
  });
  held.forEach((years, l) => {
    addTo(means.stopCost, years, weight * itemAt(lines, l).stop.mean);
  });
}

function addTo(total: Float64Array, values: Float64Array, times: number): void {
  for (let y = 0; y < total.length; y++) total[y] = floatAt(total, y) + times * floatAt(values, y);
}

/** Cost of a year in one draw, life models and settings drawn together. */
function costOfYear(
  year: number,
  draw: number,
  events: readonly GroupEvents[],
  held: readonly Float64Array[],
  { fitted, loss, stops }: DrawnPrices,
): number {
  let cost = 0;
  events.forEach(({ planned, leaks, opened }, g) => {
    const all = floatAt(planned, year) + floatAt(leaks, year) + floatAt(opened, year);
    cost += all * floatAt(itemAt(fitted, g), draw) + floatAt(leaks, year) * floatAt(itemAt(loss, g), draw);
  });
  held.forEach((years, l) => {
    cost += floatAt(years, year) * floatAt(itemAt(stops, l), draw);
  });
  return cost;
}

function yearRows(
  events: readonly GroupEvents[],
  stopCost: Float64Array,
  costs: readonly GroupCost[],
): YearlyCost['years'] {
  return Array.from(stopCost, (stops, y) => {
    const row = { year: y + 1, replacements: 0, scheduled: 0, leaks: 0, opened: 0, cost: stops };
    events.forEach(({ planned, leaks, opened }, g) => {
      const { opening, leak } = itemAt(costs, g);
      row.scheduled += floatAt(planned, y);
      row.leaks += floatAt(leaks, y);
      row.opened += floatAt(opened, y);
      row.cost += (floatAt(planned, y) + floatAt(opened, y)) * opening.mean + floatAt(leaks, y) * leak.mean;
    });
    row.replacements = row.scheduled + row.leaks + row.opened;
    return row;
  });
}
