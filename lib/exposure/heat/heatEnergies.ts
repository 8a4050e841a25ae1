/** The activation energy of each material of a fleet: as site.json gives it, or the usual one. */
import type { Fleet } from '../../fleet/types.js';
import { type ActivationEnergy, usualActivationEnergy } from '../activationEnergy.js';

/** Steam of 121 degrees C is what most cycles are told by. */
export const USUAL_REFERENCE_CELSIUS = 121;

export interface HeatEnergy extends ActivationEnergy {
  material: string;
  /** 'lives': what lives of this fleet show. */
  from: 'site.json' | 'usual value' | 'lives';
}

/** By material, in the order of `Fleet.materials`; null where none is given and none is known. */
export function heatEnergies({ materials, site }: Pick<Fleet, 'materials' | 'site'>): (HeatEnergy | null)[] {
  return materials.map((material) => {
    const given = site.heatDose?.energies.find((each) => each.material === material);
    if (given !== undefined) return { ...given, level: null, from: 'site.json' };
    const usual = usualActivationEnergy(material);
    return usual === null ? null : { ...usual, material, from: 'usual value' };
  });
}

export function heatReference({ site }: Pick<Fleet, 'site'>): number {
  return site.heatDose?.referenceCelsius ?? USUAL_REFERENCE_CELSIUS;
}
