/** Cost against interval for the plant and each line: all proposed intervals times one factor. */
import { groupCost } from '../cost/groupCost.js';
import { type StopPractice, stopPractice } from '../cost/stops.js';
import type { GroupCost } from '../cost/types.js';
import { dailyRates } from '../exposure/rates.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { makersCap } from '../interval/cap.js';
import { LATE_SHARE, type ReplacementPolicy } from '../interval/dueRule.js';
import { itemAt, sum } from '../numeric/columns.js';
import { ends } from './draws.js';
import type { PlantLine } from './lines.js';
import { type LongRun, longRun, type RatesOf } from './longRun.js';
import type { CostByInterval, CostColumns, CostPoint } from './outlookTypes.js';
import { type DrawnPrices, drawnTotals, type MeanEvents, meanEvents, meanParts } from './price.js';

/** Half to twice the proposal; each takes a walk round the calendar of every group. */
export const FACTORS = [0.5, 0.75, 1, 1.25, 1.5, 2] as const;

export interface IntervalInputs {
  fleet: Fleet;
  grouped: GroupedFleet;
  costs: readonly GroupCost[];
  lines: readonly PlantLine[];
  prices: DrawnPrices;
}

/** The long run of the policy times each factor; times 1 it is that of the policy, as the rates are remembered. */
export function scaledRuns(
  { intervalDays }: Pick<ReplacementPolicy, 'intervalDays'>,
  lines: readonly PlantLine[],
  ratesOf: RatesOf,
  draws: number,
): LongRun[] {
  return FACTORS.map((factor) =>
    longRun({ intervalDays: intervalDays.map((days) => timesOf(days, factor)) }, lines, ratesOf, draws),
  );
}

const timesOf = (days: number | null, factor: number): number | null =>
  days === null ? null : days * factor;

/** `runs` are those of scaledRuns, `today` that of today's practice. */
export function costByInterval(
  inputs: IntervalInputs,
  runs: readonly LongRun[],
  today: LongRun,
  days: { proposed: readonly (number | null)[]; today: readonly (number | null)[] },
  reach: Reach,
): CostByInterval {
  const { fleet, grouped, costs, lines, prices } = inputs;
  const practice = stopPractice(fleet);
  const bands = runs.map((run) => ends(drawnTotals(run, prices).all));
  return {
    factor: [...FACTORS],
    beyondLimit: FACTORS.map((factor) => beyond(lines, days.proposed, factor, reach.limit)),
    beyondRecords: FACTORS.map((factor) => beyond(lines, days.proposed, factor, reach.records)),
    plant: {
      ...columnsOf(runs.map((run) => pointOf(meanEvents(run), costs, lines))),
      low: bands.map(([low]) => low),
      high: bands.map(([, high]) => high),
    },
    lines: lines.map((line, l) => {
      const own = lineCosts(fleet, grouped, line, practice);
      const point = (run: LongRun): CostPoint => {
        const { groups, stops } = itemAt(run.lines, l);
        return pointOf(meanEvents({ groups, stops: [stops] }), own, [line]);
      };
      return { line: line.line, ...columnsOf(runs.map(point)), today: point(today) };
    }),
    todayFactor: todayFactor(lines, days),
  };
}

/** Ages that intervals of each group should not be beyond, days; Infinity where there is no such age. */
export interface Reach {
  /** By which none passes the maker's limit by being late (dueRule.ts). An interval already beyond reaches as far as it is. */
  limit: number[];
  records: number[];
}

export function reachOf(fleet: Fleet, { groups }: GroupedFleet, proposed: readonly (number | null)[]): Reach {
  const rates = fleet.site.limits.length === 0 ? [] : dailyRates(fleet);
  const atLeast = (age: number, g: number): number => Math.max(age, proposed[g] ?? 0);
  return {
    limit: groups.map((group, g) =>
      atLeast((makersCap(fleet, group, rates)?.days ?? Infinity) / (1 + LATE_SHARE), g),
    ),
    records: groups.map(({ supportedAge }, g) => atLeast(supportedAge ?? 0, g)),
  };
}

/** Positions whose interval times the factor is beyond the age of their group. */
function beyond(
  lines: readonly PlantLine[],
  days: readonly (number | null)[],
  factor: number,
  ages: readonly number[],
): number {
  const isBeyond = (group: number): boolean => (days[group] ?? 0) * factor > (ages[group] ?? Infinity);
  return sum(
    lines.flatMap((line) => line.positions.map(({ group, positions }) => (isBeyond(group) ? positions : 0))),
  );
}

function pointOf(events: MeanEvents, costs: readonly GroupCost[], lines: readonly PlantLine[]): CostPoint {
  const parts = meanParts(events, costs, lines);
  return {
    perYear: sum(Object.values(parts)),
    ...parts,
    leaksPerYear: sum(events.groups.map(({ leaks }) => leaks)),
    replacementsPerYear: sum(events.groups.map(({ fitted }) => fitted)),
    stopsPerYear: sum(events.stops),
  };
}

function columnsOf(points: readonly CostPoint[]): CostColumns {
  const column = (name: keyof CostPoint): number[] => points.map((point) => point[name]);
  return {
    perYear: column('perYear'),
    parts: column('parts'),
    labour: column('labour'),
    plannedStop: column('plannedStop'),
    leakDowntime: column('leakDowntime'),
    lostBatches: column('lostBatches'),
    leaksPerYear: column('leaksPerYear'),
    replacementsPerYear: column('replacementsPerYear'),
    stopsPerYear: column('stopsPerYear'),
  };
}

/** What events cost on one line, in the order of its groups: each group's costs over its positions there. */
function lineCosts(
  fleet: Fleet,
  { groups, running }: GroupedFleet,
  { line, positions }: PlantLine,
  practice: StopPractice,
): GroupCost[] {
  return positions.map(({ group }) => {
    const here = running.filter(
      (life) => life.groupNext === group && itemAt(fleet.positions, life.position).line === line,
    );
    return groupCost(
      fleet,
      { ...itemAt(groups, group), positions: here.map(({ position }) => position) },
      practice,
    );
  });
}

function todayFactor(
  lines: readonly PlantLine[],
  { proposed, today }: { proposed: readonly (number | null)[]; today: readonly (number | null)[] },
): number | null {
  let [logs, count] = [0, 0];
  for (const { group, positions } of lines.flatMap((line) => line.positions)) {
    const [now, then] = [today[group] ?? null, proposed[group] ?? null];
    if (now === null || then === null) continue;
    logs += positions * Math.log(now / then);
    count += positions;
  }
  return count === 0 ? null : Math.exp(logs / count);
}
