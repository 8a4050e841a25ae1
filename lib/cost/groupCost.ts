/** What replacing, leaking and opening cost in one group, from the tasks of the trade and the plant's settings. */
import type { Fleet, Money, Position, Spread } from '../fleet/types.js';
import type { Group } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { itemFor } from './itemFor.js';
import { addSpreads, exactly, multiplySpreads, NOTHING, scaleSpread } from './spread.js';
import { type StopPractice, sharedStop, shareMadeForReplacements, stopPractice, wholeStop } from './stops.js';
import { replacementWork } from './tasks.js';
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

/**
 * Costs per replacement, leak and opening of a group: means over the group's positions where a position or its line
 * matters (steam, accessories, downtime by line, who pays for the stop). What is not given counts as nothing and is
 * listed in `missing`. How spreads are added, multiplied and drawn: spread.ts.
 */
export function groupCost(fleet: Fleet, group: Group): GroupCost {
  const { money } = fleet.site;
  const positions = group.positions.map((i) => itemAt(fleet.positions, i));
  const price = itemFor(fleet, group.material, group.size)?.price ?? null;
  const part = exactly(price ?? 0);
  const own = ownWork(money, positions);
  const opening = addSpreads(part, own.labour, own.recalibration);
  const stop = stopCost(fleet, positions);
  const loss = leakLoss(money, positions);
  return {
    part,
    ...own,
    ...stop,
    replacement: addSpreads(opening, stop.stopShare),
    ...loss,
    leak: addSpreads(loss.leakDowntime, loss.lostBatch, loss.cleanup, opening),
    opening,
    missing: [
      ...(price === null ? [`price of ${group.material} DN ${group.size}`] : []),
      ...missingSettings(fleet, positions),
    ],
  };
}

function ownWork(money: Money, positions: readonly Position[]): { labour: Spread; recalibration: Spread } {
  const perHour = money.labourPerHour ?? NOTHING;
  const work = positions.map((position) => replacementWork(money, position));
  return {
    labour: multiplySpreads(perHour, average(work.map((one) => one.fitterHours))),
    recalibration: multiplySpreads(perHour, average(work.map((one) => one.instrumentHours))),
  };
}

function leakLoss(
  money: Money,
  positions: readonly Position[],
): Pick<GroupCost, 'leakDowntime' | 'lostBatch' | 'cleanup'> {
  const { leakDowntimeHours, lostBatchProbability, batchValue, cleanupCost } = money;
  const perHour = average(positions.map(({ line }) => lineDowntime(money, line) ?? NOTHING));
  return {
    leakDowntime: multiplySpreads(leakDowntimeHours ?? NOTHING, perHour),
    lostBatch: multiplySpreads(lostBatchProbability ?? NOTHING, batchValue ?? NOTHING),
    cleanup: cleanupCost ?? NOTHING,
  };
}

function stopCost(fleet: Fleet, positions: readonly Position[]): Pick<GroupCost, 'stopShare' | 'stopWhole'> {
  const wholes: Spread[] = [];
  const shares: Spread[] = [];
  for (const [line, count] of countByLine(positions)) {
    const weight = (count / positions.length) * shareMadeForReplacements(fleet, line);
    if (weight === 0) continue;
    const { byLine, plant } = practiceOf(fleet);
    const whole = scaleSpread(wholeStop(fleet, lineDowntime(fleet.site.money, line)), weight);
    wholes.push(whole);
    shares.push(sharedStop(whole, byLine.get(line) ?? plant ?? 1));
  }
  return { stopShare: addSpreads(...shares), stopWhole: addSpreads(...wholes) };
}

/** The history's stops are the same for every group of a fleet: counted once per fleet. */
const practices = new WeakMap<Fleet, StopPractice>();

function practiceOf(fleet: Fleet): StopPractice {
  const known = practices.get(fleet) ?? stopPractice(fleet);
  practices.set(fleet, known);
  return known;
}

/** Downtime of a line per hour: its own amount, else the amount for lines not named, else null. */
function lineDowntime(money: Money, line: string): Spread | null {
  return money.downtimePerHour?.get(line) ?? money.downtimePerHour?.get('') ?? null;
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

function missingDowntime(money: Money, positions: readonly Position[]): string[] {
  if (money.downtimePerHour === null) return ['downtime_per_hour'];
  const silent = [...countByLine(positions).keys()].filter((line) => lineDowntime(money, line) === null);
  return silent.map((line) => `downtime_per_hour of line ${line === '' ? '(no name)' : line}`);
}

/** The settings of a stop are missed only where some stop is made for the replacements. */
function missingStop(fleet: Fleet, positions: readonly Position[]): string[] {
  const lines = [...countByLine(positions).keys()];
  if (!lines.some((line) => shareMadeForReplacements(fleet, line) > 0)) return [];
  const { resteriliseCost, plannedStopHours } = fleet.site.money;
  return [
    ...(resteriliseCost === null ? ['resterilise_cost'] : []),
    ...(plannedStopHours === null ? ['planned_stop_hours'] : []),
  ];
}

function countByLine(positions: readonly Position[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { line } of positions) counts.set(line, (counts.get(line) ?? 0) + 1);
  return counts;
}

function average(spreads: readonly Spread[]): Spread {
  return spreads.length === 0 ? NOTHING : scaleSpread(addSpreads(...spreads), 1 / spreads.length);
}
