/** What a mended counter stood at on a day, how well that is known, and what lies between two such days. */
import { at, floatAt } from '../numeric/columns.js';
import { BROKEN, BY_DUTY, type CounterRates, type CounterTrail, hasStep, READ } from './counterTrail.js';
import {
  ASSUMED,
  BRIDGED,
  EXTRAPOLATED,
  type ExposureLimits,
  INTERPOLATED,
  MEASURED,
  UNKNOWN,
} from './exposureTypes.js';
import { type UseCalendar, useDay } from './useDays.js';

/** Everything that answers questions about one counter of one position. */
export interface CounterView {
  trail: CounterTrail;
  rates: CounterRates;
  calendar: UseCalendar | null;
  limits: ExposureLimits;
  /** Day at which a counter without readings is taken to begin. */
  origin: number;
  /** Where the last question was answered: the next is most often near. */
  hint: number;
}

/** The counter on one day. Room that is used again. */
export interface CounterMoment {
  total: number;
  byRate: number;
  mark: number;
  /** First step after this day where a span begins here, and last step before it where one ends here; steps cut off within
   * `nearDays` of a reading are left out. */
  firstStep: number;
  lastStep: number;
}

export function counterMoment(): CounterMoment {
  return { total: 0, byRate: 0, mark: UNKNOWN, firstStep: 1, lastStep: 0 };
}

/** Answers into `moment`. */
export function counterAt(view: CounterView, day: number, moment: CounterMoment): void {
  const { trail } = view;
  if (trail.length === 0) withoutReadings(view, day, moment);
  else {
    const k = knotBefore(view, day);
    if (k < 0) beforeFirst(view, day, moment);
    else if (k === trail.length - 1) afterLast(view, day, moment);
    else between(view, k, day, moment);
  }
}

/** The last knot on or before a day, -1 where there is none; goes on from the place of the last question. */
function knotBefore(view: CounterView, day: number): number {
  const { day: days, length } = view.trail;
  let k = view.hint;
  if (k >= length || floatAt(days, k) > day) {
    let high = Math.min(k, length);
    let low = 0;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (floatAt(days, middle) <= day) low = middle + 1;
      else high = middle;
    }
    k = low - 1;
  } else {
    while (k + 1 < length && floatAt(days, k + 1) <= day) k += 1;
  }
  view.hint = Math.max(k, 0);
  return k;
}

function withoutReadings({ rates, calendar, origin }: CounterView, day: number, moment: CounterMoment): void {
  const known = rates.duty !== null;
  moment.total = known
    ? (rates.duty as number) * (useDay(calendar, day) - useDay(calendar, origin))
    : Number.NaN;
  moment.byRate = moment.total;
  moment.mark = known ? ASSUMED : UNKNOWN;
  moment.firstStep = 1;
  moment.lastStep = 0;
}

function beforeFirst(view: CounterView, day: number, moment: CounterMoment): void {
  const { trail, calendar } = view;
  const inUse = floatAt(trail.use, 0) - useDay(calendar, day);
  moment.mark = markBeyond(view, inUse, floatAt(trail.day, 0) - day);
  const counts = countsBeyond(view, inUse, moment.mark);
  moment.total = floatAt(trail.total, 0) - counts;
  moment.byRate = floatAt(trail.byRate, 0) - counts;
  moment.firstStep = 1;
  moment.lastStep = 0;
}

function afterLast(view: CounterView, day: number, moment: CounterMoment): void {
  const { trail, calendar } = view;
  const last = trail.length - 1;
  const inUse = useDay(calendar, day) - floatAt(trail.use, last);
  moment.mark = markBeyond(view, inUse, day - floatAt(trail.day, last));
  const counts = countsBeyond(view, inUse, moment.mark);
  moment.total = floatAt(trail.total, last) + counts;
  moment.byRate = floatAt(trail.byRate, last) + counts;
  moment.firstStep = trail.length;
  moment.lastStep = last;
}

/** How far the own rate may go: never longer than it was measured over. */
function ownReach({ rates, limits }: CounterView): number {
  return rates.own === null ? 0 : Math.min(limits.longestExtrapolationDays, rates.ownDays);
}

function markBeyond(view: CounterView, inUse: number, days: number): number {
  const { rates, limits } = view;
  if (days <= limits.nearDays) return MEASURED;
  if (rates.own !== null && inUse <= ownReach(view)) return EXTRAPOLATED;
  return rates.duty === null ? UNKNOWN : ASSUMED;
}

/** Counts over days in use beyond the readings: by the own rate as far as it goes, then by duty. */
function countsBeyond(view: CounterView, inUse: number, mark: number): number {
  const { own, duty } = view.rates;
  if (mark === UNKNOWN) return Number.NaN;
  const byOwn = own === null ? 0 : Math.min(inUse, Math.max(ownReach(view), duty === null ? inUse : 0));
  return (own ?? 0) * byOwn + (inUse - byOwn) * (duty ?? 0);
}

function between(view: CounterView, k: number, day: number, moment: CounterMoment): void {
  const { trail, limits } = view;
  const step = k + 1;
  const toLeft = day - floatAt(trail.day, k);
  const toRight = floatAt(trail.day, step) - day;
  const near = Math.min(toLeft, toRight) <= limits.nearDays;
  moment.firstStep = toRight <= limits.nearDays ? step + 1 : step;
  moment.lastStep = toLeft <= limits.nearDays ? k : step;
  if (at(trail.how, step) === BROKEN) {
    const side = toLeft <= toRight ? k : step;
    moment.total = near ? floatAt(trail.total, side) : Number.NaN;
    moment.byRate = near ? floatAt(trail.byRate, side) : Number.NaN;
    moment.mark = near ? MEASURED : UNKNOWN;
    moment.firstStep = side === step ? step + 1 : step;
    moment.lastStep = side === step ? step : k;
    return;
  }
  const share = shareOf(view, k, day);
  moment.total = floatAt(trail.total, k) + share * floatAt(trail.rise, step);
  moment.byRate = floatAt(trail.byRate, k) + share * (floatAt(trail.byRate, step) - floatAt(trail.byRate, k));
  moment.mark = near ? MEASURED : markWithin(at(trail.how, step), toLeft + toRight, limits);
}

/** How much of a step is over on a day: by days in use, by the calendar where there are none. */
function shareOf({ trail, calendar }: CounterView, k: number, day: number): number {
  const inUse = floatAt(trail.use, k + 1) - floatAt(trail.use, k);
  if (inUse > 0) return (useDay(calendar, day) - floatAt(trail.use, k)) / inUse;
  return (day - floatAt(trail.day, k)) / (floatAt(trail.day, k + 1) - floatAt(trail.day, k));
}

function markWithin(how: number, days: number, limits: ExposureLimits): number {
  if (how === READ) return days <= limits.longestInterpolationDays ? INTERPOLATED : BRIDGED;
  return how === BY_DUTY ? ASSUMED : BRIDGED;
}

/** The worst of both ends and of every step between them. */
export function markBetween({ trail }: CounterView, start: CounterMoment, end: CounterMoment): number {
  const worst = Math.max(start.mark, end.mark);
  const [first, last] = [start.firstStep, end.lastStep];
  if (last < first || worst === UNKNOWN) return worst;
  if (hasStep(trail.breaks, first, last)) return UNKNOWN;
  if (hasStep(trail.duties, first, last)) return Math.max(worst, ASSUMED);
  return hasStep(trail.rates, first, last) ? Math.max(worst, BRIDGED) : worst;
}
