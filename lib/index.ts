/** The public door, grouped by room from the ground floor up: the table of contents of the library. */

// The whole job: a folder in, a plan out, its files written together

export { type ReadOptions, readFleet } from './fleet/read.js';
export { type PlanOptions, planFleet } from './plan.js';
export { CAUTION } from './planTexts.js';
export type { GroupResult, Plan } from './planTypes.js';
export { planFiles, planJson } from './report/files.js';
export { writeTogether } from './report/write.js';
export { VERSION } from './version.js';

// What can go wrong, and what was found

export { InputError, type Place, UsageError } from './errors.js';
export type { Done, Findings, Problem, RowCount, Warning } from './findings.js';

// numeric: days and random streams

export { type Day, dayFromText, monthOfDay, textFromDay } from './numeric/day.js';
export { type RandomStream, randomStream } from './numeric/random.js';

// life: any sample, no valves needed

export {
  conditionalSurvival,
  cumulativeHazard,
  density,
  drawLives,
  hazard,
  lifeVariance,
  logSurvival,
  meanLife,
  quantile,
  remainingLife,
  survival,
} from './life/distribution/functions.js';
export {
  cumulativeIncidence,
  type IncidenceBounds,
  type IncidenceCurves,
  type ModeIncidence,
} from './life/empirical/cumulativeIncidence.js';
export { kaplanMeier } from './life/empirical/kaplanMeier.js';
export { nelsonAalen } from './life/empirical/nelsonAalen.js';
export {
  benardRank,
  type FailureRanks,
  failureRanks,
  medianRank,
  type RankKind,
} from './life/empirical/ranks.js';
export { turnbull } from './life/empirical/turnbull.js';
export {
  type BoundedQuantity,
  type BoundsMethod,
  type BoundsOptions,
  type LifeBounds,
  lifeBounds,
} from './life/estimate/bounds.js';
export {
  compareFamilies,
  type FamilyComparison,
  type FamilyRow,
} from './life/estimate/compareFamilies.js';
export { type BiasCorrection, correctBias } from './life/estimate/correctBias.js';
export { type ExponentialTest, exponentialTest } from './life/estimate/exponentialTest.js';
export { type FitOptions, fitLife, type LifeFit, type ShapePrior } from './life/estimate/fit.js';
export { fitMixture, type MixtureFit, type MixtureOptions } from './life/estimate/fitMixture.js';
export { fitByRanks, type RankFit, type RankFitOptions } from './life/estimate/rankRegression.js';
export type {
  CompetingModel,
  ExponentialModel,
  FittedKind,
  FittedModel,
  FittingFault,
  GammaModel,
  GeneralisedGammaModel,
  LifeKind,
  LifeModel,
  LogLogisticModel,
  LognormalModel,
  MixtureModel,
  SmallestValueModel,
  WeibullModel,
} from './life/model.js';
export { renewalCount } from './life/renewal.js';
export { type LifeColumns, lifeSample, mergeSample } from './life/sample.js';
export type { Bounds, LifeDraws, LifeSample } from './life/sampleTypes.js';

// fleet: what was read and how it counts

export { type LineWindow, lineWindows } from './fleet/calendar.js';
export { eventTableMarkdown, type LifeEvent, lifeEvent } from './fleet/eventTable.js';
export { type LifeRow, lifeRow } from './fleet/lifeRows.js';
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

// exposure: what wears a diaphragm besides time

export { type DailyRate, dailyRates, type PositionRates } from './exposure/rates.js';

// group: lives of one kind

export { groupFleet } from './group/groupFleet.js';
export type { UnknownResult } from './group/resultTypes.js';
export type {
  DamageLife,
  Drawn,
  Group,
  GroupedFleet,
  PlannedLife,
  PractisedSchedule,
  RunningLife,
} from './group/types.js';

// cost: what a replacement and a leak cost

export { groupCost } from './cost/groupCost.js';
export type { GroupCost } from './cost/types.js';

// interval: when to replace, and at which shutdown

export { adviseIntervals } from './interval/advise.js';
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

// demand: what will be fitted

export { forecastDemand } from './demand/forecast.js';
export { expectedEvents } from './demand/path.js';
export type { DemandForecast, DemandMonth, ItemDemand } from './demand/types.js';

// stock: what to hold and order

export type { KitRow } from './stock/kits.js';
export { stockMeasures } from './stock/measures.js';
export { sizeStock } from './stock/size.js';
export type { Chase, StockAdvice, StockOrder } from './stock/types.js';

// yearly: what it costs in a year

export { compareCost } from './yearly/compare.js';
export type { CostComparison, YearlyCost } from './yearly/types.js';

// chart: plain Vega-Lite objects with a description

export * from './chart/index.js';

// report: the page, the tables, the summary

export { csvFiles } from './report/csv.js';
export { reportHtml } from './report/html.js';
export { summaryText } from './report/summary.js';
