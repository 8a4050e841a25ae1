/** The public door, grouped by room from the ground floor up: the table of contents of the library. */

// The whole job: a folder in, a plan out, its files written together

export { type FleetRecords, type ReadOptions, readFleet, readRecords } from './fleet/read.js';
export { type PlanOptions, planFleet } from './plan.js';
export { CAUTION } from './planTexts.js';
export type { GroupResult, Plan } from './planTypes.js';
export { planFiles, planJson } from './report/files.js';
export { writeTogether } from './report/write.js';
export { VERSION } from './version.js';

// What can go wrong, and what was found

export { InputError, type Place, UsageError } from './errors.js';
export type { Done, Findings, Problem, RowCount, RuleCount, RuleExample, Warning } from './findings.js';

// numeric: days, random streams, and numbers and dates as readers see them

export { type Day, dayFromText, monthOfDay, textFromDay } from './numeric/day.js';
export { inLocale, isLocale } from './numeric/locale.js';
export { type RandomStream, randomStream } from './numeric/random.js';
export * as words from './numeric/words.js';

// life: any sample, no valves needed

export { compareGroups, type GroupComparison, type GroupTest } from './life/check/compareGroups.js';
export { type CoxSnell, type CoxSnellSlope, coxSnellResiduals } from './life/check/coxSnellResiduals.js';
export { type EdfStatistics, edfStatistics } from './life/check/edfStatistics.js';
export { type Discoveries, falseDiscovery } from './life/check/falseDiscovery.js';
export { type Goodness, type GoodnessOptions, goodnessOfFit } from './life/check/goodnessOfFit.js';
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
export { kaplanMeier, type SurvivalCurve } from './life/empirical/kaplanMeier.js';
export { nelsonAalen } from './life/empirical/nelsonAalen.js';
export { type ObservedRate, observedRate } from './life/empirical/observedRate.js';
export {
  benardRank,
  type FailureRanks,
  failureRanks,
  medianRank,
  type RankKind,
  rankQuantile,
} from './life/empirical/ranks.js';
export {
  type DataSupport,
  dataSupport,
  type SupportOptions,
  supportedAge,
} from './life/empirical/supportedAge.js';
export { turnbull } from './life/empirical/turnbull.js';
export { type BartlettTest, bartlettTest } from './life/estimate/bartlettTest.js';
export * from './life/estimate/bounds/index.js';
export {
  compareFamilies,
  type FamilyComparison,
  type FamilyRow,
} from './life/estimate/compareFamilies.js';
export { type BiasCorrection, correctBias } from './life/estimate/correctBias.js';
export type { DelayTimeRow, DelayTimeState } from './life/estimate/delayTime.js';
export {
  exponentialTestFactor,
  livesToDemonstrate,
  missionsToTest,
  type SurvivalDemand,
} from './life/estimate/demonstration.js';
export { type ExponentialTest, exponentialTest } from './life/estimate/exponentialTest.js';
export { type FitOptions, fitLife, type LifeFit, type ShapePrior } from './life/estimate/fit.js';
export {
  chanceMeanLifeAbove,
  type GammaRate,
  gammaRateAfter,
  gammaTestLength,
  type MeanLifeBelief,
  meanLifeBelief,
} from './life/estimate/gammaRate.js';
export {
  type LikelihoodContour,
  type LikelihoodRegion,
  likelihoodRegion,
} from './life/estimate/likelihoodRegion.js';
export {
  fitLognormalBesideFaults,
  type LognormalBesideFaults,
} from './life/estimate/lognormalBesideFaults.js';
export { fitMixture, type MixtureFit, type MixtureOptions } from './life/estimate/mixture/fitMixture.js';
export { POOLING_PRIORS, type PoolingPriors } from './life/estimate/pooling.js';
export {
  type PooledSample,
  type PooledSamples,
  type PoolSamplesOptions,
  poolSamples,
  type SampleGroup,
} from './life/estimate/poolSamples.js';
export { type PositionSpread, positionSpread } from './life/estimate/positionSpread/positionSpread.js';
export {
  fitByRanks,
  type RankFit,
  type RankFitOptions,
} from './life/estimate/rankRegression.js';
export { coxSnell } from './life/estimate/regression/coxSnell.js';
export { fitRegression } from './life/estimate/regression/fitRegression.js';
export {
  type PredictedLife,
  type PredictOptions,
  predictLife,
} from './life/estimate/regression/predictLife.js';
export { type RegressionTest, regressionTest } from './life/estimate/regression/regressionTest.js';
export { type RelativeLife, relativeLife } from './life/estimate/regression/relativeLife.js';
export {
  type StandardisedResiduals,
  standardisedResiduals,
} from './life/estimate/regression/standardisedResiduals.js';
export type {
  Covariate,
  Covariates,
  CovariateTransform,
  CovariateValues,
  Design,
  RegressionFit,
  RegressionLaw,
  RegressionOptions,
} from './life/estimate/regression/types.js';
export {
  fitSteppedExposure,
  type SteppedFit,
  type SteppedOptions,
} from './life/estimate/stepped/fitSteppedExposure.js';
export type { ExposureSteps } from './life/estimate/stepped/readSteps.js';
export { mergeSample } from './life/mergeSample.js';
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
export {
  type ConditionFit,
  type ConditionOptions,
  type EarlyScheduled,
  earlyScheduled,
  fitConditionBothWays,
} from './life/modes/fitConditionBothWays.js';
export {
  type DelayTimeBounds,
  type DelayTimeFit,
  delayTimeBounds,
  fitDelayTime,
} from './life/modes/fitDelayTime.js';
export { type FaultFit, type FaultFitOptions, fitFittingFaults } from './life/modes/fitFittingFaults.js';
export { type FitModesOptions, type FittedMode, fitModes, type ModesFit } from './life/modes/fitModes.js';
export {
  fitUnknownReasons,
  type UnknownAnswer,
  type UnknownReasonsFit,
  type UnknownReasonsOptions,
  type UnknownRow,
} from './life/modes/fitUnknownReasons.js';
export {
  incidenceOfModes,
  type ModeLaw,
  quantileOfModes,
  survivalOfModes,
} from './life/modes/modeLaws.js';
export { renewalCount } from './life/renewal.js';
export { type LifeColumns, lifeSample } from './life/sample.js';
export type { Bounds, LifeDraws, LifeSample } from './life/sampleTypes.js';

// recurrence: events that come again and again

export * from './recurrence/index.js';

// fleet: what was read and how it counts

export { type LineWindow, lineWindows } from './fleet/calendar.js';
export { CLEANING_RULES, type CleaningRule, cleaningTableMarkdown } from './fleet/cleaning/rules.js';
export { eventTableMarkdown, type LifeEvent, lifeEvent } from './fleet/eventTable.js';
export { type LifeRow, lifeRow } from './fleet/lifeRows.js';
export * from './fleet/mapping/index.js';
export { type LifeEnd, type PositionLives, positionLives } from './fleet/positionLives.js';
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

export * from './exposure/index.js';

// group: lives of one kind

export { groupFleet } from './group/groupFleet.js';
export { atMiddles, groupSurvival } from './group/groupSurvival.js';
export * from './group/recurrence/index.js';
export type { UnknownResult } from './group/resultTypes.js';
export { standOuts } from './group/standOut/standOuts.js';
export type * from './group/standOut/types.js';
export type {
  DamageLife,
  Drawn,
  Group,
  GroupedFleet,
  PlannedLife,
  PractisedSchedule,
  RunningLife,
  WearRecords,
} from './group/types.js';
export { findWear } from './group/wear/findWear.js';
export type * from './group/wear/types.js';

// cost: what a replacement and a leak cost

export { groupCost } from './cost/groupCost.js';
export type { GroupCost } from './cost/types.js';

// interval: when to replace, and at which shutdown

export { adviseIntervals } from './interval/advise.js';
export { type BacklogAhead, backlogAhead } from './interval/backlogAhead.js';
export type { ChangeSheet, EvidencePoint } from './interval/changeSheet.js';
export type { DueDate } from './interval/dueDates.js';
export type { ReplacementPolicy } from './interval/dueRule.js';
export { optimiseShutdowns } from './interval/fleetPlan/optimiseShutdowns.js';
export type * from './interval/fleetPlan/types.js';
export * from './interval/policy/index.js';
export { planShutdowns } from './interval/shutdowns.js';
export type * from './interval/types.js';
export type * from './interval/wear/types.js';
export { wearReport } from './interval/wear/wearReport.js';

// demand: what will be fitted

export * from './demand/index.js';

// stock: what to hold and order

export * from './stock/index.js';

// yearly: what it costs in a year

export * from './yearly/index.js';

// chart: plain Vega-Lite objects with a description

export * from './chart/index.js';

// report: the page, the tables, the summary

export { checkFiles, checkRecords, checkText, type RecordsCheck } from './report/check/index.js';
export { csvFiles } from './report/csv.js';
export { reportHtml } from './report/html.js';
export { breakEvenWords } from './report/outlook.js';
export { summaryText } from './report/summary.js';
