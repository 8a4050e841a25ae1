/** `heat_dose` of site.json: the reference temperature, and activation energies by material. */
import type * as z from 'zod';
import { InputError } from '../../errors.js';
import { tidyText } from '../cell.js';
import { SITE_FILE } from '../columnNames.js';
import { settingError } from '../settingError.js';
import { ENERGY_SCHEMAS, type heatSchema } from './heatSchema.js';
import type { HeatedSite, MaterialEnergy } from './types.js';

/** kJ/mol in one of each unit: an electron volt is 96.485 (SI, exact since 2019). */
const KJ_PER_MOL: Readonly<Record<EnergyName, number>> = {
  activation_energy_kj_per_mol: 1,
  activation_energy_ev: 96.48533212331002,
};
type EnergyName = keyof typeof ENERGY_SCHEMAS;
const NAMES = Object.keys(ENERGY_SCHEMAS) as EnergyName[];

/**
 * Nothing where the setting is not there.
 * @throws InputError for an energy that is 0, negative or in another unit, and for a material that has two
 */
export function readHeatSettings(given: z.output<typeof heatSchema> | undefined): HeatedSite {
  if (given === undefined) return {};
  const energies = NAMES.flatMap((name) =>
    Object.entries(given[name] ?? {}).map(([material, value]) => energyOf(name, material, value)),
  );
  const seen = new Set<string>();
  for (const { material } of energies) {
    if (seen.has(material.toLowerCase())) throw twice(material);
    seen.add(material.toLowerCase());
  }
  return { heatDose: { referenceCelsius: given.reference_temperature_c ?? null, energies } };
}

function energyOf(name: EnergyName, material: string, value: unknown): MaterialEnergy {
  const result = ENERGY_SCHEMAS[name].safeParse(value);
  if (!result.success) throw settingError(plainIssue(result.error), value, ['heat_dose', name, material]);
  const unit = KJ_PER_MOL[name];
  const { data } = result;
  const range = typeof data === 'number' ? { low: data, likely: data, high: data } : data;
  const { low, likely, high, source, data_from_c: from, data_to_c: to } = { ...NO_MORE, ...range };
  return {
    material: tidyText(material),
    kJPerMol: likely * unit,
    low: low * unit,
    high: high * unit,
    source: source === undefined || source === '' ? 'site.json' : tidyText(source),
    lowestCelsius: from ?? null,
    highestCelsius: to ?? null,
  };
}

const NO_MORE = { source: undefined, data_from_c: undefined, data_to_c: undefined };

/** Of a number or a range that fits neither, the fault of the one that was meant. */
function plainIssue(error: z.ZodError): z.ZodError {
  const issue = error.issues[0];
  if (issue?.code !== 'invalid_union') return error;
  const meant = issue.errors.find((issues) => issues.every(({ code }) => code !== 'invalid_type'));
  return meant === undefined ? error : ({ issues: meant } as unknown as z.ZodError);
}

function twice(material: string): InputError {
  return new InputError(
    `The activation energy of ${material} is given twice.`,
    { file: SITE_FILE, column: 'heat_dose' },
    'Give it once, in kJ/mol or in electron volts.',
  );
}
