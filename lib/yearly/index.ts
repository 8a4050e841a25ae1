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
export { type SavingDraws, savingDraws } from './savingDraws.js';
export { priceStandOuts } from './standOuts/priceStandOuts.js';
export type * from './standOuts/types.js';
export type { CostComparison, YearlyCost } from './types.js';
