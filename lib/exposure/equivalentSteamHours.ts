/** Steam cycles as hours at one reference temperature that age a diaphragm as much. */
import { UsageError } from '../errors.js';
import type { Warning } from '../findings.js';
import { columnOf, floatAt } from '../numeric/columns.js';
import type { ActivationEnergy } from './activationEnergy.js';
import { logFactor, requireFactor, requireTemperature, requireTemperatures } from './arrhenius.js';
import { supportedSpan, supportWarnings, unitWarnings } from './temperatureWarnings.js';

/** How often, how long and how hot; a number holds for every row. */
export interface SteamDuty {
  /** Cycles of each row, such as the `exposure` of lives; NaN where not known. */
  cycles: ArrayLike<number>;
  /** Hours that one cycle is held at its temperature. */
  holdHours: number | ArrayLike<number>;
  temperatureCelsius: number | ArrayLike<number>;
}

export interface SteamHoursOptions {
  referenceCelsius: number;
  activationEnergy: ActivationEnergy;
}

/** A row for each row of the duty; NaN where its cycles are not known. */
export interface EquivalentSteamHours {
  /** Hours at the reference that age as much. */
  hours: Float64Array;
  /** The same with each end of the range of the activation energy, the smaller first. */
  low: Float64Array;
  high: Float64Array;
  /** Hours held, by the clock. */
  plainHours: Float64Array;
  /** Rows whose cycles are not known. */
  notKnown: number;
  warnings: Warning[];
}

const WHERE = 'equivalentSteamHours';

/**
 * Cycles times hold times Arrhenius factor. Heating up and cooling down are left out: where they matter, give the whole course of a cycle
 * to `equivalentHours` and multiply.
 * @throws UsageError for columns of different length, negative cycles or holds, temperatures at or below absolute zero
 */
export function equivalentSteamHours(duty: SteamDuty, options: SteamHoursOptions): EquivalentSteamHours {
  const { referenceCelsius, activationEnergy: energy } = options;
  const cycles = Float64Array.from(duty.cycles);
  const hold = filled('holdHours', duty.holdHours, cycles.length);
  const celsius = filled('temperatureCelsius', duty.temperatureCelsius, cycles.length);
  requireTemperature(WHERE, 'referenceCelsius', referenceCelsius);
  requireTemperatures(WHERE, 'temperatureCelsius', celsius);
  requireAmounts(cycles, hold);
  const plainHours = columnOf(cycles, (n, i) => n * floatAt(hold, i));
  const at = (kJPerMol: number): Float64Array => scaled(plainHours, celsius, referenceCelsius, kJPerMol);
  const [hours, one, other] = [at(energy.kJPerMol), at(energy.low), at(energy.high)];
  return {
    hours,
    low: columnOf(one, (x, i) => Math.min(x, floatAt(other, i))),
    high: columnOf(one, (x, i) => Math.max(x, floatAt(other, i))),
    plainHours,
    notKnown: cycles.reduce((total, n) => total + (Number.isNaN(n) ? 1 : 0), 0),
    warnings: warningsOf(celsius, hours, options),
  };
}

function filled(name: string, given: number | ArrayLike<number>, length: number): Float64Array {
  if (typeof given === 'number') return new Float64Array(length).fill(given);
  if (given.length === length) return Float64Array.from(given);
  throw new UsageError(
    WHERE,
    `${name} must be a number or have a value for each of ${length} rows.`,
    given.length,
  );
}

function requireAmounts(cycles: Float64Array, hold: Float64Array): void {
  for (let i = 0; i < cycles.length; i++) {
    const [n, hours] = [floatAt(cycles, i), floatAt(hold, i)];
    if (n < 0 || n === Infinity) {
      throw new UsageError(WHERE, `row ${i + 1}, cycles must be 0 or more, or NaN where not known.`, n);
    }
    if (!(hours >= 0 && hours < Infinity)) {
      throw new UsageError(WHERE, `row ${i + 1}, holdHours must be 0 or more.`, hours);
    }
  }
}

function scaled(
  plain: Float64Array,
  celsius: Float64Array,
  reference: number,
  kJPerMol: number,
): Float64Array {
  return columnOf(plain, (hours, i) => {
    if (Number.isNaN(hours)) return Number.NaN;
    return requireFactor(WHERE, hours * Math.exp(logFactor(floatAt(celsius, i), reference, kJPerMol)));
  });
}

function warningsOf(celsius: Float64Array, hours: Float64Array, options: SteamHoursOptions): Warning[] {
  const { activationEnergy, referenceCelsius } = options;
  const support = supportedSpan(activationEnergy);
  const span = { lowest: Infinity, highest: -Infinity };
  let [beyond, all] = [0, 0];
  for (let i = 0; i < celsius.length; i++) {
    const degrees = floatAt(celsius, i);
    span.lowest = Math.min(span.lowest, degrees);
    span.highest = Math.max(span.highest, degrees);
    const dose = floatAt(hours, i);
    if (Number.isNaN(dose)) continue;
    all += dose;
    if (support !== null && (degrees < support.lowest || degrees > support.highest)) beyond += dose;
  }
  if (celsius.length === 0) return [];
  const share = all === 0 ? 0 : beyond / all;
  return [...unitWarnings(span), ...supportWarnings(activationEnergy, span, referenceCelsius, share)];
}
