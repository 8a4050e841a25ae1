export { compareCost } from './compare.js';
export type {
  BreakEven,
  CostByInterval,
  CostColumns,
  CostOutlook,
  CostPoint,
  DowntimeFront,
  DowntimePoint,
  PayBack,
  Swing,
  Swings,
} from './outlookTypes.js';
export { payBack, type YearCosts } from './payBack.js';
export type { CostComparison, YearlyCost } from './types.js';
