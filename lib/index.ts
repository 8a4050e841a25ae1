/** The public door, grouped by room: the table of contents of the library. */

// chart: plain Vega-Lite objects with a description
export * from './chart/index.js';
// cost
export { groupCost } from './cost/groupCost.js';
export type { GroupCost } from './cost/types.js';
export { forecastDemand } from './demand/forecast.js';
// demand
export { expectedEvents } from './demand/path.js';
export type { DemandForecast, DemandMonth, ItemDemand } from './demand/types.js';
export { InputError, type Place, UsageError } from './errors.js';
// exposure
export { type DailyRate, dailyRates, type PositionRates } from './exposure/rates.js';
export type { Done, Findings, Problem, RowCount, Warning } from './findings.js';
export { type LineWindow, lineWindows } from './fleet/calendar.js';
export { eventTableMarkdown, type LifeEvent, lifeEvent } from './fleet/eventTable.js';
export { type LifeRow, lifeRow } from './fleet/lifeRows.js';
// The whole job
export { type ReadOptions, readFleet } from './fleet/read.js';
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
// group: lives of one kind
export { groupFleet } from './group/groupFleet.js';
export type { Group, GroupedFleet, PractisedSchedule, RunningLife } from './group/types.js';
export { adviseIntervals } from './interval/advise.js';
// interval
export { type ChooseAgeCosts, type ChosenAge, chooseAge, costRate } from './interval/chooseAge.js';
export type { ReplacementPolicy } from './interval/dueRule.js';
export { planShutdowns } from './interval/shutdowns.js';
export type {
  CostCurve,
  IntervalAdvice,
  ShutdownLoad,
  ShutdownPlan,
  ShutdownTask,
} from './interval/types.js';
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
export { kaplanMeier } from './life/empirical/kaplanMeier.js';
export { nelsonAalen } from './life/empirical/nelsonAalen.js';
export { turnbull } from './life/empirical/turnbull.js';
export {
  type BoundedQuantity,
  type BoundsMethod,
  type BoundsOptions,
  type LifeBounds,
  lifeBounds,
} from './life/estimate/bounds.js';
export { type FitOptions, fitLife, type LifeFit, type ShapePrior } from './life/estimate/fit.js';
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
export { renewalCount } from './life/renewal.js';
export { type LifeColumns, lifeSample, mergeSample } from './life/sample.js';
export type { Bounds, LifeDraws, LifeSample } from './life/sampleTypes.js';
// numeric: days and random streams
export { type Day, dayFromText, monthOfDay, textFromDay } from './numeric/day.js';
export { type RandomStream, randomStream } from './numeric/random.js';
export { type PlanOptions, planFleet } from './plan.js';
export { CAUTION } from './planTexts.js';
export type { GroupResult, Plan } from './planTypes.js';
export { csvFiles } from './report/csv.js';
export { planFiles, planJson } from './report/files.js';
// report
export { reportHtml } from './report/html.js';
export { summaryText } from './report/summary.js';
export { writeTogether } from './report/write.js';
// stock
export type { KitRow } from './stock/kits.js';
export { stockMeasures } from './stock/measures.js';
export { sizeStock } from './stock/size.js';
export type { Chase, StockAdvice, StockOrder } from './stock/types.js';
export { VERSION } from './version.js';
// yearly
export { compareCost } from './yearly/compare.js';
export type { CostComparison, YearlyCost } from './yearly/types.js';
