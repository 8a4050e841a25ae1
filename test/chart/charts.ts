/** Every chart of a plan, by the name of the function that makes it. */
import {
  backlogChart,
  type Chart,
  clocksCompared,
  costByIntervalChart,
  costRateChart,
  costSplit,
  demandByMonth,
  downtimeChart,
  expiryCalendar,
  groupLives,
  hazardChart,
  intervalsOverview,
  leaksByLine,
  lifeByUse,
  lifeTimeline,
  likelihoodRegionChart,
  payBackChart,
  probabilityPlot,
  recordedLeaks,
  savingDistribution,
  shutdownLoad,
  standOutsChart,
  stockCover,
  stockMoneyCurve,
  stockProjection,
  stockServiceChart,
  survivalChart,
  swingChart,
  yearlyCostPath,
  yearlyWorkPath,
} from '../../lib/chart/index.js';
import { backlogAhead } from '../../lib/interval/backlogAhead.js';
import type { Plan } from '../../lib/planTypes.js';
import {
  curveOf,
  projectionOf,
  ratesOf,
  regionOf,
  savingsOf,
  serviceOf,
  timelinesOf,
} from '../fixtures/projection.js';

/** `most` charts of each kind that groups and items have one of. */
export function chartsOf(plan: Plan, most = 8): Chart[] {
  const { currency } = plan.site;
  const items = [...new Set(plan.demand.map(({ item }) => item))].slice(0, 3);
  return [
    ...plan.groups.slice(0, most).map(probabilityPlot),
    ...plan.intervals.slice(0, most).map((each, i) => costRateChart(each, plan.groups[i] ?? null, currency)),
    intervalsOverview(plan.intervals, currency),
    costSplit(plan.cost, currency),
    yearlyCostPath(plan.cost, currency),
    yearlyWorkPath(plan.cost),
    recordedLeaks(plan.cost),
    costByIntervalChart(plan.cost, currency),
    ...(plan.cost.outlook.front === null ? [] : [downtimeChart(plan.cost.outlook.front, currency)]),
    swingChart(plan.cost, currency),
    payBackChart(plan.cost, currency),
    ...items.map((item) =>
      demandByMonth(
        item,
        plan.demand.filter((month) => month.item === item),
      ),
    ),
    shutdownLoad(plan.shutdowns, plan.shutdownPlan),
    groupLives(plan.groups),
    stockCover(plan.stock),
    expiryCalendar(plan.stock, plan.site.dataUntil, currency),
    ...plan.stock.slice(0, most).map((each) => stockProjection(projectionOf(each, plan.site.dataUntil))),
    lifeTimeline(timelinesOf(plan.dueDates.map(({ position }) => position)), 'Positions by calendar'),
    lifeTimeline(
      timelinesOf(
        plan.stock.map(({ item }) => item),
        400,
      ),
      'Many diaphragms',
    ),
    savingDistribution(savingsOf(plan.cost.saving.perYear), currency),
    ...plan.groups.slice(0, most).map((group) => survivalChart(group, curveOf(group))),
    ...plan.groups.slice(0, 2).map((group) => survivalChart(group, null)),
    ...plan.groups.slice(0, most).map((group) => hazardChart(group, ratesOf(group))),
    ...plan.groups.slice(0, 1).map((group) => hazardChart(group, [])),
    clocksCompared(plan.wear.groups),
    lifeByUse(plan.wear.effects),
    ...plan.groups.slice(0, most).map((group, i) =>
      likelihoodRegionChart(regionOf(group), {
        name: group.group,
        planned: i % 3 === 2 ? null : group.planned,
      }),
    ),
    standOutsChart(plan.standOuts),
    backlogChart(backlogAhead(plan.dueDates, plan.shutdownPlan, plan.site.dataUntil)),
    ...plan.stock.slice(0, most).map((each) => stockServiceChart(serviceOf(each), currency)),
    leaksByLine(plan.recurrence),
    ...(plan.stockMoney === null ? [] : [stockMoneyCurve(plan.stockMoney, currency)]),
  ];
}
