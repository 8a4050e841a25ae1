/** Lot and reorder point together, where demand over the lead time is a normal amount and each piece short costs once. */
import { UsageError } from '../errors.js';
import { normalCdf, normalQuantile } from '../numeric/special.js';
import { normalLoss } from './newsvendor.js';

export interface LotAndPointInput {
  /** Pieces a year. */
  demandPerYear: number;
  orderCost: number;
  /** Of a piece for a year. */
  holdingCost: number;
  /** Of each piece that cannot be handed out at once, however long it waits. */
  costPerShort: number;
  /** Pieces asked for in the lead time, and their standard deviation. */
  leadMean: number;
  leadSd: number;
}

export interface LotAndPoint {
  quantity: number;
  point: number;
  /** point - leadMean, pieces. */
  safetyStock: number;
  shortPerCycle: number;
  /** Chance of no shortage in an order cycle. */
  cycleService: number;
  /** Share of pieces handed out at once: 1 - shortPerCycle / quantity. */
  fillRate: number;
  costPerYear: number;
  /** Quantity and point of each round, from the lot of steady demand on. */
  rounds: { quantity: number; point: number; shortPerCycle: number }[];
}

const ROUNDS = 1000;

/**
 * Each round takes the point from the chance of a shortage that the lot can bear, quantity x holding / (costPerShort x demand),
 * and the lot from the order cost with the shortages of a cycle added (Hadley & Whitin 1963, ch. 4, from memory: their
 * first model, good where shortages are rare). Throws UsageError on inputs not above 0 and finite, and where a piece short
 * costs so little that no stock pays.
 */
export function lotAndPoint(input: LotAndPointInput): LotAndPoint {
  for (const [name, value] of Object.entries(input)) {
    if (!(value > 0 && Number.isFinite(value))) {
      throw new UsageError('lotAndPoint', `${name} must be above 0, and finite.`, value);
    }
  }
  const { demandPerYear, orderCost, holdingCost, costPerShort, leadMean, leadSd } = input;
  const rounds: LotAndPoint['rounds'] = [];
  let quantity = Math.sqrt((2 * demandPerYear * orderCost) / holdingCost);
  for (let round = 0; round < ROUNDS; round++) {
    const { point, shortPerCycle } = pointFor(input, quantity);
    rounds.push({ quantity, point, shortPerCycle });
    const next = Math.sqrt((2 * demandPerYear * (orderCost + costPerShort * shortPerCycle)) / holdingCost);
    if (Math.abs(next - quantity) <= 1e-14 * next) break;
    quantity = next;
  }
  const { point, shortPerCycle } = pointFor(input, quantity);
  const cycles = demandPerYear / quantity;
  return {
    quantity,
    point,
    safetyStock: point - leadMean,
    shortPerCycle,
    cycleService: normalCdf((point - leadMean) / leadSd),
    fillRate: 1 - shortPerCycle / quantity,
    costPerYear:
      cycles * (orderCost + costPerShort * shortPerCycle) + holdingCost * (quantity / 2 + point - leadMean),
    rounds,
  };
}

function pointFor(
  { demandPerYear, holdingCost, costPerShort, leadMean, leadSd }: LotAndPointInput,
  quantity: number,
): { point: number; shortPerCycle: number } {
  const chance = (quantity * holdingCost) / (costPerShort * demandPerYear);
  if (!(chance < 1)) {
    throw new UsageError('lotAndPoint', 'costPerShort is so small that no stock pays.', costPerShort);
  }
  const z = -normalQuantile(chance);
  return { point: leadMean + leadSd * z, shortPerCycle: leadSd * normalLoss(z) };
}
