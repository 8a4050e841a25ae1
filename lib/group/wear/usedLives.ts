/** What wears each life, counted: its counters and its dose of heat. */
import { type ExposedLives, exposeLives } from '../../exposure/exposeLives.js';
import type { CounterName } from '../../exposure/exposureTypes.js';
import { heatDose, noDose } from '../../exposure/heat/heatDose.js';
import { type HeatEnergy, heatEnergies, heatReference } from '../../exposure/heat/heatEnergies.js';
import { heatHours, type LifeAmount, type PartHours } from '../../exposure/heat/heatHours.js';
import { type HeatPart, heatParts } from '../../exposure/heat/heatParts.js';
import type { Fleet } from '../../fleet/types.js';
import { columnOf, wholeAt } from '../../numeric/columns.js';
import type { WearCounter } from './types.js';

/** Where the amounts of a counter stand in `UsedLives` and in the rates of a position. */
export const COUNTER_OF = {
  'steam cycles': 'steamCycles',
  'hot cleans': 'hotCleans',
  strokes: 'strokes',
  'equivalent hours': 'dose',
} as const satisfies Record<WearCounter, CounterName | 'dose'>;

/** How heat becomes a dose. */
export interface HeatBasis {
  parts: HeatPart[];
  hours: PartHours[];
  /** By material, in the order of `Fleet.materials`; null where not known. */
  energies: (HeatEnergy | null)[];
  referenceCelsius: number;
}

/** Rows as in `Fleet.lives`. */
export interface UsedLives extends ExposedLives {
  /** Equivalent hours at the reference temperature; NaN where not known, or where positions.csv tells no temperatures. */
  dose: LifeAmount;
  /** The same at both ends of the range of the activation energies. */
  doseRange: readonly [low: LifeAmount, high: LifeAmount];
  /** Null where positions.csv tells no temperatures. */
  heat: HeatBasis | null;
}

/** Counters of each life and, where temperatures are told, its dose by the energies of site.json or the usual ones. */
export function usedLives(fleet: Fleet): UsedLives {
  const exposed = exposeLives(fleet);
  const parts = heatParts(fleet.positions);
  if (parts.length === 0) {
    const none = noDose(exposed.length);
    return { ...exposed, dose: none, doseRange: [none, none], heat: null };
  }
  const hours = heatHours(fleet, exposed, parts);
  const basis = { parts, hours, energies: heatEnergies(fleet), referenceCelsius: heatReference(fleet) };
  return withEnergies(fleet, exposed, basis);
}

/** The doses that some activation energies make. */
export function withEnergies(fleet: Fleet, exposed: ExposedLives, heat: HeatBasis): UsedLives {
  const at = (energyOf: (energy: HeatEnergy) => number): LifeAmount =>
    doseAt(
      fleet,
      heat,
      heat.energies.map((each) => (each === null ? Number.NaN : energyOf(each))),
    );
  return {
    ...exposed,
    dose: at(({ kJPerMol }) => kJPerMol),
    doseRange: [at(({ low }) => low), at(({ high }) => high)],
    heat,
  };
}

/** Doses of all lives with one energy for each material, kJ/mol. */
export function doseAt(
  { lives }: Pick<Fleet, 'lives'>,
  { hours, referenceCelsius }: Pick<HeatBasis, 'hours' | 'referenceCelsius'>,
  byMaterial: readonly number[],
): LifeAmount {
  const energy = columnOf(lives.material, (material) => byMaterial[material] ?? Number.NaN);
  return heatDose(lives.position, hours, energy, referenceCelsius);
}

/** The energy of a material, by its name. */
export function energyOfMaterial({ heat }: Pick<UsedLives, 'heat'>, material: string): HeatEnergy | null {
  return heat?.energies.find((each) => each?.material === material) ?? null;
}

/** Materials (index) of which some life was heated, as far as positions.csv tells: with or without a known energy. */
export function materialsHeated(
  { lives }: Pick<Fleet, 'lives'>,
  { hours }: Pick<HeatBasis, 'hours'>,
): Set<number> {
  const heated = new Set<number>();
  for (const { exposure } of hours) {
    exposure.forEach((each, life) => {
      if (each > 0) heated.add(wholeAt(lives.material, life));
    });
  }
  return heated;
}
