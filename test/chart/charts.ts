/** Every chart of a plan, by the name of the function that makes it. */
import {
  type Chart,
  clocksCompared,
  costByIntervalChart,
  costRateChart,
  costSplit,
  demandByMonth,
  downtimeChart,
  groupLives,
  intervalsOverview,
  lifeByUse,
  payBackChart,
  probabilityPlot,
  recordedLeaks,
  shutdownLoad,
  stockCover,
  stockMoneyCurve,
  swingChart,
  yearlyCostPath,
  yearlyWorkPath,
} from '../../lib/chart/index.js';
import type { Plan } from '../../lib/planTypes.js';

export function chartsOf(plan: Plan): Chart[] {
  const { currency } = plan.site;
  const items = [...new Set(plan.demand.map(({ item }) => item))].slice(0, 3);
  return [
    ...plan.groups.slice(0, 8).map(probabilityPlot),
    ...plan.intervals.slice(0, 8).map((each, i) => costRateChart(each, plan.groups[i] ?? null, currency)),
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
    clocksCompared(plan.wear.groups),
    lifeByUse(plan.wear.effects),
    ...(plan.stockMoney === null ? [] : [stockMoneyCurve(plan.stockMoney, currency)]),
  ];
}
