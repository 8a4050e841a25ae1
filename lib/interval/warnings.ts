/** What an advised interval cannot promise. */
import { meanOf } from '../cost/spread.js';
import type { Warning } from '../findings.js';
import type { Fleet } from '../fleet/types.js';
import { floatAt } from '../numeric/columns.js';
import { ageWords, counted } from '../numeric/words.js';
import type { LinePeriods } from './carriedOut.js';
import { type Decision, LENGTHEN_LEAKS } from './decide.js';
import { leastAge } from './leastCost.js';
import { spreadWarning } from './otherSpreads.js';
import type { OtherSpread } from './types.js';
import type { Weighed } from './weigh.js';
import { calendarWarning, limitWarning, windowWarning } from './windowWarnings.js';

/** A position that reaches its limit in under this share of the middle position's time is used much harder. */
const HARD_USE_SHARE = 0.5;

export function intervalWarnings(
  fleet: Fleet,
  weighed: Weighed,
  decision: Decision,
  periods: LinePeriods,
  others: readonly OtherSpread[],
): Warning[] {
  return [
    costsWarning(weighed),
    fewLeaksWarning(weighed, decision),
    beyondDataWarning(weighed, decision),
    limitWarning(fleet, weighed, periods),
    windowWarning(fleet, weighed, decision, periods),
    calendarWarning(fleet, weighed, decision, periods),
    hardUseWarning(weighed),
    stopWarning(weighed),
    spreadWarning(weighed, decision, others),
  ].filter((warning): warning is Warning => warning !== null);
}

/** True where the cost of a leak leaves the lost batch out. */
export function isDowntimeOnly(missing: readonly string[]): boolean {
  return missing.includes('batch_value') || missing.includes('lost_batch_probability');
}

function costsWarning({ cost }: Weighed): Warning | null {
  if (!isDowntimeOnly(cost.missing)) return null;
  return {
    code: 'downtime-only',
    text: 'Downtime only: what a lost batch is worth is not counted, so leaks look cheaper than they are.',
    todo: 'Give batch_value and lost_batch_probability in site.json.',
  };
}

function fewLeaksWarning({ group }: Weighed, { action }: Decision): Warning | null {
  if (group.wearLeaks >= LENGTHEN_LEAKS || action === 'keep') return null;
  return {
    code: 'few-leaks',
    text: `Only ${counted(group.wearLeaks, 'wear-out leak', 'wear-out leaks')}: the answer leans on what other groups show.`,
    todo: 'Look again after the next leaks.',
  };
}

function beyondDataWarning({ group }: Weighed, { interval }: Decision): Warning | null {
  const longest = longestLife(group.sample.lower);
  const age = interval?.days ?? 0;
  if (age <= longest) return null;
  return {
    code: 'extrapolation',
    text: `${ageWords(age)} is beyond the longest life seen (${ageWords(longest)}): an extrapolation.`,
    todo: 'Do not rely on it before some diaphragms have reached that age.',
  };
}

function hardUseWarning({ makersCap }: Weighed): Warning | null {
  if (makersCap === null || makersCap.position === null) return null;
  if (makersCap.days >= HARD_USE_SHARE * makersCap.middleDays) return null;
  return {
    code: 'one-hard-used-position',
    text: `${makersCap.position} reaches the maker’s limit in ${ageWords(makersCap.days)}, the middle position of the group in ${ageWords(makersCap.middleDays)}.`,
    todo: 'Give the hard used position an interval of its own (a duty of its own in positions.csv).',
  };
}

/** METHODS 4.5: who pays for the stop is shown whole, shared and free where it moves the best age out of its 5 % span. */
function stopWarning({ cost, costs, cycle, best }: Weighed): Warning | null {
  const share = meanOf(cost.stopShare);
  const whole = meanOf(cost.stopWhole);
  if (whole === 0) return null;
  const ageAt = (stop: number): number | null =>
    leastAge(cycle, { ...costs, replacement: costs.replacement - share + stop }).age;
  const [low, high] = best.within5percent;
  const ages = [ageAt(0), best.age, ageAt(whole)];
  if (ages.every((age) => (age ?? Infinity) >= low && (age ?? Infinity) <= high)) return null;
  const [free, shared, alone] = ages.map((age) => (age === null ? 'run until it leaks' : ageWords(age)));
  return {
    code: 'who-pays-for-the-stop',
    text: `Who pays for the line stop moves the best age: ${free} if the stop happens anyway, ${shared} if it is shared as in the past, ${alone} if one replacement pays all of it.`,
    todo: 'Check stop_for in shutdowns.csv, and how many are replaced in one stop.',
  };
}

/** Longest life on record in a sample, days. */
function longestLife(lower: Float64Array): number {
  let longest = 0;
  for (let i = 0; i < lower.length; i++) longest = Math.max(longest, floatAt(lower, i));
  return longest;
}
