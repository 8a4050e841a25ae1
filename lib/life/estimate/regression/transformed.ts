/** What a number becomes before it is multiplied by its coefficient. */
import type { CovariateTransform } from './types.js';

const ZERO_CELSIUS = 273.15;
/** Gas constant in kJ/(mol K) and Boltzmann's in eV/K: exact values of the SI since 2019. */
const GAS_CONSTANT = 8.31446261815324e-3;
const BOLTZMANN = 8.617333262145179e-5;

/** A number after its transform. Precondition: above 0 for a logarithm, above absolute zero for a temperature. */
export function transformed(transform: CovariateTransform | null, value: number): number {
  if (transform === null) return value;
  if (transform === 'log' || transform === 'power') return Math.log(value);
  const electronVolts = typeof transform === 'object' && transform.arrhenius === 'eV';
  return 1 / ((electronVolts ? BOLTZMANN : GAS_CONSTANT) * (value + ZERO_CELSIUS));
}
