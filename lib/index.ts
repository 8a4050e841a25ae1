/** The public door, grouped by room: the table of contents of the library. */

// The whole job
export { readFleet, type ReadOptions } from './fleet/read.js';
export { planFleet, type PlanOptions } from './plan.js';
export type { GroupResult, Plan } from './planTypes.js';
export { CAUTION } from './planTexts.js';
export { VERSION } from './version.js';
export { InputError, UsageError, type Place } from './errors.js';
export type { Done, Findings, Problem, RowCount, Warning } from './findings.js';

// numeric: days and random streams
export { type Day, dayFromText, monthOfDay, textFromDay } from './numeric/day.js';
export { type RandomStream, randomStream } from './numeric/random.js';

// life: any sample, no valves needed
export type {
  ExponentialModel,
  FittingFault,
  LifeKind,
  LifeModel,
  LogLogisticModel,
  LognormalModel,
  WeibullModel,
} from './life/model.js';
export type { Bounds, LifeDraws, LifeSample } from './life/sampleTypes.js';
export { type LifeColumns, lifeSample, mergeSample } from './life/sample.js';
export {
  cumulativeHazard,
  density,
  drawLives,
  hazard,
  logSurvival,
  meanLife,
  quantile,
  remainingLife,
  survival,
} from './life/distribution/functions.js';
export { type FitOptions, fitLife, type LifeFit, type ShapePrior } from './life/estimate/fit.js';
export {
  type BoundedQuantity,
  type BoundsMethod,
  type BoundsOptions,
  type LifeBounds,
  lifeBounds,
} from './life/estimate/bounds.js';

// fleet: reading and checking
export type {
  Criticality,
  FindingAtRemoval,
  Fleet,
  Item,
  LifeTable,
  Limit,
  Lot,
  Money,
  OpenOrder,
  Position,
  ReadingTable,
  Reason,
  Shutdown,
  Site,
  Spread,
  Targets,
} from './fleet/types.js';
export { eventTableMarkdown, type LifeEvent, lifeEvent } from './fleet/eventTable.js';
export { type LifeRow, lifeRow } from './fleet/lifeRows.js';
export { type LineWindow, lineWindows } from './fleet/calendar.js';

// exposure
export { type DailyRate, dailyRates, type PositionRates } from './exposure/rates.js';

// group: lives of one kind
export { groupFleet } from './group/groupFleet.js';
export type { Group, GroupedFleet, PractisedSchedule, RunningLife } from './group/types.js';

// cost
export { groupCost } from './cost/groupCost.js';
export type { GroupCost } from './cost/types.js';

// interval
export { type ChooseAgeCosts, type ChosenAge, chooseAge, costRate } from './interval/chooseAge.js';
export { adviseIntervals } from './interval/advise.js';
export { planShutdowns } from './interval/shutdowns.js';
export type { ReplacementPolicy } from './interval/dueRule.js';
export type { CostCurve, IntervalAdvice, ShutdownLoad, ShutdownPlan, ShutdownTask } from './interval/types.js';

// demand
export { expectedEvents } from './demand/path.js';
export { forecastDemand } from './demand/forecast.js';
export type { DemandForecast, DemandMonth, ItemDemand } from './demand/types.js';

// stock
export { stockMeasures } from './stock/measures.js';
export { sizeStock } from './stock/size.js';
export type { StockAdvice, StockOrder } from './stock/types.js';

// yearly
export { compareCost } from './yearly/compare.js';
export type { CostComparison, YearlyCost } from './yearly/types.js';

// chart: plain Vega-Lite objects with a description
export * from './chart/index.js';

// report
export { reportHtml } from './report/html.js';
export { csvFiles } from './report/csv.js';
export { planFiles, planJson } from './report/files.js';
export { summaryText } from './report/summary.js';
export { writeTogether } from './report/write.js';
