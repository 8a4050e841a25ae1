/** A course of temperatures as hours at one reference temperature that age a diaphragm as much. */
import { UsageError } from '../errors.js';
import type { Warning } from '../findings.js';
import { floatAt } from '../numeric/columns.js';
import type { ActivationEnergy } from './activationEnergy.js';
import { requireFactor, requireTemperature, requireTemperatures } from './arrhenius.js';
import { meanFactor } from './temperatureDose.js';
import { type CelsiusSpan, supportedSpan, supportWarnings, unitWarnings } from './temperatureWarnings.js';

/** Temperatures over time. Hours never go back; where two are equal the temperature jumps. */
export interface TemperatureSeries {
  hours: ArrayLike<number>;
  temperatureCelsius: ArrayLike<number>;
  /** 'linear': straight lines between readings. 'steps': each reading holds until the next; the last ends the series. */
  between: 'linear' | 'steps';
}

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
 * hold the hours where temperatures on both sides of the reference outweigh each other.
 * @throws UsageError for columns of different or no length, hours that go back or are not finite, temperatures at or below absolute zero,
 * ends outside the series or out of order
 */
export function equivalentHours(series: TemperatureSeries, options: EquivalentHoursOptions): EquivalentHours {
  const { referenceCelsius, activationEnergy: energy } = options;
  requireTemperature(WHERE, 'referenceCelsius', referenceCelsius);
  const stretches = stretchesOf(checked(series), options);
  const support = supportedSpan(energy);
  const pieces = support === null ? stretches : stretches.flatMap((each) => cutAt(each, support));
  const doseOf = (some: readonly Stretch[], kJPerMol: number): number =>
    dose(some, referenceCelsius, kJPerMol);
  const hours = doseOf(pieces, energy.kJPerMol);
  const ends = [doseOf(stretches, energy.low), doseOf(stretches, energy.high)] as const;
  const beyond = support === null ? [] : pieces.filter((each) => isBeyond(each, support));
  const shareBeyondData = hours === 0 ? 0 : Math.min(1, doseOf(beyond, energy.kJPerMol) / hours);
  const span = spanOf(stretches);
  return {
    hours,
    low: Math.min(...ends),
    high: Math.max(...ends),
    plainHours: stretches.reduce((total, each) => total + each.hours, 0),
    referenceCelsius,
    activationEnergy: { ...energy },
    lowestCelsius: span.lowest,
    highestCelsius: span.highest,
    shareBeyondData,
    warnings: [...unitWarnings(span), ...supportWarnings(energy, span, referenceCelsius, shareBeyondData)],
  };
}

/** A length of time in which the temperature goes along a straight line. */
interface Stretch {
  hours: number;
  start: number;
  end: number;
}

interface Course {
  hours: Float64Array;
  celsius: Float64Array;
  linear: boolean;
}

function checked({ hours, temperatureCelsius, between }: TemperatureSeries): Course {
  if (between !== 'linear' && between !== 'steps') {
    throw new UsageError(WHERE, "between must be 'linear' or 'steps'.", between);
  }
  if (hours.length !== temperatureCelsius.length || hours.length === 0) {
    const received = `${hours.length} and ${temperatureCelsius.length}`;
    throw new UsageError(
      WHERE,
      'hours and temperatureCelsius must have the same length, one or more.',
      received,
    );
  }
  const course = {
    hours: Float64Array.from(hours),
    celsius: Float64Array.from(temperatureCelsius),
    linear: between === 'linear',
  };
  requireTemperatures(WHERE, 'temperatureCelsius', course.celsius);
  for (let i = 0; i < course.hours.length; i++) {
    const hour = floatAt(course.hours, i);
    if (!Number.isFinite(hour)) throw new UsageError(WHERE, `row ${i + 1}, hours must be finite.`, hour);
    if (i > 0 && hour < floatAt(course.hours, i - 1)) {
      throw new UsageError(WHERE, `row ${i + 1}, hours must not go back: sort the series.`, hour);
    }
  }
  return course;
}

/** The straight stretches between the two ends, cut there. */
function stretchesOf({ hours, celsius, linear }: Course, options: EquivalentHoursOptions): Stretch[] {
  const [first, last] = [floatAt(hours, 0), floatAt(hours, hours.length - 1)];
  const { fromHours = first, toHours = last } = options;
  if (!(fromHours >= first && toHours <= last && fromHours <= toHours)) {
    const rule = `fromHours and toHours must be in order and within the series, ${first} to ${last}.`;
    throw new UsageError(WHERE, rule, `${fromHours} to ${toHours}`);
  }
  const stretches: Stretch[] = [];
  for (let i = 1; i < hours.length; i++) {
    const [start, end] = [floatAt(hours, i - 1), floatAt(hours, i)];
    const [from, to] = [Math.max(start, fromHours), Math.min(end, toHours)];
    if (to <= from) continue;
    const before = floatAt(celsius, i - 1);
    const after = linear ? floatAt(celsius, i) : before;
    const there = (hour: number): number => {
      const share = (hour - start) / (end - start);
      return (1 - share) * before + share * after;
    };
    stretches.push({ hours: to - from, start: there(from), end: there(to) });
  }
  // Of no length: the temperature at that moment, so that there is a coldest and a hottest.
  if (stretches.length === 0)
    stretches.push({ hours: 0, start: floatAt(celsius, 0), end: floatAt(celsius, 0) });
  return stretches;
}

function dose(stretches: readonly Stretch[], referenceCelsius: number, kJPerMol: number): number {
  let total = 0;
  for (const { hours, start, end } of stretches) {
    if (hours > 0) total += hours * meanFactor(start, end, referenceCelsius, kJPerMol);
  }
  return requireFactor(WHERE, total);
}

function spanOf(stretches: readonly Stretch[]): CelsiusSpan {
  let [lowest, highest] = [Infinity, -Infinity];
  for (const { start, end } of stretches) {
    lowest = Math.min(lowest, start, end);
    highest = Math.max(highest, start, end);
  }
  return { lowest, highest };
}

/** A stretch cut where its temperature crosses an end of the span. */
function cutAt(stretch: Stretch, { lowest, highest }: CelsiusSpan): Stretch[] {
  const { hours, start, end } = stretch;
  const crossings = [lowest, highest].filter((limit) => (limit - start) * (limit - end) < 0);
  if (crossings.length === 0) return [stretch];
  const stops = [start, ...(start < end ? crossings : crossings.reverse()), end];
  return stops.slice(1).map((celsius, k) => {
    const before = stops[k] as number;
    return { hours: (hours * (celsius - before)) / (end - start), start: before, end: celsius };
  });
}

function isBeyond({ start, end }: Stretch, { lowest, highest }: CelsiusSpan): boolean {
  const middle = 0.5 * (start + end);
  return middle < lowest || middle > highest;
}
