/** What is said of doses of heat: what they rest on, whose is not known, and where they are beyond what is known. */

import { arrheniusFactor } from '../../exposure/arrhenius.js';
import type { HeatEnergy } from '../../exposure/heat/heatEnergies.js';
import { FARTHEST_CELSIUS, supportedSpan } from '../../exposure/temperatureWarnings.js';
import type { Fleet } from '../../fleet/types.js';
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { amount, count, listed, percent } from '../../numeric/words.js';
import type { LivesEnergy } from './energyFromLives.js';
import { type HeatBasis, materialsHeated, type UsedLives } from './usedLives.js';

const MOST_NAMED = 5;
/** Less of a dose than this from far temperatures is not worth a warning. */
const LEAST_SHARE = 0.01;

/** "85 kJ/mol (70 to 105)". */
export function energyWords({ kJPerMol, low, high }: Pick<HeatEnergy, 'kJPerMol' | 'low' | 'high'>): string {
  return low === high
    ? `${amount(kJPerMol)} kJ/mol (given without a range)`
    : `${amount(kJPerMol)} kJ/mol (${amount(low)} to ${amount(high)})`;
}

/** A sentence each. */
export function doseNotes(
  fleet: Fleet,
  used: UsedLives & { heat: HeatBasis },
  seen: readonly LivesEnergy[],
): string[] {
  const { heat } = used;
  const present = materialsHeated(fleet, heat);
  const known = heat.energies.filter((each, material) => each !== null && present.has(material));
  const unknown = fleet.materials.filter((_, m) => heat.energies[m] === null && present.has(m));
  return [
    partsNote(heat),
    ...known.flatMap((each) => (each === null ? [] : energyNotes(each, seen))),
    ...(unknown.length === 0
      ? []
      : [
          `No activation energy is known of ${listed(unknown, MOST_NAMED)}: these lives have no equivalent hours. Give one in site.json, "heat_dose".`,
        ]),
    ...heat.hours.flatMap(({ part, missing }) => missingNote(fleet, part.columns, [...missing])),
    ...farNotes(fleet, used),
  ];
}

function partsNote({ parts, referenceCelsius }: HeatBasis): string {
  const counted = parts.map(({ name }) => name);
  const left = ['steam', 'hot cleans', 'service'].filter((name) => !(counted as string[]).includes(name));
  const without =
    left.length === 0
      ? ''
      : ` No temperature of ${listed(left)} is given in positions.csv, so ${left.length === 1 ? 'it counts' : 'they count'} for nothing.`;
  return `Equivalent hours are hours at ${amount(referenceCelsius, 4)} degrees C that age a diaphragm as much as the heat it had (law of Arrhenius), from ${listed(counted)}.${without}`;
}

function energyNotes(energy: HeatEnergy, seen: readonly LivesEnergy[]): string[] {
  const { material, from, source } = energy;
  const where =
    from === 'lives' ? `estimated from ${source}` : from === 'site.json' ? `given: ${source}` : source;
  const told = `Activation energy of ${material}: ${energyWords(energy)}, ${where}.`;
  const own = seen.find((each) => each.material === material);
  return own === undefined || from === 'lives' ? [told] : [told, besideNote(energy, own)];
}

/** What lives say where it is not what is used. */
function besideNote(energy: HeatEnergy, own: LivesEnergy): string {
  const apart = own.low > energy.high || own.high < energy.low;
  const why =
    own.low === 0
      ? 'which does not show that heat shortens them'
      : apart
        ? 'which is another than the one used'
        : 'which is too wide to take its place';
  const todo = apart
    ? ' Find out whether holds and temperatures are right, or have the energy of this compound measured.'
    : '';
  return `The lives of ${own.material} alone say ${amount(own.kJPerMol)} kJ/mol (${amount(own.low)} to ${amount(own.high)}; ${count(own.leaks, 'leak')}), ${why}.${todo}`;
}

function missingNote({ positions }: Fleet, columns: string, missing: readonly number[]): string[] {
  if (missing.length === 0) return [];
  const names = missing.map((p) => itemAt(positions, p).position);
  return [
    `Lives of ${count(missing.length, 'position')} have no equivalent hours, as ${columns} is empty there (${listed(names, MOST_NAMED)}). Fill it in positions.csv.`,
  ];
}

/** Of each material, how much of all its equivalent hours comes from temperatures far from the data behind its energy. */
function farNotes(fleet: Fleet, { heat, dose }: UsedLives & { heat: HeatBasis }): string[] {
  const { lives, materials } = fleet;
  const present = materialsHeated(fleet, heat);
  return materials.flatMap((_, m) => {
    const energy = heat.energies[m] ?? null;
    if (energy === null || !present.has(m)) return [];
    const span = supportedSpan(energy);
    if (span === null) return [spanUnknown(energy)];
    const far = { hours: 0, all: 0, lowest: Infinity, highest: -Infinity };
    for (let life = 0; life < lives.length; life++) {
      const total = floatAt(dose.exposure, life);
      if (wholeAt(lives.material, life) !== m || !(total > 0)) continue;
      far.all += total;
      for (const { part, exposure } of heat.hours) {
        const celsius = floatAt(part.celsius, wholeAt(lives.position, life));
        if (!(celsius < span.lowest || celsius > span.highest)) continue;
        far.hours +=
          floatAt(exposure, life) * arrheniusFactor(celsius, heat.referenceCelsius, energy.kJPerMol);
        far.lowest = Math.min(far.lowest, celsius);
        far.highest = Math.max(far.highest, celsius);
      }
    }
    return [
      ...(far.hours > LEAST_SHARE * far.all ? [beyond(energy, far)] : []),
      ...farReference(energy, heat),
    ];
  });
}

function dataWords({ lowestCelsius, highestCelsius }: HeatEnergy): string {
  return `${amount(lowestCelsius ?? 0, 4)} to ${amount(highestCelsius ?? 0, 4)} degrees C`;
}

function beyond(
  energy: HeatEnergy,
  { hours, all, lowest, highest }: { hours: number; all: number; lowest: number; highest: number },
): string {
  return `${percent(hours / all)} of the equivalent hours of ${energy.material} come from ${amount(lowest, 4)} to ${amount(highest, 4)} degrees C, more than ${FARTHEST_CELSIUS} degrees beyond the data behind its activation energy (${dataWords(energy)}): ageing may follow another law there. Use an energy found nearer.`;
}

function farReference(energy: HeatEnergy, { referenceCelsius }: HeatBasis): string[] {
  const span = supportedSpan(energy);
  if (span === null || (referenceCelsius >= span.lowest && referenceCelsius <= span.highest)) return [];
  return [
    `The reference of ${amount(referenceCelsius, 4)} degrees C lies more than ${FARTHEST_CELSIUS} degrees beyond the data behind the activation energy of ${energy.material} (${dataWords(energy)}). Choose one near the temperatures that age the diaphragms.`,
  ];
}

function spanUnknown({ material }: HeatEnergy): string {
  return `It is not known at which temperatures the activation energy of ${material} was found: beyond ${FARTHEST_CELSIUS} degrees C from them do not trust its equivalent hours. In site.json give it with data_from_c and data_to_c.`;
}

/** What holds a verdict with a dose in it back: at one end of the range of the energy another clock does as well. */
export interface EnergyDoubt {
  end: 'low' | 'high';
  other: string;
}

export function untoldEnergyWords(fits: string, { end, other }: EnergyDoubt): { text: string; todo: string } {
  return {
    text: `${fits}: at the ${end} end of the range in which the activation energy lies, the clock of ${other} would do as well.`,
    todo: 'Intervals stay in days. Have the activation energy of this compound measured, or compare positions at temperatures further apart.',
  };
}

/** Behind the verdict on a group whose clock is a dose. */
export function toldDoseWords(energy: HeatEnergy, referenceCelsius: number): string {
  const held = energy.low === energy.high ? '' : ', and the verdict is the same over that range';
  return ` Hours at ${amount(referenceCelsius, 4)} degrees C, by an activation energy of ${energyWords(energy)}${held}.`;
}

/** Groups in which the dose rises with something else, in a sentence for each such clock. */
export function alikeNotes(alike: readonly { group: string; clock: string }[]): string[] {
  return [...new Set(alike.map(({ clock }) => clock))].map((clock) => {
    const names = [...new Set(alike.filter((each) => each.clock === clock).map(({ group }) => group))];
    return `In ${listed(names, MOST_NAMED)} equivalent hours rise with ${clock}, as temperatures and holds are alike: the two cannot be told apart, and equivalent hours are not weighed there.`;
  });
}
