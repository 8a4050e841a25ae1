/** Heat of each life as hours at one reference temperature that age it as much. */
import { byteAt, columnOf, floatAt, wholeAt } from '../../numeric/columns.js';
import { logFactor } from '../arrhenius.js';
import { MEASURED, UNKNOWN } from '../exposureTypes.js';
import { type DailyRate, type PositionRates, scaledRate } from '../rates.js';
import type { LifeAmount, PartHours } from './heatHours.js';
import type { HeatPart } from './heatParts.js';

/** Nothing is known of any life. */
export function noDose(length: number): LifeAmount {
  const none = new Float64Array(length).fill(Number.NaN);
  return {
    exposure: none,
    byRate: none,
    toEntry: none,
    toLastTight: none,
    mark: new Uint8Array(length).fill(UNKNOWN),
  };
}

/**
 * Hours of every part times its Arrhenius factor, added up: equivalent hours at the reference temperature. NaN where the hours of a part
 * are not known, or the energy of the life. How well a dose is known is told by the worst of its counts.
 * Preconditions: temperatures above absolute zero, energies above 0; `kJPerMol` by life, NaN where not known.
 */
export function heatDose(
  position: Int32Array,
  hours: readonly PartHours[],
  kJPerMol: Float64Array,
  referenceCelsius: number,
): LifeAmount {
  const dose = sums(kJPerMol.length);
  for (const own of hours) addPart(dose, position, own, kJPerMol, referenceCelsius);
  kJPerMol.forEach((energy, life) => {
    if (hours.length > 0 && !Number.isNaN(energy + floatAt(dose.exposure, life))) return;
    for (const name of AMOUNTS) dose[name][life] = Number.NaN;
    dose.mark[life] = UNKNOWN;
  });
  return dose;
}

const AMOUNTS = ['exposure', 'byRate', 'toEntry', 'toLastTight'] as const;

function sums(length: number): LifeAmount {
  const real = (): Float64Array => new Float64Array(length);
  const mark = new Uint8Array(length).fill(MEASURED);
  return { exposure: real(), byRate: real(), toEntry: real(), toLastTight: real(), mark };
}

function addPart(
  dose: LifeAmount,
  position: Int32Array,
  own: PartHours,
  kJPerMol: Float64Array,
  referenceCelsius: number,
): void {
  // Hours of 0 need no temperature.
  const factors = columnOf(own.exposure, (plain, life) =>
    plain === 0 ? 0 : factorAt(own.part, wholeAt(position, life), floatAt(kJPerMol, life), referenceCelsius),
  );
  for (const name of AMOUNTS) {
    const [total, hours] = [dose[name], own[name]];
    for (let life = 0; life < total.length; life++) {
      const factor = floatAt(factors, life);
      if (factor !== 0) total[life] = floatAt(total, life) + factor * floatAt(hours, life);
    }
  }
  for (let life = 0; life < dose.mark.length; life++) {
    dose.mark[life] = Math.max(byteAt(dose.mark, life), byteAt(own.mark, life));
  }
}

/** NaN where the temperature is not given. */
function factorAt({ celsius }: HeatPart, p: number, kJPerMol: number, referenceCelsius: number): number {
  return Math.exp(logFactor(floatAt(celsius, p), referenceCelsius, kJPerMol));
}

/**
 * Equivalent hours a day at one position: rates of its counters times hold and factor, and its days in use. Null where a part that is
 * used there has no temperature, hold or rate. Rates of counters are taken as apart from each other.
 */
export function dailyDose(
  p: number,
  rates: PositionRates,
  parts: readonly HeatPart[],
  kJPerMol: number,
  referenceCelsius: number,
): DailyRate | null {
  if (parts.length === 0 || Number.isNaN(kJPerMol)) return null;
  const total: DailyRate = { perDay: 0, source: 'given', resets: 0, spread: null };
  const counted: DailyRate[] = [];
  for (const part of parts) {
    const rate = part.counter === null ? EVERY_DAY : rates[part.counter];
    const scale = floatAt(part.hoursPerCount, p) * factorAt(part, p, kJPerMol, referenceCelsius);
    if (rate === null && Number.isNaN(scale)) continue;
    if (rate === null) return null;
    if (rate.perDay === 0) continue;
    if (Number.isNaN(scale)) return null;
    const dose = scaledRate(rate, scale);
    total.perDay += dose.perDay;
    total.resets += dose.resets;
    if (part.counter !== null) counted.push(dose);
  }
  const measured = counted.length > 0 && counted.every(({ source }) => source === 'measured');
  return { ...total, source: measured ? 'measured' : 'given', spread: spreadOf(counted) };
}

const EVERY_DAY: DailyRate = { perDay: 1, source: 'given', resets: 0, spread: null };

/** Variances add up; null where one of them is not known. */
function spreadOf(counted: readonly DailyRate[]): DailyRate['spread'] {
  let [variancePerDay, days] = [0, Infinity];
  for (const { spread } of counted) {
    if (spread === null) return null;
    variancePerDay += spread.variancePerDay;
    days = Math.min(days, spread.days);
  }
  return counted.length === 0 ? null : { variancePerDay, days };
}
