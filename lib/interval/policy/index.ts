/** When to replace for known life models: the age of least cost, other aims of an age, and other policies. */
export { type ChooseAgeCosts, type ChosenAge, chooseAge, costRate } from '../chooseAge.js';
export type { PolicyFigures } from '../types.js';
export { blockCostRate, type ChosenBlockAge, chooseBlockAge } from './chooseBlockAge.js';
export {
  type ChosenDiscountedAge,
  chooseDiscountedAge,
  type DiscountedCosts,
  discountedCost,
} from './chooseDiscountedAge.js';
export {
  type ChosenHoldingAge,
  chooseHoldingAge,
  type HoldingAim,
  type HoldingWindow,
} from './chooseHoldingAge.js';
export {
  type ChosenRepairAge,
  chooseRepairAge,
  type RepairCosts,
  repairCostRate,
} from './chooseRepairAge.js';
export { availability, type ChosenUptimeAge, chooseUptimeAge, type Downtimes } from './chooseUptimeAge.js';
