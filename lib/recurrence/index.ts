/** The room's door: events that come again and again. */
export {
  fitPowerLaw,
  type PowerLawBounds,
  type PowerLawFit,
  type PowerLawOptions,
} from './fitPowerLaw.js';
export {
  type MeanCumulative,
  type MeanCumulativeOptions,
  meanCumulative,
} from './meanCumulative.js';
export {
  type MeanCumulativeDifference,
  meanCumulativeDifference,
} from './meanCumulativeDifference.js';
export { type PowerLawGoodness, powerLawGoodness } from './powerLawGoodness.js';
export type { EventColumns, EventRows, WatchColumns } from './recurrentEvents.js';
export {
  type FittedLives,
  type LifeTrend,
  type RenewalOptions,
  type RenewalVerdict,
  renewalVerdict,
} from './renewalVerdict.js';
export { type Reversals, reversalTest } from './reversals.js';
export type { EndedBy } from './systemHistories.js';
export { type TrendTest, type TrendTests, trendTests } from './trendTests.js';
