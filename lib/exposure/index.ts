/** The room's door: what wears a diaphragm besides time. */
export {
  type ActivationEnergy,
  type GivenActivationEnergy,
  givenActivationEnergy,
  materialActivationEnergy,
} from './activationEnergy.js';
export { arrheniusFactor } from './arrhenius.js';
export { chooseClock } from './clock/chooseClock.js';
export { type ClockInterval, type ClockPosition, clockIntervals } from './clock/clockIntervals.js';
export type {
  ClockChoice,
  ClockColumns,
  ClockExposure,
  ClockLaw,
  ClockOptions,
  ClockRow,
} from './clock/types.js';
export { type EquivalentHours, type EquivalentHoursOptions, equivalentHours } from './equivalentHours.js';
export {
  type EquivalentHourColumns,
  equivalentHoursBetween,
  type HourSpans,
} from './equivalentHoursBetween.js';
export {
  type EquivalentSteamHours,
  equivalentSteamHours,
  type SteamDuty,
  type SteamHoursOptions,
} from './equivalentSteamHours.js';
export { type ExposedFleet, type ExposedLives, exposeLives, type LifeExposure } from './exposeLives.js';
export {
  type CountedFleet,
  type CountedPosition,
  type DaySpans,
  type ExposedSpans,
  exposeSpans,
} from './exposeSpans.js';
export {
  type AsideReason,
  type CounterColumns,
  type CounterEvent,
  type CounterEventCode,
  type CounterFindings,
  type CounterName,
  type CounterTables,
  EXPOSURE_MARKS,
  type ExposureFindings,
  type ExposureLimits,
  type ExposureMark,
  type ExposureOptions,
  type ReadingsAside,
} from './exposureTypes.js';
export {
  type FitActivationEnergyOptions,
  type FittedActivationEnergy,
  fitActivationEnergy,
} from './fitActivationEnergy.js';
export { type DailyRate, dailyRates, type PositionRates } from './rates.js';
export { type ReadingColumnsGiven, readingColumns } from './readingColumns.js';
export type { TemperatureSeries } from './temperatureCourse.js';
