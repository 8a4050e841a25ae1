/** Demand per item and month under a policy, with the range of the joint total (METHODS 5.1 to 5.3). */
import { itemFor } from '../cost/itemFor.js';
import { meanOf } from '../cost/spread.js';
import { UsageError } from '../errors.js';
import type { Criticality, Fleet } from '../fleet/types.js';
import { CRITICALITIES } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import type { ShutdownTask } from '../interval/types.js';
import { floatAt, itemAt, sum } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { calendarMonths } from './grid.js';
import {
  addItemDraw,
  FIRST_YEAR_DAYS,
  type ItemPath,
  type Months,
  monthsOver,
  openItemPath,
} from './itemPath.js';
import { compoundPoisson, type JobSizes, jobSpread, recordedJobs } from './jobs.js';
import { completeKit } from './kitLevels.js';
import { kitList, NO_KITS } from './kits.js';
import type { Addition } from './mixture.js';
import { type MixtureCdf, mixtureCdf, mixtureQuantiles, quantilesOf } from './mixture.js';
import { classFlow, type PathSetup, preparePath, tablesOf } from './path.js';
import type { DemandForecast, DemandMonth, ItemDemand, PlannedNeed } from './types.js';

/** Openings from this mean of jobs a month on add to the range by their moments only. */
const MANY_JOBS = 40;
const LOW = 0.1;
const HIGH = 0.9;
const SAFE = 0.95;

export interface ForecastOptions {
  seed: number;
  /** Calendar months ahead, from the day after the data; the site's horizon by default. */
  months?: number;
  /** Posterior draws to average over, 200 by default (all where a group has fewer). */
  draws?: number;
  /** Step of the renewal recursion, days; a quarter month by default. */
  stepDays?: number;
  /**
   * The work list of the same policy (planShutdowns(...).tasks): scheduled replacements then follow it, so that what does
   * not fit into the crew hours is needed at the shutdown that it is carried to. Without it crew hours have no limit.
   */
  workList?: readonly ShutdownTask[];
  /** False leaves out the dated planned need of the items (`planned` is empty then); true by default. */
  kits?: boolean;
}

/**
 * Diaphragms needed per item and calendar month if the plant follows `policy`: expected scheduled replacements, leaks
 * and openings from one renewal path per position, and the 80 % range of their joint total. The first month may be the
 * rest of the month that the data end in. Ranges average over posterior draws; a draw is shared by all positions of a
 * group, so that totals are formed within a draw (Hong, Meeker & McCalley 2009). Throws UsageError where months is not
 * a whole number from 1 to 600.
 */
export function forecastDemand(
  fleet: Fleet,
  grouped: GroupedFleet,
  policy: ReplacementPolicy,
  options: ForecastOptions,
): DemandForecast {
  const count = options.months ?? fleet.site.horizonMonths;
  if (!(Number.isInteger(count) && count >= 1 && count <= 600)) {
    throw new UsageError('forecastDemand', 'months must be a whole number from 1 to 600.', count);
  }
  const spans = calendarMonths(fleet.site.dataUntil, count);
  const horizon = floatAt(spans.edges, count);
  const setup = preparePath(fleet, grouped, policy, horizon, options);
  const months = monthsOver(setup.grid, spans);
  const paths = itemPaths(fleet, grouped, setup, months, options.kits ?? true);
  for (const draw of setup.draws) {
    const tables = tablesOf(setup, draw);
    for (const path of paths) {
      const flows = path.schedules.map((schedule) => classFlow(setup, schedule, tables));
      addItemDraw(path, flows, months);
    }
  }
  const draws = setup.draws.length;
  const needs = itemNeeds(fleet, grouped);
  const planned = plannedNeeds(paths, draws, fleet.site.targets.kitComplete);
  return {
    draws,
    months: paths.flatMap((path) => monthRows(path, months, draws)),
    items: paths.map((path, i) => itemDemand(path, setup, months, needs, itemAt(planned, i))),
  };
}

function itemName(fleet: Fleet, material: string, size: number): string {
  return itemFor(fleet, material, size)?.item ?? `${material} DN ${size}`;
}

function itemPaths(
  fleet: Fleet,
  grouped: GroupedFleet,
  setup: PathSetup,
  months: Months,
  withKits: boolean,
): ItemPath[] {
  const jobs = recordedJobs(fleet);
  const byItem = new Map<string, { material: string; size: number; schedules: PathSetup['schedules'] }>();
  for (const schedule of setup.schedules) {
    const { material, size } = itemAt(grouped.groups, schedule.positions.groupNext);
    const item = itemName(fleet, material, size);
    const known = byItem.get(item);
    if (known === undefined) byItem.set(item, { material, size, schedules: [schedule] });
    else known.schedules.push(schedule);
  }
  return [...byItem].map(([item, { material, size, schedules }]) => {
    const kits = withKits ? kitList(schedules, months.spans, fleet.site.dataUntil) : NO_KITS;
    return openItemPath({ item, material, size }, schedules, jobs.of(material, size), months, kits);
  });
}

interface ItemPlaces {
  positions: number;
  criticality: Criticality;
  /** Sum over the positions whose line has a rate, and how many those are. */
  downtime: number;
  priced: number;
}

/** Positions, highest criticality and cost of downtime by item. */
function itemNeeds(fleet: Fleet, grouped: GroupedFleet): Map<string, ItemPlaces> {
  const needs = new Map<string, ItemPlaces>();
  const rates = fleet.site.money.downtimePerHour;
  for (const { position, groupNext } of grouped.running) {
    const { material, size } = itemAt(grouped.groups, groupNext);
    const item = itemName(fleet, material, size);
    const own = fleet.positions[position]?.criticality ?? 'normal';
    const known = needs.get(item) ?? { ...NO_PLACES };
    known.positions += 1;
    if (CRITICALITIES.indexOf(own) > CRITICALITIES.indexOf(known.criticality)) known.criticality = own;
    const rate = rates?.get(fleet.positions[position]?.line ?? '') ?? rates?.get('');
    if (rate !== undefined) {
      known.downtime += meanOf(rate);
      known.priced += 1;
    }
    needs.set(item, known);
  }
  return needs;
}

const NO_PLACES: ItemPlaces = { positions: 0, criticality: 'low', downtime: 0, priced: 0 };

function monthRows(path: ItemPath, { spans }: Months, draws: number): DemandMonth[] {
  return spans.names.map((month, m) => {
    const planned = floatAt(path.planned, m) / draws;
    const leaks = floatAt(path.leaks, m) / draws;
    const opened = floatAt(path.opened, m) / draws;
    const mixture = itemAt(path.total, m);
    const [low = 0, high = 0] = mixtureQuantiles(mixture, openings(opened, path.jobs), [LOW, HIGH]);
    return { item: path.item, month, planned, leaks, opened, mean: planned + leaks + opened, low, high };
  });
}

/** Openings of a month as an addition to the total: jobs by Poisson, valves per job as recorded. */
function openings(mean: number, sizes: JobSizes): Addition | null {
  if (mean <= 0) return null;
  const jobs = mean / sizes.mean;
  let third = 0;
  for (let v = 1; v < sizes.chances.length; v++) third += jobs * v ** 3 * floatAt(sizes.chances, v);
  return {
    chances: jobs <= MANY_JOBS ? compoundPoisson(jobs, sizes.chances) : null,
    moments: { mean, variance: mean * jobSpread(sizes), third },
  };
}

function itemDemand(
  path: ItemPath,
  setup: PathSetup,
  { spans }: Months,
  needs: ReturnType<typeof itemNeeds>,
  planned: PlannedNeed[],
): ItemDemand {
  const draws = setup.draws.length;
  const years = floatAt(spans.edges, spans.count) / DAYS_PER_YEAR;
  const steps = randomSteps(path, draws);
  const need = needs.get(path.item) ?? NO_PLACES;
  return {
    item: path.item,
    material: path.material,
    size: path.size,
    planned,
    randomPerStep: steps.mean,
    randomVariancePerStep: steps.variance,
    randomParameterSdPerStep: steps.parameterSd,
    stepDays: setup.grid.stepDays,
    byDraw: byDraw(path, setup.grid, years),
    shareFromParameters: shareFromParameters(path, draws),
    leaksPerYear: sum(path.leaks) / draws / years,
    openingsPerYear: sum(path.opened) / draws / years,
    plannedPerYear: sum(path.planned) / draws / years,
    positions: need.positions,
    criticality: need.criticality,
    downtimePerHour: need.priced === 0 ? null : need.downtime / need.priced,
    valvesPerJob: path.jobs.mean,
    jobsOnRecord: path.jobs.jobs,
  };
}

/** What each draw says of the item, as rates. */
function byDraw(
  path: ItemPath,
  { steps, stepDays }: PathSetup['grid'],
  years: number,
): NonNullable<ItemDemand['byDraw']> {
  const days = Math.max(1, Math.min(steps * stepDays, FIRST_YEAR_DAYS));
  const leaks = path.leaksOfDraw;
  const all = sum(path.leaks);
  const each = sum(leaks);
  // The grid ends a step beyond the months: the leaks of the draws are scaled to those of the months.
  const scale = each > 0 ? all / each / years : 0;
  return {
    randomPerDay: path.randomOfDraw.map((pieces) => pieces / days),
    leaksPerYear: leaks.map((pieces) => pieces * scale),
  };
}

/** Dated need of each path; the items of one kit share its target, so that the whole kit is complete. */
function plannedNeeds(paths: readonly ItemPath[], draws: number, kitComplete: number): PlannedNeed[][] {
  const target = Math.min(Math.max(kitComplete, 0), 1 - 1e-9);
  const rows = paths.map((path) => path.kitList.kits.map((_, kit) => plannedNeed(path, kit, draws, target)));
  const kits = new Map<string, Dated[]>();
  for (const row of rows.flat()) {
    const key = `${row.need.day} ${row.need.name}`;
    kits.set(key, [...(kits.get(key) ?? []), row]);
  }
  for (const parts of kits.values()) {
    const cdfs = parts.map(({ cdf }) => cdf.at);
    const levels = completeKit(
      cdfs,
      parts.map(({ need }) => need.kit),
      target,
    );
    parts.forEach(({ need }, i) => {
      need.kit = itemAt(levels, i);
    });
  }
  return rows.map((row) =>
    row.map(({ need }) => need).sort((a, b) => a.day - b.day || (a.name < b.name ? -1 : 1)),
  );
}

interface Dated {
  need: PlannedNeed;
  cdf: MixtureCdf;
}

/** Need of one item in one kit, at the target on its own. */
function plannedNeed(path: ItemPath, kit: number, draws: number, target: number): Dated {
  const { name, day, ifNothingLeaks } = itemAt(path.kitList.kits, kit);
  const cdf = mixtureCdf(itemAt(path.kit, kit), null);
  const [with95 = 0, alone = 0] = quantilesOf(cdf, [SAFE, target]);
  const expected = floatAt(path.kitExpected, kit) / draws;
  return { need: { name, day, ifNothingLeaks, expected, with95, kit: alone }, cdf };
}

/** Mean and variance of random demand by step: jobs widen openings, draws widen everything. */
function randomSteps(
  path: ItemPath,
  draws: number,
): { mean: number[]; variance: number[]; parameterSd: number[] } {
  const mean: number[] = [];
  const variance: number[] = [];
  const parameterSd: number[] = [];
  const spread = jobSpread(path.jobs);
  for (let k = 0; k < path.random.length; k++) {
    const all = floatAt(path.random, k) / draws;
    const opened = floatAt(path.openedByStep, k) / draws;
    const between = Math.max(0, floatAt(path.randomSquare, k) / draws - all * all);
    mean.push(all);
    variance.push(all - opened + opened * spread + between);
    parameterSd.push(Math.sqrt(between));
  }
  return { mean, variance, parameterSd };
}

/** Share of the variance of the first year's total that comes from not knowing the life model. */
function shareFromParameters({ year }: ItemPath, draws: number): number {
  const mean = year.mean / draws;
  const between = Math.max(0, year.square / draws - mean * mean);
  const all = between + year.within / draws;
  return all > 0 ? between / all : 0;
}
