/** How fast an emergency delivery is, and what it costs on top (METHODS 5.7). */
import type { ItemDemand } from '../demand/types.js';
import type { Item } from '../fleet/types.js';
import type { Hurry } from './types.js';

/** Without emergency_days, an emergency delivery takes this share of the lead time. */
const EMERGENCY_SHARE = 0.25;

export function hurryOf(item: Item, leadDays: number): Omit<Hurry, 'shortOnDay'> {
  const { emergencyDays, emergencyExtraCost } = item;
  const days = emergencyDays ?? Math.ceil(EMERGENCY_SHARE * leadDays);
  return { days: Math.min(days, leadDays), assumed: emergencyDays === null, extraCost: emergencyExtraCost };
}

/** What a leak that finds the shelf empty costs: its line waits for an emergency delivery. Null where nothing of it has a price. */
export function shortCost(
  { days, extraCost }: Omit<Hurry, 'shortOnDay'>,
  demand: ItemDemand | null,
): number | null {
  const rate = demand?.downtimePerHour ?? null;
  if (rate === null && extraCost === null) return null;
  return days * 24 * (rate ?? 0) + (extraCost ?? 0);
}
