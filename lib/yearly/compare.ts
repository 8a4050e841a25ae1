/** Cost per year, today against proposed. */
import { quantileSorted } from 'simple-statistics';
import { type DrawnCost, drawCosts } from '../cost/draw.js';
import { meanOf } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import type { Warning } from '../findings.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { positionsByGroup } from '../interval/advise.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import type { IntervalAdvice } from '../interval/types.js';
import { isDowntimeOnly } from '../interval/warnings.js';
import { groupCycle } from '../interval/weigh.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { randomStream } from '../numeric/random.js';
import { countRange } from './leaksRange.js';
import { type GroupRates, groupRates, type LongRun, longRun } from './longRun.js';
import { yearlyPath } from './path.js';
import { recentMean, recordedLeaks } from './recorded.js';
import type { CostComparison, YearlyCost } from './types.js';

export interface CompareOptions {
  /** Seed of the cost draws. */
  seed: number;
}

/**
 * Long run, first year and years to come of today's practice and of the proposal. Both see the same draw of life
 * models and costs at a time, so that the range of the saving is that of the difference. The formula's leaks stand
 * beside the recorded ones; where the two disagree no saving is claimed (METHODS 7).
 */
export function compareCost(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
  intervals: readonly IntervalAdvice[],
  { seed }: CompareOptions,
): CostComparison {
  const policies = policiesOf(grouped, intervals);
  const runs = longRuns(grouped, costs, policies, seed);
  const side = (name: ReplacementPolicy['name']): YearlyCost =>
    yearlyCost(runs[name], yearlyPath(fleet, grouped, costs, policies[name]));
  const today = side('today');
  const proposed = side('proposed');
  const recorded = recordedLeaks(fleet);
  const missing = [...new Set(costs.flatMap((cost) => cost.missing))].sort();
  const warnings = recordWarnings(today, recorded, countedPerRecorded(grouped, recorded));
  return {
    today,
    proposed,
    saving: {
      ...savingRange(runs),
      perYear: today.perYear - proposed.perYear,
      cash: cashOf(today) - cashOf(proposed),
      expectedLoss: lossOf(today) - lossOf(proposed),
      claimed: !warnings.some((warning) => warning.code === 'records-contradict-formula'),
      breakEvenBatchValue: breakEvenBatchValue(fleet, costs, today, proposed),
    },
    recordedLeaksPerYear: recorded,
    covers: isDowntimeOnly(missing) ? 'downtime only' : 'all causes',
    missing,
    warnings,
  };
}

type Policies = Record<ReplacementPolicy['name'], ReplacementPolicy>;

function policiesOf({ groups }: GroupedFleet, intervals: readonly IntervalAdvice[]): Policies {
  return {
    today: { name: 'today', intervalDays: groups.map((group) => group.today.days) },
    proposed: { name: 'proposed', intervalDays: intervals.map((interval) => interval.days) },
  };
}

function longRuns(
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
  policies: Policies,
  seed: number,
): Record<ReplacementPolicy['name'], LongRun> {
  const counts = positionsByGroup(grouped);
  const today: GroupRates[] = [];
  const proposed: GroupRates[] = [];
  grouped.groups.forEach((group, g) => {
    const cycle = groupCycle(group);
    const rates = (policy: ReplacementPolicy): GroupRates =>
      groupRates(cycle, policy.intervalDays[g] ?? null, at(counts, g));
    today.push(rates(policies.today));
    proposed.push(rates(policies.proposed));
  });
  const draws = grouped.groups[0]?.draws.shape.length ?? 0;
  const drawn: DrawnCost[] = drawCosts(costs, draws, randomStream(seed, 'cost draws'));
  return { today: longRun(today, costs, drawn, draws), proposed: longRun(proposed, costs, drawn, draws) };
}

function yearlyCost(run: LongRun, years: YearlyCost['years']): YearlyCost {
  const { part, labour, recalibration, stopShare, leakDowntime, cleanup, lostBatch } = run.parts;
  const [low, high] = ends(run.totals);
  return {
    perYear: part + labour + recalibration + stopShare + leakDowntime + cleanup + lostBatch,
    parts: part,
    labour: labour + recalibration,
    plannedStop: stopShare,
    leakDowntime: leakDowntime + cleanup,
    lostBatches: lostBatch,
    leaksPerYear: run.leaksPerYear,
    replacementsPerYear: run.fittedPerYear,
    low,
    high,
    firstYear: years[0]?.cost ?? 0,
    years,
    leaksRange: countRange(run.leaks),
  };
}

function cashOf({ parts, labour }: YearlyCost): number {
  return parts + labour;
}

function lossOf({ plannedStop, leakDowntime, lostBatches }: YearlyCost): number {
  return plannedStop + leakDowntime + lostBatches;
}

function savingRange(runs: Record<ReplacementPolicy['name'], LongRun>): {
  low: number;
  high: number;
  chance: number;
} {
  const savings = runs.today.totals.map((total, d) => total - floatAt(runs.proposed.totals, d));
  const [low, high] = ends(savings);
  const cheaper = savings.filter((saving) => saving > 0).length;
  return { low, high, chance: savings.length === 0 ? 0 : cheaper / savings.length };
}

/** 5th and 95th percentile. */
function ends(values: Float64Array): [number, number] {
  if (values.length === 0) return [0, 0];
  const sorted = Array.from(values).sort((a, b) => a - b);
  return [quantileSorted(sorted, 0.05), quantileSorted(sorted, 0.95)];
}

/**
 * Value of a batch above which the proposal pays: the saving without batches, divided by the batches that the proposal
 * saves a year. Null where that is no threshold: the chance of a lost batch is not given, the proposal does not save
 * leaks, or it pays at any value.
 */
function breakEvenBatchValue(
  fleet: Fleet,
  costs: readonly GroupCost[],
  today: YearlyCost,
  proposed: YearlyCost,
): number | null {
  const { lostBatchProbability, batchValue } = fleet.site.money;
  const value = batchValue === null ? 0 : meanOf(batchValue);
  const lost = costs.length === 0 ? 0 : meanOf(itemAt(costs, 0).lostBatch);
  const chance = value > 0 ? lost / value : meanOf(lostBatchProbability ?? { low: 0, likely: 0, high: 0 });
  const batchesSaved = (today.leaksPerYear - proposed.leaksPerYear) * chance;
  const withoutBatches = today.perYear - today.lostBatches - (proposed.perYear - proposed.lostBatches);
  if (batchesSaved <= 0 || withoutBatches >= 0) return null;
  return -withoutBatches / batchesSaved;
}

/**
 * Leaks that the life models count for each one that the records name: removals without a reason are in part leaks to
 * the models (METHODS 3.4), and so the formula expects more than the records can show.
 */
function countedPerRecorded(
  { leaksWithoutReason }: GroupedFleet,
  recorded: CostComparison['recordedLeaksPerYear'],
): number {
  const named = recorded.reduce((sum, { leaks }) => sum + leaks, 0);
  return named === 0 ? 1 : 1 + leaksWithoutReason / named;
}

function recordWarnings(
  today: YearlyCost,
  recorded: CostComparison['recordedLeaksPerYear'],
  counted: number,
): Warning[] {
  const recent = recentMean(recorded);
  if (recent === null) {
    return [
      {
        code: 'records-too-short-to-compare',
        text: 'No calendar year is fully on record: the formula’s leaks could not be held against recorded ones.',
        todo: 'Look at the leaks a year beside the formula before relying on the saving.',
      },
    ];
  }
  const [low, high] = today.leaksRange;
  if (recent.mean * counted >= low && recent.mean <= high) return [];
  const years =
    recent.years.length === 1
      ? `${recent.years[0]}`
      : `${recent.years[0]} to ${recent.years[recent.years.length - 1]}`;
  return [
    {
      code: 'records-contradict-formula',
      text: `The records show ${Math.round(recent.mean * 10) / 10} leaks a year (${years}), the formula for today’s practice says ${low} to ${high}: no saving is claimed.`,
      todo: 'Check reasons of removal, positions out of service, and whether the practice changed in these years.',
    },
  ];
}
