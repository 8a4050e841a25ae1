/** The day of the extract: as given, or the latest day in the history, said as an assumption. */
import { InputError, UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import { type Day, dayFromText, textFromDay } from '../numeric/day.js';
import { localDay } from '../numeric/localWords.js';
import { count } from '../numeric/words.js';
import { SITE_FILE } from './columnNames.js';
import { type DraftLives, KEPT } from './draftLives.js';
import type { OrderTable } from './workOrders/types.js';

/** At most this share of the days may be slips, and so many days lie between them and the others. */
const SLIP_SHARE = 0.01;
const GAP_DAYS = 731;
/** Among fewer than a hundred days one may be a slip, where there are so many, and none of the others lies a third as far from the next. */
const FEWEST_DAYS = 6;
const FAR_FACTOR = 3;

/** What the history is read from, before it is checked. */
export interface DatedHistory {
  draft: DraftLives;
  orders: OrderTable | null;
  /** The tables in words. */
  tables: string;
}

export interface DataDay {
  dataUntil: Day;
  /** What was assumed, or null where the day is given. */
  assumed: string | null;
}

/**
 * @param given the day in site.json
 * @param option the day a caller names, YYYY-MM-DD, for a folder that does not say
 * @throws InputError where no day is given and none is in the history, or records begin later
 */
export function dataDay(
  history: DatedHistory,
  given: Day | null,
  option: string | undefined,
  recordsFrom: Day | null,
): DataDay {
  const named = given ?? optionDay(option);
  const latest = named === null ? latestDay(history) : null;
  const day = named ?? latest?.day ?? null;
  if (day === null) {
    throw new InputError(
      `There is no day of the extract, and no date in ${history.tables} to take it from.`,
      { file: SITE_FILE, column: 'data_until' },
      'Give data_until in site.json.',
    );
  }
  if (recordsFrom !== null && recordsFrom > day) {
    throw new InputError(
      `The records begin after the day of the extract (${localDay(day)}).`,
      { file: SITE_FILE, column: 'records_from', value: textFromDay(recordsFrom) },
      'Correct records_from, or give data_until.',
    );
  }
  return { dataUntil: day, assumed: latest === null ? null : assumedWords(latest, history.tables) };
}

function optionDay(option: string | undefined): Day | null {
  if (option === undefined) return null;
  const day = dayFromText(option);
  if (day === null)
    throw new UsageError('readFleet', 'dataUntil must be a date that exists, YYYY-MM-DD.', option);
  return day;
}

/** The latest day in the history, and the days after it that are taken for slips. */
interface Latest {
  day: Day;
  slips: number;
  last: Day;
}

/**
 * A few days in the far future (a year typed wrongly) do not make the day of the extract: where at most one in a hundred
 * days come after a gap of two years, the last day before the gap is taken. Among fewer days one alone may be so, where its gap stands
 * out from all others.
 */
function latestDay({ draft, orders }: DatedHistory): Latest | null {
  const days = daysOf(draft, orders);
  const last = days[days.length - 1];
  if (last === undefined) return null;
  const most = Math.floor(SLIP_SHARE * days.length);
  const first = days.length - (most === 0 && isFarOff(days) ? 1 : most);
  for (let i = first; i < days.length; i++) {
    const before = floatAt(days, i - 1);
    if (floatAt(days, i) - before > GAP_DAYS) return { day: before, slips: days.length - i, last };
  }
  return { day: last, slips: 0, last };
}

/** Whether the last day lies much farther from the others than they do from each other. */
function isFarOff(days: Float64Array): boolean {
  if (days.length < FEWEST_DAYS) return false;
  let widest = 0;
  for (let i = 1; i < days.length - 1; i++)
    widest = Math.max(widest, floatAt(days, i) - floatAt(days, i - 1));
  return floatAt(days, days.length - 1) - floatAt(days, days.length - 2) > FAR_FACTOR * widest;
}

/** Every day that the history names, in order. */
function daysOf(draft: DraftLives, orders: OrderTable | null): Float64Array {
  const days: Day[] = [];
  for (let i = 0; i < draft.length; i++) {
    if (at(draft.state, i) !== KEPT) continue;
    for (const column of [draft.fitted, draft.removed, draft.lastTight, draft.recorded]) {
      const day = floatAt(column, i);
      if (Number.isFinite(day)) days.push(day);
    }
  }
  const ordered = orders === null ? [] : orders.day.subarray(0, orders.length);
  for (const day of ordered) if (Number.isFinite(day)) days.push(day);
  return Float64Array.from(days).sort();
}

function assumedWords({ day, slips, last }: Latest, tables: string): string {
  const later =
    slips === 0
      ? ''
      : ` ${count(slips, 'later day')} (up to ${localDay(last)}) ${slips === 1 ? 'comes' : 'come'} more than two years after all others and ${slips === 1 ? 'is taken for a slip' : 'are taken for slips'}: give data_until if not.`;
  return `No data_until: the extract is taken to be of ${localDay(day)}, the latest day in ${tables}.${later} If it was made later, diaphragms in place look younger than they are.`;
}
