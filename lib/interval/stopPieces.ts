/** Diaphragms that can be there at each stop, as limits of the fleet plan, and what cannot wait for one. */
import { orderedComes, piecesReady } from '../fleet/pieces.js';
import type { Fleet, Item } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import type { FleetStock } from './fleetPlan/types.js';
import type { FleetWork } from './fleetProblem.js';
import { nextWindow, type Stop } from './stopCalendar.js';
import type { ShutdownTask } from './types.js';
import { NO_LATER_WINDOW_DAYS, type WorkGroup, type WorkPosition } from './workList.js';

/** Ages that the maker allows, by group; null or absent = none. */
export type AgeLimits = ReadonlyMap<WorkGroup, number | null>;

/** Whether the diaphragm in place passes a limit of the maker before the line's next window. */
export function passesLimit(
  { now, fitted }: WorkPosition,
  stop: Stop,
  next: Day | null,
  limits: AgeLimits,
): boolean {
  const limit = limits.get(now) ?? null;
  return limit !== null && (next ?? stop.start + NO_LATER_WINDOW_DAYS) - fitted > limit;
}

/** What the fleet plan has of each item, and the positions whose piece is set aside because they cannot wait for one. */
export interface StopPieces {
  stock: FleetStock[];
  firm: ReadonlySet<number>;
}

/**
 * Pieces that placed positions can take by each stop, one count from the day of the data on: of the item and what its approved substitute has
 * beyond its own work (`due` lists it), less what other work takes and what cannot wait. No limit where a new order comes in time.
 */
export function stopPieces(
  fleet: Fleet,
  work: FleetWork,
  limits: AgeLimits,
  due: readonly ShutdownTask[],
): StopPieces {
  const items = new Map(fleet.items.map((item) => [item.item, item]));
  const names = [...new Set(work.free.map((p) => itemAt(work.places, p).next.item))];
  const used = names.flatMap((name) => (name === null ? [] : (items.get(name) ?? [])));
  const days = work.stops.map(({ start }) => start);
  const listed = pieceCounts(work.stops, due);
  const firm = firmWork(fleet, work, limits, items);
  const stock = used.flatMap((item): FleetStock[] => {
    const substitute = item.approvedSubstitute === null ? undefined : items.get(item.approvedSubstitute);
    const own = piecesReady(fleet, item, days);
    const more = substitute === undefined ? null : piecesReady(fleet, substitute, days);
    let [taken, ofSubstitute] = [0, 0];
    const ready = work.stops.flatMap((_, s) => {
      taken += (itemAt(work.other, s).pieces.get(item.item) ?? 0) + (firm.counts[s]?.get(item.item) ?? 0);
      ofSubstitute += substitute === undefined ? 0 : (listed[s]?.get(substitute.item) ?? 0);
      const [mine, theirs] = [own[s] ?? null, more === null ? 0 : (more[s] ?? null)];
      if (mine === null || theirs === null) return [];
      return [{ window: String(s), pieces: Math.max(0, mine + Math.max(0, theirs - ofSubstitute) - taken) }];
    });
    return ready.length === 0 ? [] : [{ item: item.item, ready }];
  });
  return { stock, firm: firm.places };
}

/** Replacements listed by stop and item. */
export function pieceCounts(stops: readonly Stop[], tasks: readonly ShutdownTask[]): Map<string, number>[] {
  const counts = stops.map(() => new Map<string, number>());
  const index = new Map(stops.map(({ name, startText }, s) => [JSON.stringify([name, startText]), s]));
  for (const { shutdown, start, item, fits } of tasks) {
    const at = counts[index.get(JSON.stringify([shutdown, start])) ?? -1];
    if (fits && item !== null && at !== undefined) at.set(item, (at.get(item) ?? 0) + 1);
  }
  return counts;
}

/** Positions that cannot wait at a stop to which no new order comes in time, and the pieces that they take there. */
function firmWork(
  fleet: Fleet,
  { places, free, stops, calendars }: FleetWork,
  limits: AgeLimits,
  items: ReadonlyMap<string, Item>,
): { places: Set<number>; counts: Map<string, number>[] } {
  const firm = new Set<number>();
  const counts = stops.map(() => new Map<string, number>());
  const comes = new Map([...items.values()].map((item) => [item, orderedComes(fleet, item)]));
  for (const p of free) {
    const place = itemAt(places, p);
    const item = place.next.item === null ? undefined : items.get(place.next.item);
    if (item === undefined) continue;
    const { position, line } = place.position;
    const s = stops.findIndex(
      (stop) =>
        stop.start < (comes.get(item) ?? 0) &&
        calendars.get(line)?.stopOn.get(stop.start) === stop &&
        (stop.shutdown.must.includes(position) ||
          passesLimit(place, stop, nextWindow(stop, line, calendars), limits)),
    );
    if (s < 0) continue;
    firm.add(p);
    const at = itemAt(counts, s);
    at.set(item.item, (at.get(item.item) ?? 0) + 1);
  }
  return { places: firm, counts };
}
