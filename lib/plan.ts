/** The whole job in one function: a plant's history in, decisions out. */
import { groupCost } from './cost/groupCost.js';
import { forecastDemand } from './demand/forecast.js';
import type { Fleet } from './fleet/types.js';
import { describeGroup } from './group/describe.js';
import { groupFleet } from './group/groupFleet.js';
import type { GroupedFleet } from './group/types.js';
import { adviseIntervals } from './interval/advise.js';
import type { ReplacementPolicy } from './interval/dueRule.js';
import { planShutdowns } from './interval/shutdowns.js';
import type { IntervalAdvice } from './interval/types.js';
import { textFromDay } from './numeric/day.js';
import { CAUTION, switchedOff } from './planTexts.js';
import type { Plan } from './planTypes.js';
import { kitRows } from './stock/kits.js';
import { sizeStock } from './stock/size.js';
import { VERSION } from './version.js';
import { compareCost } from './yearly/compare.js';

export interface PlanOptions {
  /** Seed of every random number in the plan, a whole number; 1 by default. */
  seed?: number;
}

/**
 * Life models per material and size, replacement intervals, shutdown plan, demand, stock and yearly cost of a plant.
 * Pure: the same fleet and seed give the same plan.
 */
export function planFleet(fleet: Fleet, options: PlanOptions = {}): Plan {
  const seed = options.seed ?? 1;
  const grouped = groupFleet(fleet, { seed });
  const costs = grouped.groups.map((group) => groupCost(fleet, group));
  const intervals = adviseIntervals(fleet, grouped, costs, { seed });
  const shutdowns = planShutdowns(fleet, grouped, intervals);
  const demand = forecastDemand(fleet, grouped, proposedPolicy(intervals), {
    seed,
    workList: shutdowns.tasks,
  });
  const demandToday = forecastDemand(fleet, grouped, practisedPolicy(grouped), { seed, kits: false });
  const stock = sizeStock(fleet, demand);
  const cost = compareCost(fleet, grouped, costs, intervals, { seed });

  return {
    version: VERSION,
    seed,
    inputsHash: fleet.inputsHash,
    site: siteOf(fleet),
    caution: CAUTION,
    assumed: fleet.site.assumed,
    switchedOff: switchedOff(fleet),
    findings: fleet.findings,
    groups: grouped.groups.map(describeGroup),
    intervals,
    shutdownPlan: shutdowns.tasks,
    shutdowns: shutdowns.loads,
    backlog: { overdueNow: shutdowns.overdueNow, goneAfter: shutdowns.backlogGoneAfter },
    demand: demand.months,
    demandToday: demandToday.months,
    stock,
    kits: kitRows(demand.items, stock),
    cost,
    notes: grouped.notes,
    warnings: [...grouped.warnings, ...shutdowns.warnings, ...cost.warnings],
  };
}

/** The intervals as proposed: 'run' and an interval that cannot be named mean: until it leaks. */
function proposedPolicy(intervals: IntervalAdvice[]): ReplacementPolicy {
  return { name: 'proposed', intervalDays: intervals.map((interval) => interval.days) };
}

/** What the plant does today, as read from its history. */
function practisedPolicy(grouped: GroupedFleet): ReplacementPolicy {
  return { name: 'today', intervalDays: grouped.groups.map((group) => group.today.days) };
}

function siteOf({ site }: Fleet): Plan['site'] {
  return {
    name: site.name,
    currency: site.currency,
    dataUntil: textFromDay(site.dataUntil),
    recordsFrom: site.recordsFrom === null ? null : textFromDay(site.recordsFrom),
    event: site.event,
    kitComplete: site.targets.kitComplete,
  };
}
