/** A plant's work list as a problem of the fleet plan: its lines, windows, costs and limits as plain data. */
import { meanOf } from '../cost/spread.js';
import { sharedStop, stopPractice, wholeStop } from '../cost/stops.js';
import type { GroupCost } from '../cost/types.js';
import { dailyRates } from '../exposure/rates.js';
import type { Fleet } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import { makersCap } from './cap.js';
import { MOST_WINDOWS } from './fleetPlan/checkProblem.js';
import type {
  FleetDiaphragm,
  FleetLine,
  FleetPosition,
  FleetProblem,
  FleetWindow,
} from './fleetPlan/types.js';
import type { Calendars, Stop } from './stopCalendar.js';
import type { WorkGroup, WorkPosition } from './workList.js';

/** What is planned: the places by their index, the known stops, and the hours of each that other work takes. */
export interface FleetWork {
  places: readonly WorkPosition[];
  free: readonly number[];
  stops: readonly Stop[];
  calendars: Calendars;
  /** What other work takes at each stop, and the lines that it opens there: their stop is paid already. */
  other: OtherWork[];
}

export interface OtherWork {
  hours: number;
  lines: ReadonlySet<string>;
}

/** Stops go by their place in the list, because two may have one name. */
export function windowName(stop: number): string {
  return String(stop);
}

export function fleetProblem(
  fleet: Fleet,
  groups: readonly WorkGroup[],
  costs: readonly GroupCost[],
  work: FleetWork,
): FleetProblem {
  const { places, free, stops, other } = work;
  const diaphragms = new Map(groups.map((group, g) => [group, diaphragmOf(group, itemAt(costs, g))]));
  const own = new Map(groups.map((group, g) => [group, meanOf(itemAt(costs, g).opening)]));
  const limits = makersLimits(fleet, groups);
  const share = stopShares(fleet);
  const lines = [...new Set(free.map((p) => itemAt(places, p).position.line))].sort();
  return {
    today: fleet.site.dataUntil,
    windows: stops.map((stop, s): FleetWindow => {
      const { crewHours } = stop.shutdown;
      const left = crewHours === null ? null : Math.max(0, crewHours - itemAt(other, s).hours);
      return { name: windowName(s), day: stop.start, crewHours: left };
    }),
    lines: lines.map((line) => lineOf(fleet, line, work)),
    positions: free.map((p): FleetPosition => {
      const { position, now, next, ages, fitterHours, instrumentHours, ends } = itemAt(places, p);
      return {
        position: position.position,
        line: position.line,
        now: diaphragms.get(now) as FleetDiaphragm,
        next: diaphragms.get(next) as FleetDiaphragm,
        ages,
        replacementCost: own.get(next) as number,
        stopShare: share(position.line),
        fitterHours,
        instrumentHours,
        item: next.item,
        latestAge: limits.get(next) ?? null,
        until: ends,
      };
    }),
  };
}

function diaphragmOf({ group, holding }: WorkGroup, cost: GroupCost): FleetDiaphragm {
  return {
    holds: (age, days) => (days === 0 ? 1 : holding.mean(age, days)),
    leakCost: meanOf(cost.leak),
    openingsPerYear: group.openingsPerYear,
    openingCost: meanOf(cost.opening),
  };
}

function makersLimits(fleet: Fleet, groups: readonly WorkGroup[]): Map<WorkGroup, number | null> {
  if (fleet.site.limits.length === 0) return new Map();
  const rates = dailyRates(fleet);
  return new Map(groups.map((each) => [each, makersCap(fleet, each.group, rates)?.days ?? null]));
}

/** What one replacement pays of a stop made for it. */
function stopShares(fleet: Fleet): (line: string) => number {
  const practice = stopPractice(fleet);
  return (line) => meanOf(sharedStop(wholeStop(fleet, line), practice.ofLine(line).replacementsPerStop));
}

function lineOf(fleet: Fleet, line: string, { stops, calendars, other }: FleetWork): FleetLine {
  const { windows = [], stopOn = new Map<number, Stop>() } = calendars.get(line) ?? {};
  const stop = meanOf(wholeStop(fleet, line));
  const known = windows.filter(({ known: isKnown, day }) => isKnown && stopOn.has(day));
  const isMade = ({ stopFor }: { stopFor: string }): boolean => stopFor === 'replacements';
  const planned = known.slice(0, MOST_WINDOWS);
  const last = planned[planned.length - 1]?.day ?? 0;
  return {
    line,
    windows: planned.map((window) => {
      const s = stops.indexOf(stopOn.get(window.day) as Stop);
      const isPaid = itemAt(other, s).lines.has(line);
      return { window: windowName(s), stopCost: isMade(window) && !isPaid ? stop : 0 };
    }),
    later: windows
      .filter(({ day }) => day > last)
      .map((window) => ({ day: window.day, made: isMade(window) })),
  };
}
