/** When every position is due, by its present age and its own rate of use: a list that needs no calendar. */
import { type AgeAtCount, ageAtCount } from '../exposure/ageAtCount.js';
import { dailyRates, type PositionRates } from '../exposure/rates.js';
import type { Criticality, Fleet, Limit } from '../fleet/types.js';
import type { Group, GroupedFleet, RunningLife } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { type Day, textFromDay } from '../numeric/day.js';
import { count, daysWords } from '../numeric/words.js';
import { calendarStand, goesByUse } from './byUse.js';
import { limitsOf } from './cap.js';
import { type Holding, holdingOf } from './holding.js';
import type { IntervalAdvice, ShutdownTask } from './types.js';

/** When one position is due, whatever the calendar says. Dates are texts; null = not known or never. */
export interface DueDate {
  position: string;
  line: string;
  criticality: Criticality;
  /** Group of what is fitted now. */
  group: string;
  fitted: string | null;
  /** Days on the day of the data; of a fitting day that is not on record, the middle of what fits the records. */
  ageDays: number;
  intervalDays: number | null;
  /** Day on which it is due: its interval is up, or a limit of the maker is reached. */
  due: string | null;
  /** Earliest and latest sensible day: within 2 % of the least cost, and within every limit at the fastest likely rate. */
  dueRange: [string, string] | null;
  /** 'interval', or the maker's limit that comes first at this position; 'out of service from' where that is before; why
   * there is none. */
  dueFor: string | null;
  overdueDays: number;
  /** From this day on worth replacing where its line is down anyway. */
  opportunityFrom: string | null;
  /**
   * Chance that it leaks before it is due, and within 365 days if left. Where it is due today or was before: until the next window of its
   * line, if left until then; null where the line has none.
   */
  leakBeforeDue: number | null;
  leakWithinYear: number;
  /**
   * Where a clock other than days wears its group: the day by which the position's own count reaches the interval on that clock, with its
   * range by how evenly the counter rises (null = no limit). Left out elsewhere.
   */
  byClock?: {
    clock: string;
    count: number;
    due: string | null;
    range: [string | null, string | null] | null;
  };
  /** The shutdown at which the work list replaces it. */
  planned: { shutdown: string; start: string } | null;
}

/** Chances of a leak are also given over this many days. */
const YEAR_DAYS = 365;

/** Age at which a limit is reached at one position, and what to call it. */
interface LimitAge extends AgeAtCount {
  text: string;
}

/** What is the same for all positions of a group. */
interface GroupDue {
  group: Group;
  interval: IntervalAdvice;
  holding: Holding;
}

/**
 * One row per position in service, in order of the day on which it is due. A diaphragm is due when the interval of the
 * group of what is fitted now is up, or before where the maker's limit is reached first at the position's own rate of
 * strokes or steam cycles. The range: from the day on which replacing costs at most 2 % more than the least (a kept interval
 * has no such span), to the last such day on which no limit is passed even at the fastest rate that the readings allow (95 %); of a fitting day
 * that is not on record, from its oldest to its youngest tenth. `tasks` is the work list, for the day planned.
 */
export function dueDates(
  fleet: Fleet,
  grouped: GroupedFleet,
  intervals: readonly IntervalAdvice[],
  tasks: readonly ShutdownTask[],
): DueDate[] {
  const rates = dailyRates(fleet);
  const planned = firstTasks(tasks);
  const groups = grouped.groups.map(
    (group, g): GroupDue => ({ group, interval: itemAt(intervals, g), holding: holdingOf(group.draws) }),
  );
  return grouped.running
    .map((life) => {
      const own = itemAt(groups, life.groupNow);
      const limits = limitAges(fleet.site.limits, own.group, itemAt(rates, life.position));
      const row = dueDateOf(fleet, life, own, limits);
      return { ...row, planned: planned.get(row.position) ?? null };
    })
    .sort(byDue);
}

function dueDateOf(
  fleet: Fleet,
  life: RunningLife,
  { group, interval: given, holding }: GroupDue,
  atAge: readonly LimitAge[],
): Omit<DueDate, 'planned' | 'byClock'> {
  const { dataUntil } = fleet.site;
  const { position, line, criticality, outOfServiceSince: ends } = itemAt(fleet.positions, life.position);
  const { ageDays, ages, interval, limits } = standing(life, given, atAge, dataUntil);
  const first = limits.reduce<LimitAge | null>((a, b) => (a === null || b.age < a.age ? b : a), null);
  const nextAge = leastOf(interval.days, first?.age ?? null);
  const leavesBefore = ends !== null && nextAge !== null && dataUntil + nextAge - ages.middle >= ends;
  const dueAge = leavesBefore ? null : nextAge;
  const span = spanOf(interval);
  const soonest = limits.reduce((least, { low }) => Math.min(least, low), Infinity);
  const day = (age: number | null, at: number): Day | null =>
    age === null || age === Infinity ? null : dataUntil + Math.floor(age - at);
  const due = day(dueAge, ages.middle);
  const text = (value: Day | null): string | null => (value === null ? null : textFromDay(value));
  const before = due !== null && due > dataUntil ? due : nextWindowOf(fleet, line);
  return {
    position,
    line,
    criticality,
    group: group.name,
    fitted: text(life.fitted),
    ageDays,
    intervalDays: given.days,
    due: text(due),
    dueRange:
      dueAge === null
        ? null
        : [
            text(day(Math.min(span?.[0] ?? Infinity, soonest), ages.old)) as string,
            text(day(Math.max(dueAge, Math.min(span?.[1] ?? Infinity, soonest)), ages.young)) as string,
          ],
    dueFor: leavesBefore ? `out of service from ${textFromDay(ends)}` : dueWords(interval, first),
    overdueDays: due !== null && due < dataUntil ? dataUntil - due : 0,
    opportunityFrom: text(day(interval.opportunityDays, ages.middle)),
    leakBeforeDue: due === null || before === null ? null : leaks(holding, life, before - dataUntil),
    leakWithinYear: leaks(holding, life, YEAR_DAYS),
  };
}

/** Days in place, and the ages by which it is due. */
interface Standing {
  ageDays: number;
  ages: Ages;
  interval: Pick<IntervalAdvice, 'action' | 'days' | 'within2percent' | 'opportunityDays'>;
  limits: readonly LimitAge[];
}

/**
 * In days, but for an interval that is counted in use: then its own count, and the interval, in days of its own rate, with limits at the
 * ages at which they are as many days away.
 */
function standing(
  life: RunningLife,
  interval: IntervalAdvice,
  limits: readonly LimitAge[],
  today: Day,
): Standing {
  const inPlace = agesOf(calendarStand(life, today));
  const ageDays = inPlace.middle;
  if (!goesByUse(interval)) return { ageDays, ages: inPlace, interval, limits };
  const pace = life.pace ?? 1;
  const own = (days: number): number => days / pace;
  const { middle, old, young } = agesOf(life.ages);
  const ages = { middle: own(middle), old: own(old), young: own(young) };
  const further = ages.middle - ageDays;
  const { action, days, within2percent: span, opportunityDays } = interval;
  return {
    ageDays,
    ages,
    interval: {
      action,
      days: days === null ? null : own(days),
      within2percent: span === null ? null : [own(span[0]), own(span[1])],
      opportunityDays: opportunityDays === null ? null : own(opportunityDays),
    },
    limits: limits.map(({ age, low, high, text }) => ({
      age: age + further,
      low: low + further,
      high: high + further,
      text,
    })),
  };
}

/** First window of a line after the day of the data. */
function nextWindowOf({ site, shutdowns }: Fleet, line: string): Day | null {
  const days = shutdowns
    .filter(({ start, lines }) => start > site.dataUntil && (lines.length === 0 || lines.includes(line)))
    .map(({ start }) => start);
  return days.length === 0 ? null : Math.min(...days);
}

/** Ages that are as good as the interval; of a kept interval, which the records could not judge, no other than itself. */
function spanOf({ action, days, within2percent }: Standing['interval']): [number, number] | null {
  if (days === null) return null;
  return action === 'replace' && within2percent !== null ? within2percent : [days, days];
}

/** Chance of a leak within some days, over what is known of the age. */
function leaks(holding: Holding, { ages }: RunningLife, days: number): number {
  return 1 - ages.reduce((holds, { age, chance }) => holds + chance * holding.mean(age, days), 0);
}

interface Ages {
  middle: number;
  old: number;
  young: number;
}

/** Middle, oldest and youngest tenth of the ages that fit the records. */
function agesOf(ages: RunningLife['ages']): Ages {
  const sorted = [...ages].sort((a, b) => a.age - b.age);
  const below = (share: number): number => {
    let total = 0;
    for (const { age, chance } of sorted) {
      total += chance;
      if (total >= share - 1e-12) return age;
    }
    return sorted[sorted.length - 1]?.age ?? 0;
  };
  return { middle: below(0.5), old: below(0.9), young: below(0.1) };
}

/** Ages at which the limits of a group's material and size are reached at one position. */
function limitAges(
  limits: readonly Limit[],
  group: Group,
  { strokes, steamCycles }: PositionRates,
): LimitAge[] {
  return limitsOf(limits, group).flatMap(({ maxDays, maxStrokes, maxSteamCycles }) => {
    const byRate = (most: number | null, rate: typeof strokes, what: string): LimitAge[] => {
      const reached = most === null || rate === null ? null : ageAtCount(rate, most);
      return reached === null || most === null
        ? []
        : [{ ...reached, text: `maker’s limit of ${count(most, what)}` }];
    };
    const days: LimitAge[] =
      maxDays === null
        ? []
        : [{ age: maxDays, low: maxDays, high: maxDays, text: `maker’s limit of ${daysWords(maxDays)}` }];
    return [
      ...days,
      ...byRate(maxStrokes, strokes, 'stroke'),
      ...byRate(maxSteamCycles, steamCycles, 'steam cycle'),
    ];
  });
}

function dueWords({ days, action }: Standing['interval'], limit: LimitAge | null): string | null {
  if (limit !== null && limit.age < (days ?? Infinity)) return limit.text;
  if (days === null)
    return action === 'run' ? 'none: run until it leaks' : 'none: no interval is kept or can be named';
  return 'interval';
}

function leastOf(a: number | null, b: number | null): number | null {
  const least = Math.min(a ?? Infinity, b ?? Infinity);
  return least === Infinity ? null : least;
}

/** The first window at which each position is replaced. */
function firstTasks(tasks: readonly ShutdownTask[]): Map<string, NonNullable<DueDate['planned']>> {
  const first = new Map<string, NonNullable<DueDate['planned']>>();
  for (const { position, shutdown, start, fits } of tasks) {
    const known = first.get(position);
    if (fits && (known === undefined || start < known.start)) first.set(position, { shutdown, start });
  }
  return first;
}

/** Soonest first; without a date last; then by position. */
function byDue(a: DueDate, b: DueDate): number {
  const [dayA, dayB] = [a.due ?? '9', b.due ?? '9'];
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  return a.position < b.position ? -1 : 1;
}
