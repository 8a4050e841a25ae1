/** A course of temperatures as hours at one reference temperature that age a diaphragm as much. */
import type { Warning } from '../findings.js';
import { floatAt, sum } from '../numeric/columns.js';
import type { ActivationEnergy } from './activationEnergy.js';
import { requireFactor, requireTemperature } from './arrhenius.js';
import {
  celsiusSpan,
  requireWithin,
  type Stretches,
  stretchesOf,
  type TemperatureSeries,
  temperatureCourse,
} from './temperatureCourse.js';
import { meanFactor } from './temperatureDose.js';
import { type CelsiusSpan, supportedSpan, supportWarnings, unitWarnings } from './temperatureWarnings.js';

export interface EquivalentHoursOptions {
  referenceCelsius: number;
  activationEnergy: ActivationEnergy;
  /** Hours of the series to begin and end at; its first and last by default. */
  fromHours?: number;
  toHours?: number;
}

export interface EquivalentHours {
  /** Hours at the reference that age as much. */
  hours: number;
  /** The same with each end of the range of the activation energy, the smaller first. */
  low: number;
  high: number;
  /** Hours by the clock. */
  plainHours: number;
  referenceCelsius: number;
  activationEnergy: ActivationEnergy;
  /** Coldest and hottest between the two ends, degrees C. */
  lowestCelsius: number;
  highestCelsius: number;
  /** Share of `hours` from temperatures more than 25 degrees C beyond the data of the activation energy; 0 where those are not known. */
  shareBeyondData: number;
  warnings: Warning[];
}

const WHERE = 'equivalentHours';

/**
 * Integral of the Arrhenius factor over a course of temperatures, each straight stretch to the last digits (Gauss-Legendre on
 * pieces in which the factor changes by at most e). With activation energy 0 it is the plain hours. Low and high need not
 * hold the hours where temperatures on both sides of the reference outweigh each other. For many lives under one course see
 * `equivalentHoursBetween`.
 * @throws UsageError for columns of different or no length, hours that go back or are not finite, temperatures at or below absolute zero,
 * ends outside the series or out of order
 */
export function equivalentHours(series: TemperatureSeries, options: EquivalentHoursOptions): EquivalentHours {
  const { referenceCelsius, activationEnergy: energy } = options;
  requireTemperature(WHERE, 'referenceCelsius', referenceCelsius);
  const course = temperatureCourse(WHERE, series);
  const { fromHours = floatAt(course.hours, 0), toHours = floatAt(course.hours, course.hours.length - 1) } =
    options;
  requireWithin(WHERE, course, fromHours, toHours);
  const stretches = stretchesOf(course, fromHours, toHours);
  const doseOf = (kJPerMol: number): number => dose(stretches, referenceCelsius, kJPerMol);
  const hours = doseOf(energy.kJPerMol);
  const ends = [doseOf(energy.low), doseOf(energy.high)] as const;
  const span = celsiusSpan(stretches);
  const shareBeyondData = shareBeyond(stretches, span, energy, referenceCelsius, hours);
  return {
    hours,
    low: Math.min(...ends),
    high: Math.max(...ends),
    plainHours: sum(stretches.hours),
    referenceCelsius,
    activationEnergy: { ...energy },
    lowestCelsius: span.lowest,
    highestCelsius: span.highest,
    shareBeyondData,
    warnings: [...unitWarnings(span), ...supportWarnings(energy, span, referenceCelsius, shareBeyondData)],
  };
}

function dose({ hours, start, end }: Stretches, referenceCelsius: number, kJPerMol: number): number {
  let total = 0;
  for (let i = 0; i < hours.length; i++) {
    const length = floatAt(hours, i);
    if (length > 0)
      total += length * meanFactor(floatAt(start, i), floatAt(end, i), referenceCelsius, kJPerMol);
  }
  return requireFactor(WHERE, total);
}

/** Share of a dose from temperatures outside of the span that the activation energy supports. */
export function shareBeyond(
  { hours, start, end }: Stretches,
  { lowest, highest }: CelsiusSpan,
  energy: ActivationEnergy,
  referenceCelsius: number,
  dose: number,
): number {
  const support = supportedSpan(energy);
  if (support === null || dose === 0 || (lowest >= support.lowest && highest <= support.highest)) return 0;
  let beyond = 0;
  for (let i = 0; i < hours.length; i++) {
    const [from, to, length] = [floatAt(start, i), floatAt(end, i), floatAt(hours, i)];
    const [cold, hot] = from < to ? [from, to] : [to, from];
    for (const [a, b] of [
      [cold, Math.min(hot, support.lowest)],
      [Math.max(cold, support.highest), hot],
    ] as const) {
      const outside = a < support.lowest || b > support.highest;
      if (length === 0 || b < a || !outside) continue;
      const share = hot === cold ? 1 : (b - a) / (hot - cold);
      beyond += length * share * meanFactor(a, b, referenceCelsius, energy.kJPerMol);
    }
  }
  return Math.min(1, beyond / dose);
}
