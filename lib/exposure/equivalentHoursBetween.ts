/** One course of temperatures for many lives: equivalent hours between two hours for each. */
import { UsageError } from '../errors.js';
import type { Warning } from '../findings.js';
import { columnOf, floatAt } from '../numeric/columns.js';
import { countUpTo } from '../numeric/sorted.js';
import type { ActivationEnergy } from './activationEnergy.js';
import { requireFactor, requireTemperature } from './arrhenius.js';
import { shareBeyond } from './equivalentHours.js';
import {
  celsiusAt,
  celsiusSpan,
  requireWithin,
  stretchesOf,
  type TemperatureCourse,
  type TemperatureSeries,
  temperatureCourse,
} from './temperatureCourse.js';
import { meanFactor } from './temperatureDose.js';
import { supportWarnings, unitWarnings } from './temperatureWarnings.js';

/** A row each; NaN where an end is not known. */
export interface HourSpans {
  fromHours: ArrayLike<number>;
  toHours: ArrayLike<number>;
}

/** A row for each span; NaN where an end is not known. */
export interface EquivalentHourColumns {
  /** Hours at the reference that age as much. */
  hours: Float64Array;
  /** The same with each end of the range of the activation energy, the smaller first. */
  low: Float64Array;
  high: Float64Array;
  /** Hours by the clock. */
  plainHours: Float64Array;
  /** Of the whole course. */
  warnings: Warning[];
}

const WHERE = 'equivalentHoursBetween';

/**
 * As `equivalentHours` for each span, from sums along the course: a year of minutes and 100 000 lives take about a second. Digits are
 * those of the whole sum: a short span late in a long course is right to 1e-15 of all that went before.
 * @throws UsageError as `equivalentHours`, naming the row of the span
 */
export function equivalentHoursBetween(
  series: TemperatureSeries,
  { fromHours, toHours }: HourSpans,
  {
    referenceCelsius,
    activationEnergy: energy,
  }: { referenceCelsius: number; activationEnergy: ActivationEnergy },
): EquivalentHourColumns {
  requireTemperature(WHERE, 'referenceCelsius', referenceCelsius);
  const course = temperatureCourse(WHERE, series);
  const [from, to] = [Float64Array.from(fromHours), Float64Array.from(toHours)];
  if (from.length !== to.length) {
    throw new UsageError(
      WHERE,
      'fromHours and toHours must have the same length.',
      `${from.length}, ${to.length}`,
    );
  }
  for (let i = 0; i < from.length; i++) {
    const [a, b] = [floatAt(from, i), floatAt(to, i)];
    if (!Number.isNaN(a) && !Number.isNaN(b)) requireWithin(WHERE, course, a, b, i + 1);
  }
  const doses = (kJ: number): Doses => dosesOf(course, from, to, referenceCelsius, kJ);
  const { each: hours, whole } = doses(energy.kJPerMol);
  const [one, other] = [doses(energy.low).each, doses(energy.high).each];
  return {
    hours,
    low: columnOf(one, (x, i) => Math.min(x, floatAt(other, i))),
    high: columnOf(one, (x, i) => Math.max(x, floatAt(other, i))),
    plainHours: columnOf(from, (a, i) => floatAt(to, i) - a),
    warnings: warningsOf(course, referenceCelsius, energy, whole),
  };
}

interface Doses {
  /** Of each span. */
  each: Float64Array;
  /** Of the whole course. */
  whole: number;
}

function dosesOf(
  course: TemperatureCourse,
  from: Float64Array,
  to: Float64Array,
  referenceCelsius: number,
  kJPerMol: number,
): Doses {
  const { hours } = course;
  const upTo = new Float64Array(hours.length);
  /** Dose from reading i - 1 to an hour before reading i. */
  const partOf = (i: number, hour: number): number => {
    const length = hour - floatAt(hours, i - 1);
    if (length <= 0) return 0;
    return (
      length *
      meanFactor(floatAt(course.celsius, i - 1), celsiusAt(course, i, hour), referenceCelsius, kJPerMol)
    );
  };
  for (let i = 1; i < hours.length; i++) upTo[i] = floatAt(upTo, i - 1) + partOf(i, floatAt(hours, i));
  const whole = requireFactor(WHERE, floatAt(upTo, hours.length - 1));
  const doseAt = (hour: number): number => {
    const i = countUpTo(hours, hour);
    return i >= hours.length ? whole : floatAt(upTo, i - 1) + partOf(i, hour);
  };
  const each = columnOf(from, (a, i) => {
    const b = floatAt(to, i);
    return Number.isNaN(a) || Number.isNaN(b) ? Number.NaN : Math.max(0, doseAt(b) - doseAt(a));
  });
  return { each, whole };
}

function warningsOf(
  course: TemperatureCourse,
  referenceCelsius: number,
  energy: ActivationEnergy,
  dose: number,
): Warning[] {
  const { hours } = course;
  const whole = stretchesOf(course, floatAt(hours, 0), floatAt(hours, hours.length - 1));
  const span = celsiusSpan(whole);
  const share = shareBeyond(whole, span, energy, referenceCelsius, dose);
  return [...unitWarnings(span), ...supportWarnings(energy, span, referenceCelsius, share)];
}
