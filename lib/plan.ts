/** The whole job in one function: a plant's history in, decisions out. */
import { groupCosts } from './cost/groupCost.js';
import { forecastDemand } from './demand/forecast.js';
import type { DemandForecast } from './demand/types.js';
import type { Fleet } from './fleet/types.js';
import { wearByUse } from './group/byUse/wearByUse.js';
import { checkLaws, type LawCheck } from './group/checkLaw.js';
import { describeGroup } from './group/describe.js';
import { groupByUse, groupFleet } from './group/groupFleet.js';
import { findRecurrence } from './group/recurrence/findRecurrence.js';
import type { GroupResult } from './group/resultTypes.js';
import { standOuts } from './group/standOut/standOuts.js';
import type { GroupedFleet } from './group/types.js';
import { findWear } from './group/wear/findWear.js';
import type { Wear } from './group/wear/types.js';
import { weighIntervals } from './interval/advise.js';
import { checkGroups, checkWarnings } from './interval/checkGroups.js';
import { dueDates } from './interval/dueDates.js';
import { practisedPolicy, proposedPolicy } from './interval/policies.js';
import { planShutdowns, practisedWorkList } from './interval/shutdowns.js';
import type { ShutdownPlan, ShutdownTask } from './interval/types.js';
import { wearReport, withClockDue } from './interval/wear/wearReport.js';
import { itemAt } from './numeric/columns.js';
import { textFromDay } from './numeric/day.js';
import { inLocale } from './numeric/locale.js';
import { CAUTION, switchedOff } from './planTexts.js';
import type { Plan } from './planTypes.js';
import { kitRows } from './stock/kits.js';
import { stockMoney } from './stock/money/stockMoney.js';
import { withUseCheck } from './stock/recordedUse.js';
import { sizeStock } from './stock/size.js';
import type { StockAdvice } from './stock/types.js';
import { VERSION } from './version.js';
import { compareCost } from './yearly/compare.js';
import { priceStandOuts } from './yearly/standOuts/priceStandOuts.js';

export interface PlanOptions {
  /** Seed of every random number in the plan, a whole number; 1 by default. */
  seed?: number;
}

/** How long they last, and what replacements and leaks cost. */
export interface Modelled {
  fleet: Fleet;
  seed: number;
  /** Groups by material and size alone, in days. */
  inDays: GroupedFleet;
  /** The same, or by use where a counter was found to wear groups. */
  grouped: GroupedFleet;
  costs: ReturnType<typeof groupCosts>;
  /** What wears these groups; null before it was asked for (`flowWear`). */
  wear: Wear | null;
}

/** The same with what wears it. */
export interface Flowing extends Modelled {
  wear: Wear;
}

/** What hangs on no interval: what the plant would need and do if it went on as today, whether the laws fit, what stands out, comes again or wears. */
export interface Practised extends Pick<Plan, 'standOuts' | 'recurrence'> {
  /** By group. */
  laws: LawCheck[];
  demand: DemandForecast['months'];
  workList: ShutdownTask[];
  wear: Wear;
}

/** The first half of the job: also when to replace. */
export interface Weighed extends Modelled, Pick<Plan, 'site' | 'intervals' | 'changes'> {
  /** Not yet checked. */
  groups: GroupResult[];
  cycles: ReturnType<typeof weighIntervals>['cycles'];
}

/** Two thirds of it: also what to do at each shutdown and what to order for it. */
export interface Supplied extends Weighed {
  shutdowns: ShutdownPlan;
  demand: DemandForecast;
  stock: StockAdvice[];
  stockMoney: Plan['stockMoney'];
}

/**
 * Life models per material and size, replacement intervals, shutdown plan, demand, stock and yearly cost of a plant.
 * Pure: the same fleet and seed give the same plan.
 */
export function planFleet(fleet: Fleet, options: PlanOptions = {}): Plan {
  const modelled = flowWear(modelFleet(fleet, options));
  return finishPlan(supplyFleet(weighFleet(modelled)), practiseFleet(modelled));
}

/** Life models and costs of a plant, all groups in days. */
export function modelFleet(fleet: Fleet, options: PlanOptions = {}): Modelled {
  return inLocale(fleet.site.locale, () => model(fleet, options));
}

function model(fleet: Fleet, { seed = 1 }: PlanOptions): Modelled {
  const grouped = groupFleet(fleet, { seed });
  return { fleet, seed, inDays: grouped, grouped, costs: groupCosts(fleet, grouped), wear: null };
}

/** What wears the groups of a plant besides days. */
export function wearFleet({ fleet, grouped, seed }: Modelled): Wear {
  return inLocale(fleet.site.locale, () => findWear(fleet, grouped, seed));
}

/**
 * The same plant once it is known what wears it, `found` by `wearFleet` (by default it is): groups that a counter wears are fitted again on
 * its clock and come in classes of use. Where no counter wears any group, only the finding is added.
 */
export function flowWear(modelled: Modelled, found?: Wear): Flowing {
  const { wear: known } = modelled;
  if (known !== null) return { ...modelled, wear: known };
  const wear = found ?? wearFleet(modelled);
  if (wear.worn.length === 0) return { ...modelled, wear };
  return inLocale(modelled.fleet.site.locale, () => byUse(modelled, wear));
}

function byUse({ fleet, seed, inDays }: Modelled, wear: Wear): Flowing {
  const { grouped, parentOf } = groupByUse(fleet, { inDays, wear }, { seed });
  const costs = groupCosts(fleet, grouped);
  return { fleet, seed, inDays, grouped, costs, wear: wearByUse(wear, grouped, parentOf) };
}

/** Demand and work list of today's practice, and the laws of the groups put to the test. */
export function practiseFleet(modelled: Modelled): Practised {
  return inLocale(modelled.fleet.site.locale, () => practise(modelled));
}

function practise(modelled: Modelled): Practised {
  const { fleet, seed, inDays, grouped, costs, wear } = flowWear(modelled);
  const demand = forecastDemand(fleet, grouped, practisedPolicy(grouped), { seed, kits: false });
  return {
    laws: checkLaws(grouped.groups, seed),
    demand: demand.months,
    workList: practisedWorkList(fleet, grouped, costs),
    standOuts: priceStandOuts(fleet, grouped, costs, standOuts(fleet, grouped), seed),
    wear,
    recurrence: findRecurrence(fleet, inDays),
  };
}

/** Intervals, added to what was modelled. */
export function weighFleet(modelled: Modelled): Weighed {
  return inLocale(modelled.fleet.site.locale, () => weigh(modelled));
}

function weigh(modelled: Modelled): Weighed {
  const { fleet, grouped, costs } = modelled;
  const { intervals, changes, cycles } = weighIntervals(fleet, grouped, costs);
  const groups = grouped.groups.map((group) => describeGroup(group, fleet.positions));
  return { ...modelled, cycles, site: siteOf(fleet), groups, intervals, changes };
}

/** The shutdown plan, and with it the demand and what to order, added to what was weighed. */
export function supplyFleet(weighed: Weighed): Supplied {
  return inLocale(weighed.fleet.site.locale, () => supply(weighed));
}

function supply(weighed: Weighed): Supplied {
  const { fleet, seed, grouped, costs, intervals } = weighed;
  const shutdowns = planShutdowns(fleet, grouped, intervals, costs);
  const demand = forecastDemand(fleet, grouped, proposedPolicy(intervals), {
    seed,
    workList: shutdowns.tasks,
  });
  const stock = sizeStock(fleet, demand);
  const money = stockMoney(fleet, grouped, demand, stock);
  return { ...weighed, shutdowns, demand, stock, stockMoney: money };
}

/** The whole plan: the cost of the proposal and of today's practice, added to what was supplied. */
export function finishPlan(supplied: Supplied, practised: Practised): Plan {
  return inLocale(supplied.fleet.site.locale, () => finish(supplied, practised));
}

function finish(supplied: Supplied, practised: Practised): Plan {
  const { fleet, seed, grouped, costs, cycles, site, intervals, changes } = supplied;
  const { shutdowns, demand } = supplied;
  const stock = withUseCheck(supplied.stock, practised.demand, demand.items);
  const workLists = { proposed: shutdowns.tasks, today: practised.workList };
  const wear = wearReport(fleet, intervals, practised.wear);
  const cost = compareCost(fleet, grouped, costs, intervals, { seed, cycles, workLists });

  return {
    version: VERSION,
    seed,
    inputsHash: fleet.inputsHash,
    site,
    caution: CAUTION,
    assumed: fleet.site.assumed,
    switchedOff: switchedOff(fleet),
    findings: fleet.findings,
    groups: checkedGroups(supplied, practised.laws),
    intervals,
    changes,
    shutdownPlan: shutdowns.tasks,
    shutdowns: shutdowns.loads,
    dueDates: withClockDue(dueDates(fleet, grouped, intervals, shutdowns.tasks), wear),
    backlog: { overdueNow: shutdowns.overdueNow, goneAfter: shutdowns.backlogGoneAfter },
    optimum: shutdowns.optimum,
    demand: demand.months,
    demandToday: practised.demand,
    stock,
    kits: kitRows(demand.items, stock, fleet.items),
    stockMoney: supplied.stockMoney,
    cost,
    standOuts: practised.standOuts,
    wear,
    recurrence: practised.recurrence,
    notes: grouped.notes,
    warnings: [...grouped.warnings, ...shutdowns.warnings, ...cost.warnings],
  };
}

function checkedGroups({ grouped, costs, groups, intervals }: Supplied, laws: LawCheck[]): Plan['groups'] {
  const checks = checkGroups(grouped.groups, costs, intervals, laws);
  return groups.map((group, g) => {
    const check = itemAt(checks, g);
    const more = checkWarnings(check, itemAt(intervals, g).days);
    return { ...group, check, warnings: [...group.warnings, ...more] };
  });
}

function siteOf({ site }: Fleet): Plan['site'] {
  return {
    name: site.name,
    currency: site.currency,
    ...(site.locale === undefined ? {} : { locale: site.locale }),
    dataUntil: textFromDay(site.dataUntil),
    recordsFrom: site.recordsFrom === null ? null : textFromDay(site.recordsFrom),
    event: site.event,
    kitComplete: site.targets.kitComplete,
  };
}
