/** The shape of `heat_dose` in site.json. */
import * as z from 'zod';

const celsius = z
  .number('must be a number of degrees C')
  .gt(-273.15, 'must be above absolute zero, -273.15 degrees C')
  .max(200, 'is hotter than elastomers stand; must be degrees C and at most 200 (250 degrees F are 121)');

/** Above 0: with an activation energy of 0 heat would not matter, and hours times cycles are no dose. */
function energyOf(least: number, most: number, low: string, high: string) {
  const one = z
    .number('must be a number')
    .gt(0, 'must be above 0: without an activation energy heat does not age')
    .min(least, low)
    .max(most, high);
  const range = z
    .strictObject({
      low: one,
      likely: one,
      high: one,
      source: z.string('must be a text').optional(),
      data_from_c: celsius.optional(),
      data_to_c: celsius.optional(),
    })
    .refine(({ low: a, likely, high: b }) => a <= likely && likely <= b, 'needs low <= likely <= high')
    .refine(
      ({ data_from_c: from, data_to_c: to }) =>
        (from === undefined) === (to === undefined) && (from ?? 0) <= (to ?? 0),
      'needs data_from_c and data_to_c together, in this order',
    );
  return z.union([one, range], 'must be a number, or { "low": , "likely": , "high": }');
}

/** By material; each entry is checked by itself, so that the message can name it. */
const byMaterial = z.custom<Record<string, unknown>>(
  (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
  'must be an object { "EPDM": 85 }',
);

export const ENERGY_SCHEMAS = {
  activation_energy_kj_per_mol: energyOf(
    5,
    500,
    'must be in kJ/mol, 5 or more; one in electron volts goes into activation_energy_ev',
    'must be in kJ/mol, at most 500; one in J/mol is to be divided by 1000',
  ),
  activation_energy_ev: energyOf(
    0.05,
    5,
    'must be in electron volts, 0.05 or more',
    'must be in electron volts, at most 5; one in kJ/mol goes into activation_energy_kj_per_mol',
  ),
} as const;

export const heatSchema = z.looseObject(
  {
    reference_temperature_c: celsius.optional(),
    activation_energy_kj_per_mol: byMaterial.optional(),
    activation_energy_ev: byMaterial.optional(),
  },
  'must be an object { "reference_temperature_c": 121, "activation_energy_kj_per_mol": { "EPDM": 85 } }',
);
