/** A plant's work list as a problem of the fleet plan: its lines, windows, costs and limits as plain data. */
import { meanOf } from '../cost/spread.js';
import { sharedStop, stopPractice, wholeStop } from '../cost/stops.js';
import type { GroupCost } from '../cost/types.js';
import { dailyRates } from '../exposure/rates.js';
import type { Fleet } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import { makersCap } from './cap.js';
import { isClosed } from './capacity.js';
import { MOST_WINDOWS } from './fleetPlan/checkProblem.js';
import { type SharedParts, sharedParts } from './fleetPlan/sharedParts.js';
import type {
  FleetDiaphragm,
  FleetLine,
  FleetPosition,
  FleetProblem,
  FleetWindow,
} from './fleetPlan/types.js';
import type { Calendars, Stop } from './stopCalendar.js';
import type { AgeLimits, StopPieces } from './stopPieces.js';
import { inService, type WorkGroup, type WorkPosition } from './workList.js';

/** What is planned: the places by their index, the known stops, and the hours of each that other work takes. */
export interface FleetWork {
  places: readonly WorkPosition[];
  free: readonly number[];
  stops: readonly Stop[];
  calendars: Calendars;
  /** What other work takes at each stop, and the lines that it opens there: their stop is paid already. */
  other: OtherWork[];
  kinds: FleetKinds;
}

/** What all problems of one plan have in common: how diaphragms hold and cost, by group, and what is worked out of that. */
export interface FleetKinds {
  diaphragms: ReadonlyMap<WorkGroup, FleetDiaphragm>;
  shared: SharedParts;
}

export function fleetKinds(groups: readonly WorkGroup[], costs: readonly GroupCost[]): FleetKinds {
  const diaphragms = new Map(groups.map((group, g) => [group, diaphragmOf(group, itemAt(costs, g))]));
  return { diaphragms, shared: sharedParts() };
}

export interface OtherWork {
  /** Pieces by item. */
  pieces: ReadonlyMap<string, number>;
  fitterHours: number;
  instrumentHours: number;
  replacements: number;
  lines: ReadonlySet<string>;
}

/** Windows after the planned ones that are looked ahead to. */
const MOST_LATER = 60;

/** Stops go by their place in the list, because two may have one name. */
export function windowName(stop: number): string {
  return String(stop);
}

export function fleetProblem(
  fleet: Fleet,
  groups: readonly WorkGroup[],
  costs: readonly GroupCost[],
  work: FleetWork,
  limits: AgeLimits,
  { stock, firm }: StopPieces,
): FleetProblem {
  const { places, free, stops, other } = work;
  const { diaphragms } = work.kinds;
  const own = new Map(groups.map((group, g) => [group, meanOf(itemAt(costs, g).opening)]));
  const share = stopShares(fleet);
  const lines = [...new Set(free.map((p) => itemAt(places, p).position.line))].sort();
  return {
    today: fleet.site.dataUntil,
    windows: stops.map((stop, s) => windowOf(stop, s, itemAt(other, s))),
    ...demandsOf(work),
    stock,
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
        item: firm.has(p) ? null : next.item,
        latestAge: limits.get(next) ?? null,
        until: ends,
      };
    }),
  };
}

/** What other work leaves of a stop. */
function windowOf({ shutdown, start }: Stop, s: number, other: OtherWork): FleetWindow {
  const left = (limit: number | null, taken: number): number | null =>
    limit === null ? null : Math.max(0, limit - taken);
  return {
    name: windowName(s),
    day: start,
    crewHours: left(shutdown.crewHours, other.fitterHours + other.instrumentHours),
    fitterHours: left(shutdown.fitterHours, other.fitterHours),
    instrumentHours: left(shutdown.instrumentHours, other.instrumentHours),
    replacements: left(shutdown.mostReplacements, other.replacements),
    lines: left(shutdown.mostLines, other.lines.size),
  };
}

/** Positions that must be replaced in a window of their line, and those that must not be touched in one. */
function demandsOf({ places, free, stops, calendars }: FleetWork): Pick<FleetProblem, 'must' | 'frozen'> {
  const must: { position: string; window: string }[] = [];
  const frozen: { position: string; window: string }[] = [];
  for (const p of free) {
    const place = itemAt(places, p);
    const { position, line } = place.position;
    const planned = (calendars.get(line)?.windows ?? []).filter(({ known }) => known).slice(0, MOST_WINDOWS);
    for (const [s, stop] of stops.entries()) {
      const isOwn = calendars.get(line)?.stopOn.get(stop.start) === stop;
      if (!isOwn || !planned.some(({ day }) => day === stop.start)) continue;
      const closed = isClosed(stop.shutdown, place.position);
      if (closed) frozen.push({ position, window: windowName(s) });
      if (!closed && stop.shutdown.must.includes(position) && inService(place, stop.start))
        must.push({ position, window: windowName(s) });
    }
  }
  return { must, frozen };
}

function diaphragmOf({ group, holding }: WorkGroup, cost: GroupCost): FleetDiaphragm {
  return {
    holds: (age, days) => (days === 0 ? 1 : holding.mean(age, days)),
    leakCost: meanOf(cost.leak),
    openingsPerYear: group.openingsPerYear,
    openingCost: meanOf(cost.opening),
  };
}

/** Ages that the maker allows, by group. */
export function makersLimits(fleet: Fleet, groups: readonly WorkGroup[]): Map<WorkGroup, number | null> {
  if (fleet.site.limits.length === 0) return new Map();
  const rates = dailyRates(fleet);
  return new Map(groups.map((each) => [each, makersCap(fleet, each.group, rates)?.days ?? null]));
}

/** What one replacement pays of a stop made for it. */
function stopShares(fleet: Fleet): (line: string) => number {
  const practice = stopPractice(fleet);
  return (line) => meanOf(sharedStop(wholeStop(fleet, line), practice.ofLine(line).replacementsPerStop));
}

/** Windows to look ahead to: of very many every second, third and so on, for they only say what an age is worth by then. */
function thinned<T>(later: readonly T[]): T[] {
  const step = Math.ceil(later.length / MOST_LATER);
  return later.filter((_, i) => (i + 1) % Math.max(1, step) === 0);
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
      const isOpen = itemAt(other, s).lines.has(line);
      return { window: windowName(s), stopCost: isMade(window) && !isOpen ? stop : 0, isOpen };
    }),
    later: thinned(windows.filter(({ day }) => day > last)).map((window) => ({
      day: window.day,
      made: isMade(window),
    })),
  };
}
