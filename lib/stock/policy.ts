/** Rules of ordering, and what they come to. */
import { UsageError } from '../errors.js';

/**
 * Position: on hand + on order - on back order.
 * `baseStock`: watched always; each piece that leaves is ordered again, so that the position stays at `level`.
 * `reorder`: watched always; at or below `point`, the fewest lots of `quantity` that lift the position above it.
 * `review`: looked at every `reviewPeriods`; what is missing to `level` is ordered and comes `leadPeriods` later.
 * `reviewReorder`: looked at every `reviewPeriods`; at or below `point`, the fewest lots of `quantity` that lift the
 * position above it: it may have fallen well below the point by then (undershoot).
 */
export type StockPolicy =
  | { kind: 'baseStock'; level: number }
  | { kind: 'reorder'; point: number; quantity: number }
  | { kind: 'review'; level: number; leadPeriods: number; reviewPeriods: number }
  | {
      kind: 'reviewReorder';
      point: number;
      quantity: number;
      leadPeriods: number;
      reviewPeriods: number;
    };

/** A policy whose stock is looked at now and then. */
export type ReviewPolicy = Extract<StockPolicy, { reviewPeriods: number }>;

/**
 * Reorder point and lot of a policy; an order-up-to level S is a point of S - 1 with lots of one. Throws UsageError where
 * level, point or quantity is not a whole number (level at or above 0, point at or above -quantity, quantity at or
 * above 1).
 */
export function pointAndQuantity(where: string, policy: StockPolicy): { point: number; quantity: number } {
  if (policy.kind === 'baseStock' || policy.kind === 'review') {
    if (!(Number.isInteger(policy.level) && policy.level >= 0)) {
      throw new UsageError(where, 'level must be a whole number at or above 0.', policy.level);
    }
    return { point: policy.level - 1, quantity: 1 };
  }
  const { point, quantity } = policy;
  if (!(Number.isInteger(quantity) && quantity >= 1)) {
    throw new UsageError(where, 'quantity must be a whole number at or above 1.', quantity);
  }
  if (!(Number.isInteger(point) && point >= -quantity)) {
    throw new UsageError(where, 'point must be a whole number at or above -quantity.', point);
  }
  return { point, quantity };
}
