/** Cost per year, today against proposed. */
import { amountDrawer } from '../cost/draw.js';
import { meanOf, NOTHING } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import type { Cycle } from '../interval/cycle.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { practisedPolicy, proposedPolicy } from '../interval/policies.js';
import type { IntervalAdvice } from '../interval/types.js';
import { isDowntimeOnly } from '../interval/warnings.js';
import { groupCycle } from '../interval/weigh.js';
import { floatAt, itemAt, sum } from '../numeric/columns.js';
import { randomStream } from '../numeric/random.js';
import { differences, ends, shareAbove } from './draws.js';
import { countRange } from './leaksRange.js';
import { type PlantLine, plantLines } from './lines.js';
import { type LongRun, longRun, rememberedRates } from './longRun.js';
import { costOutlook, type PolicyView } from './outlook.js';
import { type WorkLists, yearlyPath } from './path.js';
import { drawnTotals, drawPrices, mean, meanEvents, meanParts } from './price.js';
import { checkRecords, recordedLeaks, recordWarnings } from './recorded.js';
import type { CostComparison, GroupSaving, RecordCheck, YearlyCost } from './types.js';

export interface CompareOptions {
  /** Seed of the cost draws and of the choice of posterior draws for the years to come. */
  seed: number;
  /** Cycles of the groups (groupCycle) where they are at hand from weighing the intervals. */
  cycles?: readonly Cycle[];
  /**
   * Work lists of both policies under the same crew hours: first year and years to come then follow them as far as they
   * reach. Without them crew hours have no limit.
   */
  workLists?: WorkLists;
}

/**
 * Long run, first year and years to come of today's practice and of the proposal, all on the plant's calendar and by
 * the rule that the work list follows. Both policies see the same draw of life models and settings at a time, so that
 * the range of the saving is that of the difference. The formula's leaks stand beside the recorded ones; where the two
 * disagree no saving is claimed (METHODS 7).
 */
export function compareCost(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
  intervals: readonly IntervalAdvice[],
  { seed, workLists = {}, cycles = grouped.groups.map(groupCycle) }: CompareOptions,
): CostComparison {
  const draws = cycles[0]?.count ?? 0;
  const lines = plantLines(fleet, grouped);
  const draw = amountDrawer(draws, randomStream(seed, 'cost draws'));
  const prices = drawPrices(costs, lines, draw);
  const ratesOf = rememberedRates(cycles);
  const side = (policy: ReplacementPolicy): Side => {
    const run = longRun(policy, lines, ratesOf, draws);
    const path = yearlyPath({ fleet, grouped, costs, lines, prices, seed, workLists }, policy);
    return {
      ...drawnTotals(run, prices),
      firstYear: path.drawn[0] ?? new Float64Array(0),
      leaks: leaksOf(run, draws),
      policy,
      run,
      path,
      years: path.years,
    };
  };
  const today = side(practisedPolicy(grouped));
  const proposed = side(proposedPolicy(intervals));
  const recorded = recordedLeaks(fleet, grouped.leaksWithoutReason);
  const check = checkRecords(recorded, today.leaks);
  const missing = [...new Set(costs.flatMap((cost) => cost.missing))].sort();
  const yearly = { today: yearlyCost(today, costs, lines), proposed: yearlyCost(proposed, costs, lines) };
  return {
    ...yearly,
    saving: savingOf(fleet, { today, proposed }, yearly, check),
    groups: groupSavings(intervals, today, proposed),
    recordedLeaksPerYear: recorded,
    check,
    covers: isDowntimeOnly(missing) ? 'downtime only' : 'all causes',
    missing,
    warnings: recordWarnings(check),
    outlook: costOutlook({ fleet, grouped, costs, lines, prices, ratesOf, draws, draw }, { today, proposed }),
  };
}

/** One policy with its draws. */
interface Side extends PolicyView {
  years: YearlyCost['years'];
  /** Long-run cost of each draw, in all and by group without stops. */
  all: Float64Array;
  byGroup: Float64Array[];
  /** Leaks a year of each draw. */
  leaks: Float64Array;
  /** First year's cost of each draw that the path follows. */
  firstYear: Float64Array;
}

type Both<T> = Record<ReplacementPolicy['name'], T>;

function leaksOf({ groups }: LongRun, draws: number): Float64Array {
  return Float64Array.from({ length: draws }, (_, d) =>
    groups.reduce((total, { leaks }) => total + floatAt(leaks, d), 0),
  );
}

function yearlyCost(side: Side, costs: readonly GroupCost[], lines: readonly PlantLine[]): YearlyCost {
  const events = meanEvents(side.run);
  const parts = meanParts(events, costs, lines);
  const [low, high] = ends(side.all);
  return {
    perYear: sum(Object.values(parts)),
    ...parts,
    leaksPerYear: mean(side.leaks),
    replacementsPerYear: sum(events.groups.map(({ fitted }) => fitted)),
    low,
    high,
    firstYear: side.years[0]?.cost ?? 0,
    firstYearRange: ends(side.firstYear),
    stopsPerYear: sum(events.stops),
    years: side.years,
    leaksRange: countRange(side.leaks),
  };
}

function savingOf(
  fleet: Fleet,
  sides: Both<Side>,
  { today, proposed }: Both<YearlyCost>,
  check: RecordCheck | null,
): CostComparison['saving'] {
  const savings = differences(sides.today.all, sides.proposed.all);
  const [low, high] = ends(savings);
  const [firstLow, firstHigh] = ends(differences(sides.today.firstYear, sides.proposed.firstYear));
  const cash = today.parts - proposed.parts + (today.labour - proposed.labour);
  const plannedStop = today.plannedStop - proposed.plannedStop;
  const expectedLoss =
    today.leakDowntime - proposed.leakDowntime + (today.lostBatches - proposed.lostBatches);
  return {
    perYear: today.perYear - proposed.perYear,
    low,
    high,
    chance: shareAbove(savings, 0),
    cash,
    plannedStop,
    expectedLoss,
    firstYear: { saving: today.firstYear - proposed.firstYear, low: firstLow, high: firstHigh },
    withNamedLeaksOnly:
      check === null || today.leaksPerYear === 0
        ? null
        : cash + plannedStop + expectedLoss * (check.named / today.leaksPerYear),
    claimed: check === null || check.agrees,
    breakEvenBatchValue: breakEvenBatchValue(fleet, today, proposed),
  };
}

/** Savings of the groups whose interval gets shorter or longer, the largest first. */
function groupSavings(intervals: readonly IntervalAdvice[], today: Side, proposed: Side): GroupSaving[] {
  return intervals
    .flatMap(({ group, direction }, g): GroupSaving[] => {
      if (direction !== 'shorten' && direction !== 'lengthen') return [];
      const savings = differences(itemAt(today.byGroup, g), itemAt(proposed.byGroup, g));
      const [low, high] = ends(savings);
      return [{ group, perYear: mean(savings), low, high, chance: shareAbove(savings, 0) }];
    })
    .sort((a, b) => b.perYear - a.perYear);
}

/**
 * Value of a batch above which the proposal pays: the saving without batches, divided by the batches that the proposal
 * saves a year. Null where that is no threshold: the chance of a lost batch is not given, the proposal does not save
 * leaks, or it pays at any value.
 */
function breakEvenBatchValue(fleet: Fleet, today: YearlyCost, proposed: YearlyCost): number | null {
  const chance = meanOf(fleet.site.money.lostBatchProbability ?? NOTHING);
  const batchesSaved = (today.leaksPerYear - proposed.leaksPerYear) * chance;
  const withoutBatches = today.perYear - today.lostBatches - (proposed.perYear - proposed.lostBatches);
  if (batchesSaved <= 0 || withoutBatches >= 0) return null;
  return -withoutBatches / batchesSaved;
}
