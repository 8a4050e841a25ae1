/** A checked series of temperatures, as columns. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';
import { requireTemperatures } from './arrhenius.js';
import type { CelsiusSpan } from './temperatureWarnings.js';

/** Temperatures over time. Hours never go back; where two are equal the temperature jumps. */
export interface TemperatureSeries {
  hours: ArrayLike<number>;
  temperatureCelsius: ArrayLike<number>;
  /** 'linear': straight lines between readings. 'steps': each reading holds until the next; the last ends the series. */
  between: 'linear' | 'steps';
}

/** Copied and checked. */
export interface TemperatureCourse {
  hours: Float64Array;
  celsius: Float64Array;
  linear: boolean;
}

/** Stretches of time in which the temperature goes along a straight line. */
export interface Stretches {
  hours: Float64Array;
  start: Float64Array;
  end: Float64Array;
}

export function temperatureCourse(
  where: string,
  { hours, temperatureCelsius, between }: TemperatureSeries,
): TemperatureCourse {
  if (between !== 'linear' && between !== 'steps') {
    throw new UsageError(where, "between must be 'linear' or 'steps'.", between);
  }
  if (hours.length !== temperatureCelsius.length || hours.length === 0) {
    const received = `${hours.length} and ${temperatureCelsius.length}`;
    throw new UsageError(
      where,
      'hours and temperatureCelsius must have the same length, one or more.',
      received,
    );
  }
  const course = {
    hours: Float64Array.from(hours),
    celsius: Float64Array.from(temperatureCelsius),
    linear: between === 'linear',
  };
  requireTemperatures(where, 'temperatureCelsius', course.celsius);
  for (let i = 0; i < course.hours.length; i++) {
    const hour = floatAt(course.hours, i);
    if (!Number.isFinite(hour)) throw new UsageError(where, `row ${i + 1}, hours must be finite.`, hour);
    if (i > 0 && hour < floatAt(course.hours, i - 1)) {
      throw new UsageError(where, `row ${i + 1}, hours must not go back: sort the series.`, hour);
    }
  }
  return course;
}

/** @throws UsageError where the two are out of order or outside of the series */
export function requireWithin(
  where: string,
  { hours }: TemperatureCourse,
  from: number,
  to: number,
  row?: number,
): void {
  const [first, last] = [floatAt(hours, 0), floatAt(hours, hours.length - 1)];
  if (from >= first && to <= last && from <= to) return;
  const place = row === undefined ? '' : `row ${row}: `;
  const rule = `${place}fromHours and toHours must be in order and within the series, ${first} to ${last}.`;
  throw new UsageError(where, rule, `${from} to ${to}`);
}

/** Temperature at an hour between readings i - 1 and i, coming from the left. */
export function celsiusAt({ hours, celsius, linear }: TemperatureCourse, i: number, hour: number): number {
  const [start, end] = [floatAt(hours, i - 1), floatAt(hours, i)];
  if (!linear || end === start) return floatAt(celsius, i - 1);
  const share = (hour - start) / (end - start);
  return (1 - share) * floatAt(celsius, i - 1) + share * floatAt(celsius, i);
}

/** The straight stretches between two hours within the series; one of no length where these are equal. */
export function stretchesOf(course: TemperatureCourse, fromHours: number, toHours: number): Stretches {
  const { hours } = course;
  const room = {
    hours: new Float64Array(hours.length),
    start: new Float64Array(hours.length),
    end: new Float64Array(hours.length),
  };
  let count = 0;
  for (let i = 1; i < hours.length; i++) {
    const from = Math.max(floatAt(hours, i - 1), fromHours);
    const to = Math.min(floatAt(hours, i), toHours);
    if (to <= from) continue;
    room.hours[count] = to - from;
    room.start[count] = celsiusAt(course, i, from);
    room.end[count] = celsiusAt(course, i, to);
    count += 1;
  }
  if (count === 0) {
    room.start[0] = floatAt(course.celsius, 0);
    room.end[0] = floatAt(course.celsius, 0);
    count = 1;
  }
  return {
    hours: room.hours.slice(0, count),
    start: room.start.slice(0, count),
    end: room.end.slice(0, count),
  };
}

export function celsiusSpan({ start, end }: Stretches): CelsiusSpan {
  let [lowest, highest] = [Infinity, -Infinity];
  for (let i = 0; i < start.length; i++) {
    lowest = Math.min(lowest, floatAt(start, i), floatAt(end, i));
    highest = Math.max(highest, floatAt(start, i), floatAt(end, i));
  }
  return { lowest, highest };
}
