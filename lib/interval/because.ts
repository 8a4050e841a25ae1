/** Why an interval was advised, in one plain sentence with its numbers. */
import { quantileSorted } from 'simple-statistics';
import type { Group } from '../group/types.js';
import { onClockWords } from '../group/wear/wearWords.js';
import { DAYS_PER_MONTH } from '../numeric/day.js';
import { ageSpan, ageWords, chanceWords, counted, fixed, percent } from '../numeric/words.js';
import {
  AGE_CHANCE,
  chanceAsked,
  type Decision,
  isHeldToLimit,
  isLacking,
  LENGTHEN_LEAKS,
  NO_WEAR_SHAPE,
  RUN_LEAKS,
  SHORTEN_LEAKS,
  shapeBounds,
} from './decide.js';
import { leaksFrom, livesWatchedAt } from './evidence.js';
import type { IntervalAdvice } from './types.js';
import { isWithin, type Weighed } from './weigh.js';

/** What the sentence needs beside the decision. */
export type Figures = Pick<
  IntervalAdvice,
  'costPerYear' | 'costPerYearToday' | 'chanceBetter' | 'around' | 'settle' | 'cappedBy'
>;

const UNUSED = 'no position uses it now';
/** From this share of borrowed knowledge on, the sentence says whose data it leans on. */
const LEANS_FROM = 0.5;
/** Lengthening beyond so many times today's age is done in stages, the first this much longer than today. */
const STAGES_BEYOND = 2;
const FIRST_STAGE = 1.5;

/** "12 leaks in 214 lives; wearing out (shape 2.9, ...); 9 months costs 18 % less than today's 12; ..." */
export function becauseOf(weighed: Weighed, decision: Decision, figures: Figures): string {
  const parts = [
    leaksWords(weighed.group),
    wearWords(weighed.group),
    ...leanWords(weighed.group),
    answerWords(weighed, decision, figures),
    ...countWords(weighed.group, decision),
    ...(figures.cappedBy === null ? [] : [`held down by the ${figures.cappedBy}`]),
    ...evidenceWords(weighed.group, decision),
    ...keepWords(decision, figures),
  ];
  return `${parts.join('; ')}.`;
}

/** The reason alone, in under 100 characters. */
export function inShort(weighed: Weighed, decision: Decision, figures: Figures): string {
  const { action, ground } = decision;
  if (isHeldToLimit(decision)) return 'the maker’s limit comes before cost';
  if (action === 'keep') return shortReason(weighed, ground);
  const { costPerYear, costPerYearToday, chanceBetter } = figures;
  if (ground === 'same as today') return 'it is the right interval already';
  return `${changeWords(costPerYear / costPerYearToday - 1)} today’s practice (chance ${chanceWords(chanceBetter)})`;
}

function leaksWords(group: Group): string {
  const { use } = group;
  const whole = use === undefined ? '' : ` of ${use.of}, counted in ${use.clock}`;
  return `${counted(group.failures, 'leak', 'leaks', 'no leak')} in ${counted(group.lives, 'life', 'lives')}${whole}`;
}

/** What the draws say of the wear-out shape: the decision is made on them and on these bounds. */
function wearWords(group: Group): string {
  const { low, high } = shapeBounds(group);
  const middle = quantileSorted(
    Array.from(group.draws.shape).sort((a, b) => a - b),
    0.5,
  );
  const shape = `shape ${fixed(middle, 1)}, 80 % range ${fixed(low, 1)} to ${fixed(high, 1)}`;
  if (group.materialWearLeaks < 1)
    return `no wear-out leak of ${group.material} is on record, so that it wears out is assumed (${shape})`;
  if (group.wearLeaks < 1)
    return `no wear-out leak of its own, so how it wears is taken from the other ${group.material} groups (${shape})`;
  if (low > 1) return `wearing out (${shape})`;
  return high < NO_WEAR_SHAPE ? `no sign of wearing out (${shape})` : `may or may not wear out (${shape})`;
}

function leanWords({ borrowed, material }: Group): string[] {
  if (borrowed < LEANS_FROM) return [];
  return [`leaning on the other ${material} groups for ${percent(borrowed)} of its scale`];
}

function answerWords(weighed: Weighed, decision: Decision, figures: Figures): string {
  if (decision.ground === 'no positions') return `${UNUSED}, so there is no interval to act on`;
  if (decision.action === 'keep') return whyKeep(weighed, decision);
  if (decision.action === 'run') {
    return `replacing before a leak costs more than it saves: ${comparison('running until it leaks', weighed, figures)}`;
  }
  const days = decision.interval?.days ?? 0;
  const cost =
    decision.ground === 'same as today'
      ? `today’s ${ageWords(days)} is right`
      : comparison(ageWords(days), weighed, figures);
  return `${cost}; ${spanWords(weighed)}`;
}

/** "9 months at this use: 77 steam cycles", where a counter wears the group and the interval goes by it. */
function countWords({ use }: Group, { action, interval }: Decision): string[] {
  if (use === undefined || interval === null || action !== 'replace') return [];
  return [`${ageWords(interval.days)} at this use: ${onClockWords(interval.days * use.perDay, use.clock)}`];
}

/** "9 months costs 18 % less than today's 12 (chance 96 %)". */
function comparison(
  what: string,
  { group }: Weighed,
  { costPerYear, costPerYearToday, chanceBetter }: Figures,
): string {
  const today =
    group.today.days === null ? 'running until it leaks as today' : `today’s ${ageWords(group.today.days)}`;
  return `${what} ${changeWords(costPerYear / costPerYearToday - 1)} ${today} (chance that it is cheaper ${chanceWords(chanceBetter)})`;
}

function changeWords(change: number): string {
  if (Math.abs(change) < 0.005) return 'costs the same as';
  return `costs ${percent(Math.abs(change))} ${change < 0 ? 'less' : 'more'} than`;
}

function spanWords({ best, cycle }: Weighed): string {
  const [low, high] = best.within2percent;
  if (best.age === null) return 'no age is cheaper than running until it leaks';
  const endless = high === Infinity || high >= (cycle.ages[cycle.ages.length - 2] ?? Infinity);
  return endless
    ? `anything longer than ${ageWords(low)} costs within 2 %`
    : `anywhere from ${ageSpan([low, high])} costs within 2 %`;
}

/** How many lives an interval beyond today's rests on, and how to get there where that is far. */
function evidenceWords({ sample, today, lives }: Group, { direction, interval }: Decision): string[] {
  if (direction !== 'lengthen' || today.days === null) return [];
  const leaks = counted(leaksFrom(sample, today.days), 'leak', 'leaks', 'no leak');
  const after = `${leaks} came after today’s ${ageWords(today.days)}`;
  if (interval === null) {
    const outlived = counted(livesWatchedAt(sample, today.days), 'life', 'lives');
    return [`${outlived} outlived today’s ${ageWords(today.days)}, and ${leaks} came after that`];
  }
  const watched = Math.round(livesWatchedAt(sample, interval.days));
  const words = `${watched} of ${counted(lives, 'life', 'lives')} ${watched === 1 ? 'is' : 'are'} still watched at ${ageWords(interval.days)}, and ${after}`;
  return interval.days > STAGES_BEYOND * today.days ? [words, stageWords(today.days)] : [words];
}

function stageWords(todayDays: number): string {
  const first = Math.round((FIRST_STAGE * todayDays) / DAYS_PER_MONTH) * DAYS_PER_MONTH;
  return `it is more than twice today’s age, so go there in stages: ${ageWords(first)} first, and look at what comes out (sound, worn or torn) before the next step`;
}

function whyKeep(weighed: Weighed, decision: Decision): string {
  const { ground, interval } = decision;
  if (interval !== null && isHeldToLimit(decision)) {
    const short = isLacking(ground)
      ? `; under it nothing better can be named: ${keepReason(weighed, ground)}`
      : '';
    return `${ageWords(interval.days)} at most, because the maker’s limit comes before cost${short}`;
  }
  const kept = interval === null ? 'no interval can be named yet' : `keep ${ageWords(interval.days)}`;
  return `${kept}, because ${keepReason(weighed, ground)}`;
}

function keepReason(weighed: Weighed, ground: Decision['ground']): string {
  const weighedUp = candidateWords(weighed);
  switch (ground) {
    case 'no prices':
      return 'no price above 0 is given for a replacement or for what a leak does (downtime, lost batch, clean-up), so nothing can be weighed';
    case 'too few leaks':
      return `fewer than ${SHORTEN_LEAKS} wear-out leaks cannot support an age; a schedule that works leaves few leaks`;
    case 'wear-out not shown':
      return `the leaks do not show that it wears out, and there is too little (${RUN_LEAKS} wear-out leaks are needed) to say that it does not`;
    case 'running may be cheaper':
      if (weighed.costs.wearLeak <= weighed.costs.replacement) return CHEAP_LEAK;
      return weighed.candidate === null
        ? 'running until it leaks looks cheaper, but the rules for giving up a schedule are not met'
        : `a chance of ${chanceWords(weighed.chanceBeatsRun)} that ${weighedUp} beats running until it leaks is not enough (above ${percent(AGE_CHANCE)} is asked)`;
    case 'lengthening not supported':
      return `${weighedUp} looks cheaper, but lengthening asks for ${LENGTHEN_LEAKS} wear-out leaks`;
    default:
      return notBetter(weighed);
  }
}

/** Said where prices make a schedule pointless, which is more often a wrong price than the truth. */
const CHEAP_LEAK =
  'a leak is priced no dearer than a replacement with its share of the stop, so that replacing before it leaks gains nothing: check the prices';

function notBetter(weighed: Weighed): string {
  const { best, group, chanceBetter, candidate } = weighed;
  const weighedUp = candidateWords(weighed);
  if (isWithin(group.today.days, best.within2percent)) {
    return `it is within 2 % of the least cost already (${weighedUp} costs less with a chance of ${chanceWords(chanceBetter)})`;
  }
  return `a chance of ${chanceWords(chanceBetter)} that ${weighedUp} costs less is not enough (above ${percent(chanceAsked(candidate, group.today.days))} is asked)`;
}

function candidateWords({ candidate }: Weighed): string {
  return candidate === null ? 'running until it leaks' : ageWords(candidate.days);
}

function shortReason(weighed: Weighed, ground: Decision['ground']): string {
  const leaks = leaksWords(weighed.group);
  switch (ground) {
    case 'no positions':
      return UNUSED;
    case 'no prices':
      return 'no price above 0 is given for a replacement or for what a leak does';
    case 'too few leaks':
      return `there are too few wear-out leaks to support an age (${leaks})`;
    case 'wear-out not shown':
      return `wear-out is neither shown nor ruled out (${leaks})`;
    case 'running may be cheaper':
      return 'running until it leaks may be cheaper, but that is not sure enough';
    case 'lengthening not supported':
      return `${candidateWords(weighed)} looks cheaper, but rests on too few wear-out leaks (${leaks})`;
    default:
      return isWithin(weighed.group.today.days, weighed.best.within2percent)
        ? 'it is within 2 % of the least cost already'
        : `${candidateWords(weighed)} costs less with a chance of ${chanceWords(weighed.chanceBetter)}, too little to change`;
  }
}

function keepWords(decision: Decision, { settle }: Figures): string[] {
  if (decision.action !== 'keep' || settle === null) return [];
  if (isHeldToLimit(decision) && !isLacking(decision.ground)) return [];
  const leaks = counted(settle.leaks, 'more leak', 'more leaks');
  return [`about ${leaks} (some ${counted(settle.lives, 'more life', 'more lives')}) would settle it`];
}
