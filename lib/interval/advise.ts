/** Advice on the replacement interval of every group. */
import type { GroupCost } from '../cost/types.js';
import { dailyRates } from '../exposure/rates.js';
import type { Criticality, Fleet } from '../fleet/types.js';
import type { Group, GroupedFleet } from '../group/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { significant } from '../numeric/round.js';
import { becauseOf, type Figures, inShort } from './because.js';
import { makersCap, workedAt } from './cap.js';
import { carriedOut, type LinePeriods, linePeriods, linesOf } from './carriedOut.js';
import { type ChangeSheet, changeSheet } from './changeSheet.js';
import { costCurve } from './curve.js';
import type { Cycle } from './cycle.js';
import { type Decision, decide, hasPrices, isHeldToLimit, isLacking } from './decide.js';
import { eventsPerYear } from './eventsPerYear.js';
import { opportunityAge } from './opportunity.js';
import { otherSpreads } from './otherSpreads.js';
import { comparePolicies } from './policy/comparePolicies.js';
import { meanOver } from './rates.js';
import { riskOf } from './risk.js';
import { aroundPoints, leaksToSettle, rangePerYear } from './settle.js';
import type { IntervalAdvice } from './types.js';
import { isUnused, UNUSED_FIGURES } from './unused.js';
import { intervalWarnings } from './warnings.js';
import type { OnClock } from './wear/types.js';
import { costPerYear, isSame, isWithin, ratesOf, type Weighed, weigh } from './weigh.js';

export interface AdviseOptions {
  /** Not used: advice takes the draws of the groups and draws nothing itself. */
  seed?: number;
}

/** Advice, and the cycles it was weighed on, for whoever needs them next. */
export interface WeighedAdvice {
  intervals: IntervalAdvice[];
  /** One for each interval that changes. */
  changes: ChangeSheet[];
  cycles: Cycle[];
}

/**
 * One advice per group, in the order of the groups: `replace` at an age that the data support, `run` where they
 * contradict wear-out, `keep` where they do neither (the rules are in decide.ts, METHODS 4.1 to 4.3). Plans on the
 * posterior mean of the cost rate over the draws of the group.
 */
export function adviseIntervals(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
  _options: AdviseOptions = {},
): IntervalAdvice[] {
  return weighIntervals(fleet, grouped, costs).intervals;
}

/** The same with the cycles. */
export function weighIntervals(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
): WeighedAdvice {
  const rates = dailyRates(fleet);
  const counts = positionsByGroup(grouped);
  const periods = linePeriods(fleet);
  const weighed = grouped.groups.map((group, g) =>
    weigh(group, itemAt(costs, g), makersCap(fleet, group, rates)),
  );
  const advised = weighed.map((each, g) => adviceOf(fleet, each, at(counts, g), periods));
  return {
    intervals: advised.map(({ advice }) => advice),
    changes: advised.flatMap(({ change }) => (change === null ? [] : [change])),
    cycles: weighed.map(({ cycle }) => cycle),
  };
}

/** Running positions that will be refitted with each group's diaphragm. Their sum is the positions in service. */
export function positionsByGroup({ groups, running }: GroupedFleet): Int32Array {
  const counts = new Int32Array(groups.length);
  for (const { groupNext } of running) counts[groupNext] = at(counts, groupNext) + 1;
  return counts;
}

/** The advice on a group, with its change sheet where it changes something. */
function adviceOf(
  fleet: Fleet,
  weighed: Weighed,
  positions: number,
  periods: LinePeriods,
): { advice: IntervalAdvice; change: ChangeSheet | null } {
  const { group, best } = weighed;
  const decision = decide(weighed, criticalitiesOf(fleet, group));
  const days = decision.interval?.days ?? null;
  const figures = figuresOf(weighed, decision);
  const spans = best.age !== null && hasPrices(weighed);
  const workDays = days === null ? null : workedAt(days, weighed.makersCap);
  const others = otherSpreads(weighed, decision);
  const inPractice = workDays === null ? null : carriedOut(linesOf(fleet, group), periods, workDays);
  const today = eventsPerYear(weighed.cycle, group.today.days);
  const advice: IntervalAdvice = {
    group: group.name,
    material: group.material,
    size: group.size,
    duty: group.duty,
    ...onClock(group, days, spans ? closedSpan(weighed, best.within2percent) : null),
    action: decision.action,
    days,
    months: decision.interval?.months ?? null,
    workDays,
    within2percent: spans ? closedSpan(weighed, best.within2percent) : null,
    within5percent: spans ? closedSpan(weighed, best.within5percent) : null,
    today: group.today.days,
    direction: decision.direction,
    ...figures,
    ...riskOf(weighed, days),
    opportunityDays: hasPrices(weighed) ? opportunityAge(weighed, days) : null,
    ...eventsPerYear(weighed.cycle, days),
    leaksPerYearToday: today.leaksPerYear,
    replacementsPerYearToday: today.replacementsPerYear,
    keptFor: keptFor(weighed, decision),
    inPractice,
    positions,
    otherSpreads: others,
    policies: comparePolicies(weighed, days),
    curve: costCurve(weighed),
    because: becauseOf(weighed, decision, figures),
    inShort: inShort(weighed, decision, figures),
    warnings: intervalWarnings(fleet, weighed, decision, periods, others),
    ...(isUnused(weighed) ? UNUSED_FIGURES : {}),
  };
  return { advice, change: changeSheet(fleet, weighed, decision, advice) };
}

/** Nothing of a group that days wear. */
function onClock(
  { use }: Group,
  days: number | null,
  span: [number, number] | null,
): Pick<IntervalAdvice, 'onClock'> {
  if (use === undefined) return {};
  const { of, clock, perDay, rates } = use;
  const count = days === null ? null : significant(days * perDay, 3);
  const within2percent: OnClock['within2percent'] =
    span === null ? null : [span[0] * perDay, span[1] * perDay];
  return { onClock: { of, clock, perDay, rates, count, within2percent } };
}

function figuresOf(weighed: Weighed, decision: Decision): Figures & Pick<IntervalAdvice, 'costRange'> {
  const { cycle, costs, group } = weighed;
  const days = decision.interval?.days ?? null;
  const keeps = decision.action === 'keep';
  const proposed = ratesOf(cycle, costs, days);
  return {
    cappedBy: cappedBy(weighed, decision),
    chanceBetter: chanceOf(weighed, decision, proposed),
    costPerYear: meanOver(proposed) * DAYS_PER_YEAR,
    costPerYearToday: costPerYear(weighed, group.today.days),
    costRange: rangePerYear(proposed),
    around: keeps && days !== null ? aroundPoints(weighed, days) : [],
    settle: keeps ? leaksToSettle(weighed, decision) : null,
  };
}

/** What held the advised interval down: the candidate's own cap, or the maker's limit on what is kept. */
function cappedBy({ heldBy, makersCap: cap, group }: Weighed, { action, ground }: Decision): string | null {
  if (ground === 'no wear-out, but a limit') return cap?.text ?? null;
  if (action === 'replace') return heldBy;
  const keptBelowToday = action === 'keep' && cap !== null && (group.today.days ?? Infinity) > cap.days;
  return keptBelowToday ? cap.text : null;
}

/** Chance that the interval weighed costs less than today's practice; of the advised one where it is another. */
function chanceOf(weighed: Weighed, { action, interval }: Decision, proposed: Float64Array): number {
  const { chanceBetter, candidate, cycle, costs, group } = weighed;
  if (action === 'keep' || (interval?.days ?? null) === (candidate?.days ?? null)) return chanceBetter;
  if (interval !== null && group.today.days !== null && isSame(interval, group.today.days)) return 0.5;
  const today = ratesOf(cycle, costs, group.today.days);
  return proposed.filter((rate, d) => rate < floatAt(today, d)).length / proposed.length;
}

/** Why today's interval is kept, in a word; null where it is not. */
function keptFor({ group, best }: Weighed, decision: Decision): IntervalAdvice['keptFor'] {
  const { action, ground } = decision;
  if (action !== 'keep') return null;
  if (ground === 'no prices' || ground === 'no positions') return ground;
  if (isHeldToLimit(decision) && !isLacking(ground)) return 'maker’s limit';
  const near = ground === 'not clearly better' && isWithin(group.today.days, best.within2percent);
  return near ? 'near least cost' : 'too few records';
}

/** A span without an end is closed where every draw is used up: nothing is drawn or planned beyond. */
function closedSpan({ cycle }: Weighed, [low, high]: [number, number]): [number, number] {
  return [low, Math.min(high, floatAt(cycle.ages, cycle.ages.length - 1))];
}

function criticalitiesOf(fleet: Fleet, group: Group): Criticality[] {
  return group.positions.map((position) => itemAt(fleet.positions, position).criticality);
}
