/** The interval of a group on the clock that wears it. */
import type { GroupCost } from '../../cost/types.js';
import { DAYS } from '../../exposure/clock/types.js';
import type { Limit } from '../../fleet/types.js';
import type { Group } from '../../group/types.js';
import type { WearClock } from '../../group/wear/types.js';
import { survival } from '../../life/distribution/index.js';
import type { WeibullModel } from '../../life/model.js';
import { DAYS_PER_YEAR } from '../../numeric/day.js';
import { amount } from '../../numeric/words.js';
import { limitsOf } from '../cap.js';
import { hasPrices } from '../decide.js';
import { lawCost } from '../lawCost.js';
import type { IntervalAdvice } from '../types.js';
import { meanCosts } from '../weigh.js';
import type { WearInterval } from './types.js';

const SPAN = 0.02;
/** Ages tried for the ends of the span, in equal steps to the longest supported. */
const STEPS = 400;

export interface ClockChoiceOfGroup
  extends Pick<WearInterval, 'count' | 'within2percent' | 'basis' | 'cappedBy'> {}

export interface ClockCase {
  group: Group;
  cost: GroupCost;
  advice: IntervalAdvice;
  clock: WearClock;
  law: WeibullModel;
  /** Counts a day at the group's middle position. */
  middlePerDay: number;
  limits: readonly Limit[];
}

/**
 * The count of least cost under the law on the clock: with wear counted so, cost per count is the same function at every position, and so
 * is the best count, but for openings and faulty fittings, which go by days and are taken at the middle position. By the fitted law, not
 * over its draws; within the counts that the records support and the maker's limit. Where prices are missing or wear-out is not shown
 * on the clock, the count that the interval in days is at the middle position. Null without either.
 */
export function clockInterval(task: ClockCase): ClockChoiceOfGroup | null {
  const { group, cost, advice, clock, middlePerDay } = task;
  if (advice.action === 'run' || clock.law === null || !(middlePerDay > 0)) return null;
  const costs = meanCosts(cost);
  const supported = clock.law.supported;
  const isPriced = hasPrices({ cost, costs }) && advice.keptFor !== 'no positions';
  if (isPriced && clock.law.shape.low > 1 && supported !== null) return byCost(task, supported);
  if (advice.days === null || group.positions.length === 0) return null;
  const { count, cappedBy } = capped(task, advice.days * middlePerDay);
  return { count: rounded(count), within2percent: null, basis: 'as in days', cappedBy };
}

function byCost(task: ClockCase, supported: number): ClockChoiceOfGroup {
  const { group, cost, clock, law, middlePerDay } = task;
  const { replacement, wearLeak: leak, opening } = meanCosts(cost);
  const { fault } = group.model;
  const sound = (days: number): number =>
    fault === undefined ? 1 : 1 + fault.share * Math.expm1(-((days / fault.scale) ** fault.shape));
  const reach = supported / middlePerDay;
  const { bestDays, leastPerYear, perYearAt } = lawCost(
    (days) => sound(days) * survival(law, days * middlePerDay),
    { replacement, leak, opening, openingsPerDay: group.openingsPerYear / DAYS_PER_YEAR },
    { days: reach, run: false },
  );
  const best = bestDays ?? reach;
  const near = Array.from({ length: STEPS }, (_, k) => ((k + 1) / STEPS) * reach).filter(
    (days) => perYearAt(days) <= (1 + SPAN) * leastPerYear,
  );
  const ends = [...near, best].map((days) => days * middlePerDay);
  const held =
    best > 0.99 * reach
      ? `${amount(supported)} ${clock.parts.length > 1 ? 'so counted' : clock.clock}, beyond which the records do not reach`
      : null;
  const { count, cappedBy } = capped(task, best * middlePerDay);
  return {
    count: rounded(count),
    within2percent: [Math.min(...ends), Math.max(...ends)],
    basis: 'least cost',
    cappedBy: cappedBy ?? held,
  };
}

/** No limit of the maker on this clock is passed. */
function capped(
  { group, clock, limits }: ClockCase,
  count: number,
): { count: number; cappedBy: string | null } {
  if (clock.parts.includes(DAYS)) return { count, cappedBy: null };
  let [least, cappedBy]: [number, string | null] = [count, null];
  for (const { maxStrokes, maxSteamCycles } of limitsOf(limits, group)) {
    const most =
      clock.clock === 'strokes' ? maxStrokes : clock.clock === 'steam cycles' ? maxSteamCycles : null;
    if (most !== null && most < least) {
      least = most;
      cappedBy = `maker’s limit of ${amount(most, 9)} ${clock.clock}`;
    }
  }
  return { count: least, cappedBy };
}

/** Down to two digits, so that people can keep it in mind: 310 of 317. */
function rounded(count: number): number {
  const step = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(count, 1))) - 1);
  return Math.max(Math.min(count, 1), Math.floor(count / step + 1e-9) * step);
}
