/** What an advised interval cannot promise. */
import { meanOf } from '../cost/spread.js';
import type { Warning } from '../findings.js';
import { type LineWindow, lineWindows } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { addMonths } from '../numeric/day.js';
import { ageWords, counted } from '../numeric/words.js';
import { type Decision, LENGTHEN_LEAKS } from './decide.js';
import { medianGap } from './dueRule.js';
import { leastAge } from './leastCost.js';
import type { Weighed } from './weigh.js';

/** Gaps between windows are judged over this many months. */
const CALENDAR_MONTHS = 60;
/** A position that reaches its limit in under this share of the middle position's time is used much harder. */
const HARD_USE_SHARE = 0.5;

export function intervalWarnings(fleet: Fleet, weighed: Weighed, decision: Decision): Warning[] {
  return [
    costsWarning(weighed),
    fewLeaksWarning(weighed, decision),
    beyondDataWarning(weighed, decision),
    windowWarning(fleet, weighed, decision),
    hardUseWarning(weighed),
    stopWarning(weighed),
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
  if (group.failures >= LENGTHEN_LEAKS || action === 'keep') return null;
  return {
    code: 'few-leaks',
    text: `Only ${counted(group.failures, 'leak', 'leaks')}: the answer leans on what other groups show.`,
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

function windowWarning(fleet: Fleet, { group }: Weighed, { interval }: Decision): Warning | null {
  if (interval === null || fleet.shutdowns.length === 0) return null;
  const until = addMonths(fleet.site.dataUntil, CALENDAR_MONTHS);
  const lines = [...new Set(group.positions.map((p) => itemAt(fleet.positions, p).line))].sort();
  const slow = lines.filter((line) => {
    const gap = medianGap(windowsOf(fleet, line, until));
    return gap !== null && gap > interval.days;
  });
  if (slow.length === 0) return null;
  return {
    code: 'shorter-than-windows',
    text: `${ageWords(interval.days)} is shorter than the usual gap between the windows of ${counted(slow.length, 'line', 'lines')} (${namesOf(slow)}).`,
    todo: 'Replace at every window there, or add windows.',
  };
}

/** Windows of a line, counted once per fleet: every group with a position on the line asks for the same ones. */
const calendars = new WeakMap<Fleet, Map<string, LineWindow[]>>();

function windowsOf(fleet: Fleet, line: string, until: number): LineWindow[] {
  const calendar = calendars.get(fleet) ?? new Map<string, LineWindow[]>();
  calendars.set(fleet, calendar);
  const windows = calendar.get(line) ?? lineWindows(fleet, line, until);
  calendar.set(line, windows);
  return windows;
}

function namesOf(names: readonly string[]): string {
  const shown = names.slice(0, 3).map((name) => (name === '' ? 'no name' : name));
  return names.length > 3 ? `${shown.join(', ')} ...` : shown.join(', ');
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
