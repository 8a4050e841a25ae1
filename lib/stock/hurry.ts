/** How fast an emergency delivery is, and what it costs on top (METHODS 5.7). */
import type { Item } from '../fleet/types.js';
import type { Hurry } from './types.js';

/** Without emergency_days, an emergency delivery takes this share of the lead time. */
const EMERGENCY_SHARE = 0.25;

export function hurryOf(item: Item, leadDays: number): Omit<Hurry, 'shortOnDay'> {
  const { emergencyDays, emergencyExtraCost } = item;
  const days = emergencyDays ?? Math.ceil(EMERGENCY_SHARE * leadDays);
  return { days: Math.min(days, leadDays), assumed: emergencyDays === null, extraCost: emergencyExtraCost };
}
