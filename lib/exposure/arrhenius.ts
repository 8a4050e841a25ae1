/** How much faster a diaphragm ages at one temperature than at another, by the law of Arrhenius. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';

/** kJ per mol and kelvin (SI, exact since 2019). */
export const GAS_CONSTANT_KJ = 8.31446261815324e-3;
/** kJ/mol in one electron volt: Avogadro's number times the electron volt (SI, exact since 2019). */
export const KJ_PER_MOL_IN_ELECTRON_VOLT = 96.48533212331002;
export const ZERO_CELSIUS_KELVIN = 273.15;

/**
 * Hours at the reference temperature that age a diaphragm as much as one hour at `temperatureCelsius`:
 * exp[E / R (1 / T reference - 1 / T)], temperatures in kelvin (Meeker & Escobar 1998 ch. 18, from memory). Above 1 where it is hotter
 * than the reference; 1 everywhere where the activation energy is 0.
 * @throws UsageError for temperatures at or below absolute zero, a negative energy, and a factor beyond what a number holds
 */
export function arrheniusFactor(
  temperatureCelsius: number,
  referenceCelsius: number,
  activationEnergyKJPerMol: number,
): number {
  const where = 'arrheniusFactor';
  requireTemperature(where, 'temperatureCelsius', temperatureCelsius);
  requireTemperature(where, 'referenceCelsius', referenceCelsius);
  requireEnergy(where, activationEnergyKJPerMol);
  return requireFactor(
    where,
    Math.exp(logFactor(temperatureCelsius, referenceCelsius, activationEnergyKJPerMol)),
  );
}

/** Logarithm of the factor. Preconditions: above absolute zero, energy finite and not negative. */
export function logFactor(temperatureCelsius: number, referenceCelsius: number, kJPerMol: number): number {
  // E / R (1 / Tr - 1 / T) as one fraction, so that nearly equal temperatures lose no digits.
  const reference = referenceCelsius + ZERO_CELSIUS_KELVIN;
  const kelvin = temperatureCelsius + ZERO_CELSIUS_KELVIN;
  if (kJPerMol === 0) return 0;
  return ((kJPerMol / GAS_CONSTANT_KJ) * (temperatureCelsius - referenceCelsius)) / (reference * kelvin);
}

export function requireTemperature(where: string, name: string, celsius: number, row?: number): void {
  if (Number.isFinite(celsius) && celsius > -ZERO_CELSIUS_KELVIN) return;
  const place = row === undefined ? name : `row ${row}, ${name}`;
  throw new UsageError(where, `${place} must be degrees Celsius above absolute zero (-273.15).`, celsius);
}

export function requireTemperatures(where: string, name: string, column: Float64Array): void {
  for (let i = 0; i < column.length; i++) requireTemperature(where, name, floatAt(column, i), i + 1);
}

export function requireEnergy(where: string, kJPerMol: number): void {
  if (Number.isFinite(kJPerMol) && kJPerMol >= 0) return;
  throw new UsageError(where, 'the activation energy must be 0 or more, in kJ/mol.', kJPerMol);
}

/** A factor or a dose that a number can hold. */
export function requireFactor(where: string, factor: number): number {
  if (Number.isFinite(factor)) return factor;
  const rule =
    'the temperatures, the reference and the activation energy give a factor too large for a number.';
  throw new UsageError(where, `${rule} Check their units.`, factor);
}
