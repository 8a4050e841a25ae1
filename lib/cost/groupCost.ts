/** What replacing, leaking and opening cost in one group, from the tasks of the trade and the plant's settings. */
import type { Fleet, Money, Position } from '../fleet/types.js';
import type { Group, GroupedFleet } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { type Amount, addAmounts, exactly, fromSetting, multiplyAmounts, scaleAmount } from './amount.js';
import { itemFor } from './itemFor.js';
import {
  isMadeForReplacements,
  lineDowntime,
  type StopPractice,
  sharedStop,
  stopPractice,
  wholeStop,
} from './stops.js';
import { retightenings } from './tasks.js';
import type { GroupCost } from './types.js';

/** Names of money settings as the plant writes them, by our name. A setting absent here is never asked of a group. */
const NAMES: Readonly<Partial<Record<keyof Money, string>>> = {
  labourPerHour: 'labour_per_hour',
  fittingHours: 'fitting_hours',
  retightenHours: 'retighten_hours',
  leakDowntimeHours: 'leak_downtime_hours',
  lostBatchProbability: 'lost_batch_probability',
  batchValue: 'batch_value',
  cleanupCost: 'cleanup_cost',
};

/** Costs of every group of a plant, in their order; the history's stops are counted once for all. */
export function groupCosts(fleet: Fleet, { groups }: GroupedFleet): GroupCost[] {
  const practice = stopPractice(fleet);
  return groups.map((group) => groupCost(fleet, group, practice));
}

/**
 * Costs per replacement, leak and opening of a group: means over the group's positions where a position or its line
 * matters (steam, accessories, downtime by line, who pays for the stop). What is not given counts as nothing and is
 * listed in `missing`, but for a group without a position. How amounts are added, multiplied and drawn: amount.ts.
 */
export function groupCost(
  fleet: Fleet,
  group: Group,
  practice: StopPractice = stopPractice(fleet),
): GroupCost {
  const { money } = fleet.site;
  const positions = group.positions.map((i) => itemAt(fleet.positions, i));
  const price = itemFor(fleet, group.material, group.size)?.price ?? null;
  const part = exactly(price ?? 0);
  const own = ownWork(money, positions);
  const opening = addAmounts(part, own.labour, own.recalibration);
  const stop = stopCost(fleet, positions, practice);
  const loss = leakLoss(money, positions);
  return {
    part,
    ...own,
    ...stop,
    replacement: addAmounts(opening, stop.stopShare),
    ...loss,
    leak: addAmounts(loss.leakDowntime, loss.lostBatch, loss.cleanup, opening),
    opening,
    missing:
      positions.length === 0
        ? []
        : [
            ...(price === null ? [`price of ${group.material} DN ${group.size}`] : []),
            ...missingSettings(fleet, positions),
          ],
  };
}

function ownWork(money: Money, positions: readonly Position[]): Pick<GroupCost, 'labour' | 'recalibration'> {
  const perHour = fromSetting('labour_per_hour', money.labourPerHour);
  const fitting = fromSetting('fitting_hours', money.fittingHours);
  const retightening = fromSetting('retighten_hours', money.retightenHours);
  const perAccessory = fromSetting('recalibration_hours_per_accessory', money.recalibrationHoursPerAccessory);
  const instruments =
    money.instrumentLabourPerHour === null
      ? perHour
      : fromSetting('instrument_labour_per_hour', money.instrumentLabourPerHour);
  const times = average(positions, retightenings);
  const accessories = average(positions, (position) => position.accessories);
  return {
    labour: multiplyAmounts(perHour, addAmounts(fitting, scaleAmount(retightening, times))),
    recalibration: multiplyAmounts(instruments, scaleAmount(perAccessory, accessories)),
  };
}

function leakLoss(
  money: Money,
  positions: readonly Position[],
): Pick<GroupCost, 'leakDowntime' | 'lostBatch' | 'cleanup'> {
  const perHour = addAmounts(
    ...shareByLine(positions).map(([line, share]) => scaleAmount(lineDowntime(money, line), share)),
  );
  return {
    leakDowntime: multiplyAmounts(fromSetting('leak_downtime_hours', money.leakDowntimeHours), perHour),
    lostBatch: multiplyAmounts(
      fromSetting('lost_batch_probability', money.lostBatchProbability),
      fromSetting('batch_value', money.batchValue),
    ),
    cleanup: addAmounts(
      fromSetting('cleanup_cost', money.cleanupCost),
      fromSetting('investigation_cost', money.investigationCost),
      fromSetting('leak_parts_cost', money.leakPartsCost),
    ),
  };
}

function stopCost(
  fleet: Fleet,
  positions: readonly Position[],
  practice: StopPractice,
): Pick<GroupCost, 'stopShare' | 'stopWhole'> {
  const wholes: Amount[] = [];
  const shares: Amount[] = [];
  for (const [line, share] of shareByLine(positions)) {
    const { madeShare, replacementsPerStop } = practice.ofLine(line);
    if (madeShare === 0) continue;
    const whole = scaleAmount(wholeStop(fleet, line), share * madeShare);
    wholes.push(whole);
    shares.push(sharedStop(whole, replacementsPerStop));
  }
  return { stopShare: addAmounts(...shares), stopWhole: addAmounts(...wholes) };
}

function missingSettings(fleet: Fleet, positions: readonly Position[]): string[] {
  const { money } = fleet.site;
  const missing = Object.entries(NAMES)
    .filter(([setting]) => money[setting as keyof Money] === null)
    .map(([, name]) => name);
  if (
    positions.some((position) => position.accessories > 0) &&
    money.recalibrationHoursPerAccessory === null
  ) {
    missing.push('recalibration_hours_per_accessory');
  }
  return [...missing, ...missingDowntime(money, positions), ...missingStop(fleet, positions)];
}

function missingDowntime({ downtimePerHour }: Money, positions: readonly Position[]): string[] {
  if (downtimePerHour === null) return ['downtime_per_hour'];
  const silent = shareByLine(positions).filter(
    ([line]) => !downtimePerHour.has(line) && !downtimePerHour.has(''),
  );
  return silent.map(([line]) => `downtime_per_hour of line ${line === '' ? '(no name)' : line}`);
}

/** The settings of a stop are missed only where some stop is made for the replacements. */
function missingStop(fleet: Fleet, positions: readonly Position[]): string[] {
  if (!shareByLine(positions).some(([line]) => isMadeForReplacements(fleet, line))) return [];
  const { resteriliseCost, plannedStopHours } = fleet.site.money;
  return [
    ...(resteriliseCost === null ? ['resterilise_cost'] : []),
    ...(plannedStopHours === null ? ['planned_stop_hours'] : []),
  ];
}

/** Share of the positions by line, in order of first appearance. */
function shareByLine(positions: readonly Position[]): [line: string, share: number][] {
  const counts = new Map<string, number>();
  for (const { line } of positions) counts.set(line, (counts.get(line) ?? 0) + 1);
  return [...counts].map(([line, count]) => [line, count / positions.length]);
}

function average(positions: readonly Position[], value: (position: Position) => number): number {
  const total = positions.reduce((sum, position) => sum + value(position), 0);
  return positions.length === 0 ? 0 : total / positions.length;
}
