/** Why an interval was advised, in one plain sentence with its numbers. */
import {
  AGE_CHANCE,
  chanceAsked,
  type Decision,
  LENGTHEN_LEAKS,
  RUN_LEAKS,
  SHORTEN_LEAKS,
} from './decide.js';
import type { IntervalAdvice } from './types.js';
import { isWithin, type Weighed } from './weigh.js';
import { ageWords, chanceWords, counted, monthCount, percent } from './words.js';

/** What the sentence needs beside the decision. */
export type Figures = Pick<
  IntervalAdvice,
  'costPerYear' | 'costPerYearToday' | 'chanceBetter' | 'around' | 'settle' | 'cappedBy'
>;

/** "12 leaks in 214 lives; wearing out (shape 2.9, 2.1 to 3.9); 9 months costs 18 % less than today's 12; ..." */
export function becauseOf(weighed: Weighed, decision: Decision, figures: Figures): string {
  const parts = [
    leaksWords(weighed),
    wearWords(weighed),
    answerWords(weighed, decision, figures),
    ...(figures.cappedBy === null ? [] : [`held down by the ${figures.cappedBy}`]),
    ...keepWords(decision, figures),
  ];
  return `${parts.join('; ')}.`;
}

function leaksWords({ group }: Weighed): string {
  return `${counted(group.failures, 'leak', 'leaks', 'no leak')} in ${counted(group.lives, 'life', 'lives')}`;
}

function wearWords({ group }: Weighed): string {
  const [low, high] = group.bounds.shape;
  const shape = `shape ${group.model.shape.toFixed(1)}, ${low.toFixed(1)} to ${high.toFixed(1)}`;
  if (low > 1) return `wearing out (${shape})`;
  return high < 1.2 ? `no sign of wearing out (${shape})` : `may or may not wear out (${shape})`;
}

function answerWords(weighed: Weighed, decision: Decision, figures: Figures): string {
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

/** "9 months costs 18 % less than today's 12 (chance 96 %)". */
function comparison(
  what: string,
  { group }: Weighed,
  { costPerYear, costPerYearToday, chanceBetter }: Figures,
): string {
  const today =
    group.today.days === null ? 'running until it leaks as today' : `today’s ${ageWords(group.today.days)}`;
  const change = costPerYear / costPerYearToday - 1;
  const words =
    Math.abs(change) < 0.005
      ? 'costs the same as'
      : `costs ${percent(Math.abs(change))} ${change < 0 ? 'less' : 'more'} than`;
  return `${what} ${words} ${today} (chance that it is cheaper ${chanceWords(chanceBetter)})`;
}

function spanWords({ best, cycle }: Weighed): string {
  const [low, high] = best.within2percent;
  if (best.age === null) return 'no age is cheaper than running until it leaks';
  const upTo = high === Infinity || high >= (cycle.ages[cycle.ages.length - 2] ?? Infinity);
  const first = monthCount(low);
  return upTo
    ? `anything longer than ${ageWords(low)} costs within 2 %`
    : `anywhere from ${ageWords(low).endsWith('months') ? first : ageWords(low)} to ${ageWords(high)} costs within 2 %`;
}

function whyKeep(weighed: Weighed, { ground, interval }: Decision): string {
  const kept = interval === null ? 'no interval can be named yet' : `keep ${ageWords(interval.days)}`;
  return `${kept}, because ${keepReason(weighed, ground)}`;
}

function keepReason(
  { candidate, chanceBetter, chanceBeatsRun, best, group }: Weighed,
  ground: Decision['ground'],
): string {
  const weighedUp = candidate === null ? 'running until it leaks' : ageWords(candidate.days);
  switch (ground) {
    case 'no prices':
      return 'no price is given for a replacement or for what a leak does, so nothing can be weighed';
    case 'too few leaks':
      return `fewer than ${SHORTEN_LEAKS} wear-out leaks cannot support an age; a schedule that works leaves few leaks`;
    case 'wear-out not shown':
      return `the leaks do not show that it wears out, and there is too little (${RUN_LEAKS} wear-out leaks are needed) to say that it does not`;
    case 'running may be cheaper':
      return candidate === null
        ? 'running until it leaks looks cheaper, but the rules for giving up a schedule are not met'
        : `a chance of ${chanceWords(chanceBeatsRun)} that ${weighedUp} beats running until it leaks is not enough (above ${percent(AGE_CHANCE)} is asked)`;
    case 'lengthening not supported':
      return `${weighedUp} looks cheaper, but lengthening asks for ${LENGTHEN_LEAKS} wear-out leaks`;
    default:
      if (isWithin(group.today.days, best.within2percent)) {
        return `it is within 2 % of the least cost already (${weighedUp} costs less with a chance of ${chanceWords(chanceBetter)})`;
      }
      return `a chance of ${chanceWords(chanceBetter)} that ${weighedUp} costs less is not enough (above ${percent(chanceAsked(candidate, group.today.days))} is asked)`;
  }
}

function keepWords({ action }: Decision, { settle }: Figures): string[] {
  if (action !== 'keep' || settle === null) return [];
  const leaks = counted(settle.leaks, 'more leak', 'more leaks');
  return [`about ${leaks} (some ${counted(settle.lives, 'more life', 'more lives')}) would settle it`];
}
