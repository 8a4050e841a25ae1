/** What the stock room shows. */
export {
  type ChosenPolicy,
  choosePolicy,
  type PolicyFamily,
  type PolicyGoal,
} from './choosePolicy.js';
export type { BudgetItem } from './itemCurve.js';
export type { KitRow } from './kits.js';
export type { LeadTimeDemand } from './leadTimeDemand.js';
export { type LotAndPoint, type LotAndPointInput, lotAndPoint } from './lotAndPoint.js';
export { type LotSizeCosts, type LotSizes, lotSizes } from './lotSizes.js';
export { type StockMeasures, stockMeasures } from './measures.js';
export { type ServiceByLevel, type ServicePlace, serviceByLevel } from './money/serviceByLevel.js';
export { stockMoney } from './money/stockMoney.js';
export type {
  BuyNext,
  CurvePoint,
  FurtherMoney,
  MoneyClass,
  MoneyRow,
  StockClass,
  StockMoney,
  StockPlace,
  TwoLevelAdvice,
} from './money/types.js';
export { type NewsvendorQuantity, newsvendorQuantity, type OccasionDemand } from './newsvendor.js';
export { type OrderQuantity, type OrderQuantityInput, orderQuantity } from './orderQuantity.js';
export type { StockPolicy } from './policy.js';
export type { PriceBreak } from './priceBreaks.js';
export { projectStock, type ShelfEvent, type StockProjection } from './projectStock.js';
export { servedWithin } from './servedWithin.js';
export { sizeStock } from './size.js';
export { type BudgetGoal, type BudgetStep, type SpentBudget, spendBudget } from './spendBudget.js';
export { type StockCost, type StockCosts, stockCost } from './stockCost.js';
export {
  type LocalDemand,
  type TwoLevelGoal,
  type TwoLevelLevels,
  twoLevelLevels,
} from './twoLevelLevels.js';
export {
  type LocalStore,
  type StoreMeasures,
  type TwoLevelInput,
  type TwoLevelMethod,
  type TwoLevelStock,
  twoLevelStock,
} from './twoLevelStock.js';
export type { Chase, StockAdvice, StockOrder } from './types.js';
