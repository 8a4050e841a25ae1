/** Activation energies: as given, or by material with their source. */
import { UsageError } from '../errors.js';
import { KJ_PER_MOL_IN_ELECTRON_VOLT, requireEnergy, requireTemperature } from './arrhenius.js';

/** How strongly ageing depends on temperature, how well that is known, and from where. */
export interface ActivationEnergy {
  kJPerMol: number;
  /** The range it may lie in, in kJ/mol; both are `kJPerMol` where nothing is said of it. */
  low: number;
  high: number;
  /** Two-sided level of the range where it comes from lives; null where it is a range named by a source. */
  level: number | null;
  source: string;
  /** Coldest and hottest of the data it rests on, degrees C; null where not known. */
  lowestCelsius: number | null;
  highestCelsius: number | null;
}

/** An activation energy in one of the two units, with what is known of it. */
export interface GivenActivationEnergy {
  activationEnergyKJPerMol?: number;
  activationEnergyElectronVolts?: number;
  /** In the unit of the energy. */
  low?: number;
  high?: number;
  source?: string;
  lowestCelsius?: number;
  highestCelsius?: number;
}

const WHERE = 'givenActivationEnergy';

/**
 * An activation energy that the caller knows, in kJ/mol or in electron volts (1 eV is 96.485 kJ/mol).
 * @throws UsageError unless exactly one of the two is given, 0 or more, inside its range, and temperatures are in order
 */
export function givenActivationEnergy(given: GivenActivationEnergy): ActivationEnergy {
  const { activationEnergyKJPerMol: kJ, activationEnergyElectronVolts: electronVolts } = given;
  if ((kJ === undefined) === (electronVolts === undefined)) {
    const rule = 'give activationEnergyKJPerMol or activationEnergyElectronVolts, one of the two.';
    throw new UsageError(WHERE, rule, `${kJ}, ${electronVolts}`);
  }
  const unit = kJ === undefined ? KJ_PER_MOL_IN_ELECTRON_VOLT : 1;
  const value = kJ ?? (electronVolts as number);
  const [low, high] = [given.low ?? value, given.high ?? value];
  for (const each of [value, low, high]) requireEnergy(WHERE, each);
  if (low > value || high < value)
    throw new UsageError(WHERE, 'low to high must hold the energy.', `${low} to ${high}`);
  return {
    kJPerMol: value * unit,
    low: low * unit,
    high: high * unit,
    level: null,
    source: given.source ?? 'as given',
    ...temperaturesOf(given),
  };
}

function temperaturesOf({
  lowestCelsius = Number.NaN,
  highestCelsius = Number.NaN,
}: GivenActivationEnergy): Pick<ActivationEnergy, 'lowestCelsius' | 'highestCelsius'> {
  if (Number.isNaN(lowestCelsius) && Number.isNaN(highestCelsius)) {
    return { lowestCelsius: null, highestCelsius: null };
  }
  requireTemperature(WHERE, 'lowestCelsius', lowestCelsius);
  requireTemperature(WHERE, 'highestCelsius', highestCelsius);
  if (lowestCelsius <= highestCelsius) return { lowestCelsius, highestCelsius };
  throw new UsageError(
    WHERE,
    'lowestCelsius must not be above highestCelsius.',
    `${lowestCelsius}, ${highestCelsius}`,
  );
}

/** A line of the table: energy, range, temperatures of the data, and where from. */
type Line = readonly [number, number, number, number | null, number | null, string];

const MEMORY = 'usual value, from memory';

const MATERIALS: Readonly<Record<string, Line>> = {
  EPDM: [
    85,
    70,
    105,
    100,
    150,
    `69 to 76 published for 100 to 150 degrees C (rubber journal 2026); 80 to 105 ${MEMORY}`,
  ],
  NBR: [
    85,
    75,
    95,
    null,
    null,
    `92 published for elongation in air (Sandia 1993); less in oil and in the cold (Pazur 2012)`,
  ],
  IIR: [80, 75, 90, 23, 125, `${MEMORY}; likely the same from 23 to 125 degrees C (Gillen et al. 1999)`],
  FKM: [75, 60, 90, null, null, `no published value found; ${MEMORY}`],
  VMQ: [60, 40, 80, null, null, `43 published for a tin-cured network with moisture; 40 to 80 ${MEMORY}`],
};

/** Other words for the same material, in small letters. */
const ALIASES: Readonly<Record<string, string>> = { butyl: 'IIR', silicone: 'VMQ', nitrile: 'NBR' };

function aliasOf(plain: string): string | undefined {
  return Object.hasOwn(ALIASES, plain.toLowerCase()) ? ALIASES[plain.toLowerCase()] : undefined;
}

const FACED = /^ptfe[- ]faced\s+/i;

/**
 * The usual activation energy of a material by its ISO 1629 code (EPDM, NBR, IIR, FKM, VMQ), with its range and source. A PTFE-faced
 * diaphragm goes by its backing: PTFE creeps rather than ages.
 * @throws UsageError for a material without a known energy
 */
export function materialActivationEnergy(material: string): ActivationEnergy {
  const energy = usualActivationEnergy(material);
  if (energy !== null) return energy;
  const known = Object.keys(MATERIALS).join(', ');
  const rule = `no activation energy is known for this material; there are ${known}. Give one with givenActivationEnergy.`;
  throw new UsageError('materialActivationEnergy', rule, material);
}

/** The same; null for a material without a known energy. */
export function usualActivationEnergy(material: string): ActivationEnergy | null {
  const plain = material.trim().replace(FACED, '');
  const code = aliasOf(plain) ?? plain.toUpperCase();
  const line = Object.hasOwn(MATERIALS, code) ? MATERIALS[code] : undefined;
  if (line === undefined) return null;
  const [kJPerMol, low, high, lowestCelsius, highestCelsius, source] = line;
  const backing = FACED.test(material.trim()) ? ` (of the ${code} backing)` : '';
  return { kJPerMol, low, high, level: null, source: `${source}${backing}`, lowestCelsius, highestCelsius };
}
