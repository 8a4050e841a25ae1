/**
 * Groups that another clock than days wears, in classes of positions used about alike. The law of a whole group is told in counts; at a
 * class it is the same law in days of its own rate, draw by draw, so that all that comes after (intervals, shutdowns, demand, stock, cost)
 * goes on in days and yet at the pace of each class. Faulty fittings stay in days: they show in the first weeks whatever the use.
 */
import type { Warning } from '../../findings.js';
import type { Fleet } from '../../fleet/types.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import type { Cells, GroupCell } from '../cells.js';
import { practisedSchedules } from '../practised.js';
import { runningDiaphragms } from '../running.js';
import type { FollowedLives } from '../standOut/followed.js';
import type { Group, GroupedFleet, GroupUse, PractisedSchedule, RunningLife } from '../types.js';
import { counterOf, weightOf } from '../wear/counters.js';
import { type Part, type Parts, partCells, partsOf } from './parts.js';
import type { ClockedGroup, ClockedGroups } from './reAge.js';
import { inDaysOf, reachInDays } from './toDays.js';
import type { UseClass } from './useClasses.js';
import { usedWords, useNames } from './useNames.js';

/** `whole` on its clocks, `inDays` the same groups as they are told in days: what positions of unknown use stay with. */
export function splitByUse(
  fleet: Fleet,
  whole: GroupedFleet,
  inDays: GroupedFleet,
  cells: Cells,
  clocked: ClockedGroups,
): { grouped: GroupedFleet; parentOf: number[] } {
  const parts = partsOf(whole.groups, clocked);
  const finer = partCells(fleet, cells, parts);
  const schedules = schedulesOf(fleet, finer.cells, whole.groups, parts);
  const groups = named(
    parts.list.map((part, i): Group => {
      const group = itemAt(whole.groups, part.parent);
      const own = clocked.get(part.parent);
      if (own === undefined) return group;
      const shared = { positions: part.positions, today: itemAt(schedules, i) };
      const days = itemAt(inDays.groups, part.parent);
      if (part.use === null) return { ...days, ...shared };
      const told = inDaysOf(group, own.unit / part.use.perDay, reachInDays(days.sample));
      const use = useOf(group, own, part.use);
      return { ...told, ...shared, use, warnings: toldWarnings(group, own, use) };
    }),
    parts,
    clocked,
  );
  const models = groups.map(({ planned, model }) => ({
    ...model,
    shape: planned.shape.median,
    scale: planned.scale.median,
  }));
  const running = wornLives(runningDiaphragms(fleet, finer, models), groups, parts.list, clocked);
  const followed = splitFollowed(fleet, whole.followed, inDays.followed, parts, clocked);
  return {
    grouped: { ...whole, groups, running, followed },
    parentOf: parts.list.map(({ parent }) => parent),
  };
}

function useOf(group: Group, { clock }: ClockedGroup, use: UseClass): GroupUse {
  const weight = weightOf(clock);
  const own = (perDay: number): number => (weight === null ? perDay : (perDay - 1) / weight);
  return {
    of: group.name,
    clock: clock.clock,
    perDay: use.perDay,
    weight,
    counter: counterOf(clock),
    rates: [own(use.least), own(use.most)],
  };
}

/** Warnings of the whole group, with what their days are. */
function toldWarnings({ warnings }: Group, { unit }: ClockedGroup, use: GroupUse): Warning[] {
  if (warnings.length === 0) return [];
  const perDay = use.weight === null ? unit : (unit - 1) / use.weight;
  const text = `Days in the notes on this group are days of the middle of all positions on its clock (${usedWords({ ...use, rates: [perDay, perDay] })}).`;
  return [{ code: 'days-of-middle-use', text, todo: '' }, ...warnings];
}

function named(groups: readonly Group[], { list }: Parts, clocked: ClockedGroups): Group[] {
  const names = new Map<number, string[]>();
  for (const parent of clocked.keys()) {
    const own = groups.filter((_, i) => itemAt(list, i).parent === parent);
    const [first] = own;
    if (first !== undefined)
      names.set(
        parent,
        useNames(
          first.use?.of ?? first.name,
          own.map(({ use }) => use),
        ),
      );
  }
  return groups.map((group, i) => ({
    ...group,
    name: names.get(itemAt(list, i).parent)?.shift() ?? group.name,
  }));
}

/** What is practised at the positions of each part; where its own removals show no schedule, that of the whole group. */
function schedulesOf(
  fleet: Fleet,
  finer: readonly GroupCell[],
  groups: readonly Group[],
  parts: Parts,
): PractisedSchedule[] {
  return practisedSchedules(fleet, finer).map((own, i) => {
    const { today } = itemAt(groups, itemAt(parts.list, i).parent);
    if (own.days !== null || today.days === null) return own;
    return { ...today, scheduledRemovals: own.scheduledRemovals };
  });
}

/** Where each diaphragm in place stands: its own count, in days of the use of its class. Days of fitting stay as recorded. */
function wornLives(
  running: readonly RunningLife[],
  groups: readonly Group[],
  list: readonly Part[],
  clocked: ClockedGroups,
): RunningLife[] {
  const stands = new Map(
    [...clocked].map(([g, { worn }]) => [g, new Map(worn.positions.map((each) => [each.position, each]))]),
  );
  return running.map((life) => {
    const { use } = itemAt(groups, life.groupNow);
    const stand = stands.get(itemAt(list, life.groupNow).parent)?.get(life.position);
    if (use === undefined || stand === undefined || stand.rate === null) return life;
    const pace = stand.rate.perDay / use.perDay;
    if (life.fitted === null || stand.count === null) return { ...life, pace };
    return { ...life, pace, ages: [{ age: stand.count / use.perDay, chance: 1 }] };
  });
}

/** Followed lives at the ages of their part; those of parts that stay in days as they are told in days. */
function splitFollowed(
  fleet: Fleet,
  whole: FollowedLives,
  inDays: FollowedLives,
  parts: Parts,
  clocked: ClockedGroups,
): FollowedLives {
  const rowsOf = (from: FollowedLives) =>
    Array.from({ length: from.length }, (_, i) => {
      const parent = at(from.group, i);
      const part = parts.of(parent, at(fleet.lives.position, at(from.life, i)));
      const { use } = itemAt(parts.list, part);
      const own = clocked.get(parent);
      const pace = use === null || own === undefined ? 1 : own.unit / use.perDay;
      return { from, i, part, pace, stays: own !== undefined && use === null };
    });
  const rows = [
    ...rowsOf(whole).filter(({ stays }) => !stays),
    ...rowsOf(inDays).filter(({ stays }) => stays),
  ];
  const ages = (name: 'entry' | 'lower' | 'upper'): Float64Array =>
    Float64Array.from(rows, ({ from, i, pace }) => floatAt(from[name], i) * pace);
  return {
    length: rows.length,
    life: Int32Array.from(rows, ({ from, i }) => at(from.life, i)),
    group: Int32Array.from(rows, ({ part }) => part),
    entry: ages('entry'),
    lower: ages('lower'),
    upper: ages('upper'),
    leak: Uint8Array.from(rows, ({ from, i }) => at(from.leak, i)),
  };
}
