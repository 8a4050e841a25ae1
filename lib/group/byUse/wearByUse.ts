/** What wears a plant, told for the parts that groups fall into by use. */
import { DAYS } from '../../exposure/clock/types.js';
import { itemAt } from '../../numeric/columns.js';
import type { Group, GroupedFleet } from '../types.js';
import type { Wear, WearClock } from '../wear/types.js';

/** `parentOf` says of which group of `wear` each part is. A part of unknown use stays in days. */
export function wearByUse(wear: Wear, { groups, running }: GroupedFleet, parentOf: readonly number[]): Wear {
  const partOf = new Map(running.map(({ position, groupNow }) => [position, groupNow]));
  return {
    ...wear,
    clocks: groups.map((group, part) => clockOf(group, itemAt(wear.clocks, itemAt(parentOf, part)))),
    worn: groups.flatMap((group, part) => {
      const own = wear.worn.find(({ group: parent }) => parent === parentOf[part]);
      if (own === undefined || group.use === undefined) return [];
      const positions = own.positions.filter(({ position }) => partOf.get(position) === part);
      return [{ ...own, group: part, positions }];
    }),
  };
}

function clockOf({ name, use }: Group, clock: WearClock): WearClock {
  if (clock.clock === DAYS) return { ...clock, group: name };
  if (use !== undefined) return { ...clock, group: name, partOf: use.of };
  return {
    ...clock,
    group: name,
    partOf: clock.group,
    verdict: 'cannot tell',
    clock: DAYS,
    parts: [DAYS],
    law: null,
    text: `${clock.text} How much these positions are used is not known, so they stay in days.`,
    todo: 'Read the counters of these positions, or give their use in positions.csv.',
  };
}
