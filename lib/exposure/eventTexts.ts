/** What counters did and why readings are set aside, in sentences, with what to do. */
import { textFromDay } from '../numeric/day.js';
import { amount } from '../numeric/words.js';
import type { NotedEvent } from './counterNotes.js';
import {
  type AsideReason,
  COUNTERS,
  type CounterEvent,
  type CounterEventCode,
  type CounterName,
} from './exposureTypes.js';

export const COUNTER_WORDS: Readonly<Record<CounterName, string>> = {
  strokes: 'strokes',
  steamCycles: 'steam cycles',
  hotCleans: 'hot cleans',
};

export function counterEvent(noted: NotedEvent, position: string): CounterEvent {
  const counter = COUNTERS[noted.counter] as CounterName;
  const { code } = noted;
  const before = { date: textFromDay(noted.dayBefore), value: noted.valueBefore };
  const after = { date: textFromDay(noted.dayAfter), value: noted.valueAfter };
  const { what, todo } = WORDS[code];
  const text = `${position}, ${COUNTER_WORDS[counter]}: ${what(said(before), said(after))}`;
  return { code, position, counter, before, after, text, todo };
}

interface Said {
  date: string;
  value: string;
}

function said({ date, value }: { date: string; value: number }): Said {
  return { date, value: amount(value, Number.isInteger(value) ? 12 : 4) };
}

interface Words {
  what: (before: Said, after: Said) => string;
  todo: string;
}

const fell = (a: Said, b: Said): string =>
  `the counter fell from ${a.value} (${a.date}) to ${b.value} (${b.date})`;

const WORDS: Readonly<Record<CounterEventCode, Words>> = {
  'rolled-over': {
    what: (a, b) => `${fell(a, b)}; it is taken to have passed its highest standing and gone on from zero.`,
    todo: 'Nothing, if the counter has that many digits; otherwise correct the reading.',
  },
  reset: {
    what: (a, b) =>
      `${fell(a, b)}; it is taken as set to zero in between. What it counted before that is bridged by the rate of the position.`,
    todo: 'Note the reading on the day a counter is set to zero.',
  },
  'reset-at-fitting': {
    what: (a, b) =>
      `${fell(a, b)}; it is taken as set to zero when the diaphragm was fitted in between. The days up to then are bridged by the rate of the position.`,
    todo: 'Note the reading of the counter when a diaphragm is replaced.',
  },
  replaced: {
    what: (a, b) =>
      `${fell(a, b)}, more than it can have counted from zero; it is taken as another counter, and the days in between are bridged by the rate of the position.`,
    todo: 'Correct the reading, or note the first and last reading when a counter is replaced.',
  },
  jumped: {
    what: (a, b) =>
      `the counter leapt from ${a.value} (${a.date}) to ${b.value} (${b.date}) and went on from there; it is taken as another counter, and the days in between are bridged by the rate of the position.`,
    todo: 'Correct the readings, or note the first and last reading when a counter is replaced.',
  },
  misread: {
    what: (a, b) =>
      `the reading of ${b.value} (${b.date}) does not fit those before (${a.value} on ${a.date}) and after; it is set aside.`,
    todo: 'Correct the reading.',
  },
  'zero-for-missing': {
    what: (a, b) =>
      `the reading of 0 (${b.date}) lies between others that go on from ${a.value} (${a.date}); it is taken as not read and set aside.`,
    todo: 'Leave the cell empty where a counter was not read.',
  },
  'two-values-on-a-day': {
    what: (a, b) => `two values on ${a.date}: ${a.value} is used, ${b.value} is set aside.`,
    todo: 'Keep one reading a day.',
  },
  'stood-still': {
    what: (a, b) =>
      `the counter stood at ${b.value} from ${a.date} to ${b.date} though it used to rise; it is taken not to have counted, and the time is bridged by the rate of the position.`,
    todo: 'Repair the counter; if the valve did not move, give the days under "idle" in positions.csv.',
  },
  'never-moved': {
    what: (a, b) =>
      `the counter stood at ${b.value} from ${a.date} to ${b.date} though positions.csv gives a duty; its readings are set aside and the duty is used.`,
    todo: 'Connect the counter, or correct the duty in positions.csv.',
  },
  'rose-while-idle': {
    what: (a, b) =>
      `the counter rose from ${a.value} (${a.date}) to ${b.value} (${b.date}) while the position is given as idle or out of service; the rise is spread evenly over those days.`,
    todo: 'Correct the idle days or the end of service in positions.csv.',
  },
  'rate-unlike-duty': {
    what: (a, b) =>
      `from ${a.date} to ${b.date} the readings give ${a.value} a day and positions.csv ${b.value}; the readings are used.`,
    todo: 'Correct the duty in positions.csv (per day for strokes, per week for cycles), or find out what the counter counts.',
  },
};

/** Why readings are set aside, by code. */
export const ASIDE_WORDS: Readonly<Record<AsideReason, { text: string; todo: string }>> = {
  empty: { text: 'The row has no reading of any counter.', todo: 'Fill it in or take the row out.' },
  'not-a-count': { text: 'The reading is below zero or has no end.', todo: 'Correct the reading.' },
  'after-data': {
    text: 'The reading is from after the day of the data.',
    todo: 'Correct the date, or data_until in site.json.',
  },
  'no-life': {
    text: 'The position has no diaphragm with a known day of fitting.',
    todo: 'Give the position its lives, or nothing if it is not of interest.',
  },
  'twice-on-a-day': { text: 'There is another reading on the same day.', todo: 'Keep one reading a day.' },
  misread: { text: 'The reading fits neither those before nor those after.', todo: 'Correct the reading.' },
  'zero-for-missing': {
    text: 'The reading is 0 between others that go on as if it were not there.',
    todo: 'Leave the cell empty where a counter was not read.',
  },
  'never-moved': {
    text: 'The counter never moved though positions.csv gives a duty.',
    todo: 'Connect the counter, or correct the duty in positions.csv.',
  },
};
