/** Curves, chances and values of a fleet's problem, each worked out once for all places, and all problems, that share it. */
import { type FreshArcs, freshArcs } from './arcs.js';
import { type FreshChances, freshChances, type WindowDays } from './calendar.js';
import { type GoingOn, goingOn } from './goingOn.js';
import { freshCurve, type HazardCurve, standingCurve } from './hazardCurve.js';
import type { FleetDiaphragm, FleetPosition } from './types.js';

export interface SharedParts {
  key(days: WindowDays, position: FleetPosition, must: Uint8Array): string;
  goingOn(days: WindowDays, position: FleetPosition, must: Uint8Array): { after: GoingOn; fresh: FreshArcs };
  standing(days: WindowDays, position: FleetPosition): HazardCurve;
}

/** Nothing worked out yet. What is asked is told apart by all that it depends on; diaphragms by being the same object. */
export function sharedParts(): SharedParts {
  const numbers = new Map<FleetDiaphragm, number>();
  const numberOf = (diaphragm: FleetDiaphragm): number => {
    const known = numbers.get(diaphragm) ?? numbers.size;
    numbers.set(diaphragm, known);
    return known;
  };
  const [curves, chances, values, arcs, stand] = [
    new Map<string, HazardCurve>(),
    new Map<string, FreshChances>(),
    new Map<string, GoingOn>(),
    new Map<string, FreshArcs>(),
    new Map<string, HazardCurve>(),
  ];
  const dayKeys = new WeakMap<WindowDays, string>();
  const dayKey = (days: WindowDays): string => {
    const known = dayKeys.get(days) ?? `${days.days.join()}|${days.ends ? 1 : 0}`;
    dayKeys.set(days, known);
    return known;
  };
  const spanOf = ({ days }: WindowDays): number => (days[days.length - 1] ?? 0) - (days[0] ?? 0);
  const valueKey = (
    days: WindowDays,
    { next, replacementCost, stopShare, latestAge }: FleetPosition,
  ): string =>
    [
      dayKey(days),
      days.known,
      days.made.join(''),
      days.frozen.join(''),
      numberOf(next),
      replacementCost,
      stopShare,
      latestAge,
    ].join('/');
  const standKey = (days: WindowDays, { now, ages }: FleetPosition): string =>
    `${numberOf(now)}/${spanOf(days)}/${ages.map(({ age, chance }) => `${age}:${chance}`).join()}`;
  return {
    key: (days, position, must) =>
      `${valueKey(days, position)}//${standKey(days, position)}//${must.join('')}//${weightOf(position)}`,
    goingOn: (days, position, must) => {
      const curveKey = `${numberOf(position.next)}/${spanOf(days)}`;
      const curve = once(curves, curveKey, () => freshCurve(position.next, spanOf(days)));
      const fresh = once(chances, `${numberOf(position.next)}/${dayKey(days)}`, () =>
        freshChances(days, curve),
      );
      const key = valueKey(days, position);
      const after = once(values, key, () => goingOn(days, fresh, curve, ownOf(position)));
      const own = once(arcs, `${key}//${must.join('')}`, () =>
        freshArcs(days, fresh, ownOf(position), after, must),
      );
      return { after, fresh: own };
    },
    standing: (days, position) =>
      once(stand, standKey(days, position), () => standingCurve(position.now, position.ages, spanOf(days))),
  };
}

function once<T>(known: Map<string, T>, key: string, make: () => T): T {
  const found = known.get(key);
  if (found !== undefined) return found;
  const made = make();
  known.set(key, made);
  return made;
}

/** How much a demand that is not met counts, in the amount for one. */
export function weightOf({ unmetWeight = 1 }: FleetPosition): number {
  return unmetWeight;
}

/** What a position of a kind pays and must keep to. */
export function ownOf({ next, replacementCost, stopShare, latestAge }: FleetPosition) {
  return { next, replacementCost, stopShare, latestAge };
}
