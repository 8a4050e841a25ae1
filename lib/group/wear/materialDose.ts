/** Doses of heat by the activation energy that is best known of each material: given, shown by its lives, or the usual one. */
import type { HeatEnergy } from '../../exposure/heat/heatEnergies.js';
import type { Fleet } from '../../fleet/types.js';
import { count } from '../../numeric/words.js';
import type { GroupedFleet } from '../types.js';
import { doseNotes } from './doseWords.js';
import { energyFromLives, type LivesEnergy } from './energyFromLives.js';
import type { WearHeat } from './types.js';
import { type HeatBasis, materialsHeated, type UsedLives, usedLives, withEnergies } from './usedLives.js';

export interface MaterialDose {
  exposed: UsedLives;
  /** Null where positions.csv tells no temperatures. */
  heat: WearHeat | null;
  notes: string[];
}

export function materialDose(fleet: Fleet, grouped: GroupedFleet, seed: number): MaterialDose {
  const first = usedLives(fleet);
  if (!isHeated(first)) return { exposed: first, heat: null, notes: [] };
  const seen = first.heat.energies.flatMap((energy): LivesEnergy[] => {
    if (energy === null || energy.from !== 'usual value') return [];
    const own = energyFromLives(fleet, grouped, first, energy.material, seed);
    return own === null ? [] : [own];
  });
  const energies = first.heat.energies.map((energy) => energyOf(energy, seen));
  const exposed = withEnergies(fleet, first, { ...first.heat, energies });
  if (!isHeated(exposed)) return { exposed, heat: null, notes: [] };
  return { exposed, heat: heatOf(fleet, exposed.heat), notes: doseNotes(fleet, exposed, seen) };
}

function isHeated(used: UsedLives): used is UsedLives & { heat: HeatBasis } {
  return used.heat !== null;
}

/** What lives show takes the place of the usual value where they show it at least as narrowly, and that heat ages at all. */
function energyOf(usual: HeatEnergy | null, seen: readonly LivesEnergy[]): HeatEnergy | null {
  const own = seen.find(({ material }) => material === usual?.material);
  if (usual === null || own === undefined) return usual;
  if (own.low === 0 || own.high - own.low > usual.high - usual.low) return usual;
  const { leaks, groups, ...energy } = own;
  const source = `${count(leaks, 'leak')} in ${count(groups, 'group')} of this plant whose temperatures differ`;
  return { ...energy, source, from: 'lives' };
}

function heatOf(fleet: Fleet, heat: HeatBasis): WearHeat {
  const { parts, energies, referenceCelsius } = heat;
  const present = materialsHeated(fleet, heat);
  return {
    referenceCelsius,
    parts: parts.map(({ name }) => name),
    energies: energies.flatMap((energy, material) => {
      if (energy === null || !present.has(material)) return [];
      const { kJPerMol, low, high, from, source, lowestCelsius, highestCelsius } = energy;
      const isKnown = lowestCelsius !== null && highestCelsius !== null;
      const dataCelsius: [number, number] | null = isKnown ? [lowestCelsius, highestCelsius] : null;
      return [{ material: energy.material, kJPerMol, low, high, from, source, dataCelsius }];
    }),
  };
}
