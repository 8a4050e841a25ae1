/** A time axis in days from a start, named by months. */
import { type Day, dayFromText, textFromDay } from '../numeric/day.js';
import { monthWords } from './words.js';

/** Fewest px between two names of months. */
const NAME_ROOM = 34;

/** First days of months within [0, span] of a start, every 1, 2, 3, 6 or 12 months so that their names keep apart. */
export function monthStarts(from: string, span: number, width: number): { day: number; month: string }[] {
  const start = dayFromText(from) ?? 0;
  const months = monthsWithin(start, span);
  const step = [1, 2, 3, 6, 12].find((each) => width / Math.max(1, months.length / each) >= NAME_ROOM) ?? 12;
  return months.filter(({ month }) => (Number(month.slice(5, 7)) - 1) % step === 0);
}

function monthsWithin(start: Day, span: number): { day: number; month: string }[] {
  const found: { day: number; month: string }[] = [];
  const first = textFromDay(start).slice(0, 7);
  let [year, month] = [Number(first.slice(0, 4)), Number(first.slice(5, 7))];
  for (;;) {
    const name = `${year}-${String(month).padStart(2, '0')}`;
    const day = (dayFromText(`${name}-01`) ?? start) - start;
    if (day > span) return found;
    if (day >= 0) found.push({ day, month: name });
    [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
  }
}

/** The axis itself: the year under January and under the first name. */
export function dateAxis(from: string, span: number, width: number): Record<string, unknown> {
  const starts = monthStarts(from, span, width);
  const names = Object.fromEntries(
    starts.map(({ day, month }, i) => {
      const { name, year } = monthWords(month);
      return [day, name === 'Jan' || i === 0 ? [name, year] : [name]];
    }),
  );
  return {
    values: starts.map(({ day }) => day),
    labelExpr: `${JSON.stringify(names)}[datum.value]`,
    labelFlush: false,
    grid: false,
  };
}

/** Above so many days years alone are named. */
const MONTHS_NAMED = 1100;

/** A time axis of any length: months as in `dateAxis`, or the first days of years, every 1, 2, 5 or more so that they keep apart. */
export function calendarAxis(from: string, span: number, width: number): Record<string, unknown> {
  if (span <= MONTHS_NAMED) return dateAxis(from, span, width);
  const start = dayFromText(from) ?? 0;
  const years = Array.from({ length: Math.ceil(span / 365) + 2 }, (_, i) => Number(from.slice(0, 4)) + i)
    .map((year) => ({ year, day: (dayFromText(`${year}-01-01`) ?? start) - start }))
    .filter(({ day }) => day >= 0 && day <= span);
  const step = [1, 2, 5, 10, 20].find((each) => (width * each * 365) / span >= NAME_ROOM) ?? 50;
  const named = years.filter(({ year }) => year % step === 0);
  const names = Object.fromEntries(named.map(({ day, year }) => [day, String(year)]));
  return {
    values: named.map(({ day }) => day),
    labelExpr: `${JSON.stringify(names)}[datum.value]`,
    labelFlush: false,
    grid: false,
  };
}
