/** What the demand room shows. */
export { type CompoundDemand, compoundLaw } from './compoundLaw.js';
export { forecastDemand } from './forecast.js';
export {
  type CountDemand,
  type IntermittentForecast,
  type IntermittentMethod,
  type IntermittentOptions,
  intermittentDemand,
  intermittentOver,
} from './intermittentDemand.js';
export { expectedEvents } from './path.js';
export type { DemandForecast, DemandMonth, ItemDemand } from './types.js';
