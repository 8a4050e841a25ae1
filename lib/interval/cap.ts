/** The longest age that the maker (or the site) allows a group, in days. */
import type { PositionRates } from '../exposure/rates.js';
import type { Fleet, Limit } from '../fleet/types.js';
import type { Group } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { count, daysWords } from '../numeric/words.js';
import { LATE_SHARE } from './dueRule.js';

export interface Cap {
  days: number;
  /** "maker's limit of 1 096 days". */
  text: string;
  /** Tag of the position that sets it, where a count of strokes or cycles does; null with a limit in days. */
  position: string | null;
  /** The limit at the group's middle position, days: far above `days` where one position is used much harder. */
  middleDays: number;
}

/** The interval by which windows are chosen, days: none of them passes the maker's limit by being late. */
export function workedAt(days: number, cap: Cap | null): number {
  return Math.min(days, (cap?.days ?? Infinity) / (1 + LATE_SHARE));
}

/**
 * Lowest of the limits that name the group's material (and its size, or every size). Strokes and steam cycles become
 * days by each position's own rate; no position may pass its limit, so the hardest used one decides. Positions of
 * unknown rate are left out. Null where no limit applies.
 */
export function makersCap(fleet: Fleet, group: Group, rates: readonly PositionRates[]): Cap | null {
  const caps = limitsOf(fleet.site.limits, group).flatMap((limit) => capsOf(limit, fleet, group, rates));
  return caps.reduce<Cap | null>(
    (lowest, cap) => (lowest === null || cap.days < lowest.days ? cap : lowest),
    null,
  );
}

/** Limits that name a group's material, and its size or every size. */
export function limitsOf(
  limits: readonly Limit[],
  { material, size }: Pick<Group, 'material' | 'size'>,
): Limit[] {
  return limits.filter(
    (limit) => limit.material === material && (limit.size === null || limit.size === size),
  );
}

function capsOf(limit: Limit, fleet: Fleet, group: Group, rates: readonly PositionRates[]): Cap[] {
  const { maxDays, maxStrokes, maxSteamCycles } = limit;
  const days: Cap[] =
    maxDays === null
      ? []
      : [
          {
            days: maxDays,
            text: `maker’s limit of ${daysWords(maxDays)}`,
            position: null,
            middleDays: maxDays,
          },
        ];
  return [
    ...days,
    ...countCap(maxStrokes, 'stroke', fleet, group, (p) => rates[p]?.strokes?.perDay ?? null),
    ...countCap(maxSteamCycles, 'steam cycle', fleet, group, (p) => rates[p]?.steamCycles?.perDay ?? null),
  ];
}

function countCap(
  limit: number | null,
  what: string,
  fleet: Fleet,
  group: Group,
  perDay: (position: number) => number | null,
): Cap[] {
  if (limit === null) return [];
  const reached = group.positions
    .map((position) => ({ position, days: limit / (perDay(position) ?? 0) }))
    .filter(({ days }) => Number.isFinite(days))
    .sort((a, b) => a.days - b.days || a.position - b.position);
  if (reached.length === 0) return [];
  const first = itemAt(reached, 0);
  const { position } = itemAt(fleet.positions, first.position);
  return [
    {
      days: first.days,
      text: `maker’s limit of ${count(limit, what)}, which ${position} reaches in ${daysWords(Math.floor(first.days))}`,
      position,
      middleDays: itemAt(reached, Math.floor(reached.length / 2)).days,
    },
  ];
}
