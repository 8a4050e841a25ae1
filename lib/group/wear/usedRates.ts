/** How fast each position wears its diaphragm: counters, and equivalent hours by the material that is in it. */
import { dailyDose } from '../../exposure/heat/heatDose.js';
import { type DailyRate, dailyRates, type PositionRates } from '../../exposure/rates.js';
import type { Fleet } from '../../fleet/types.js';
import { floatAt, wholeAt } from '../../numeric/columns.js';
import type { UsedLives } from './usedLives.js';

export interface UsedRates extends PositionRates {
  dose: DailyRate | null;
}

/** In the order of `Fleet.positions`. */
export function usedRates(fleet: Fleet, { heat }: Pick<UsedLives, 'heat'>): UsedRates[] {
  const rates = dailyRates(fleet);
  if (heat === null) return rates.map((each) => ({ ...each, dose: null }));
  const material = runningMaterials(fleet);
  return rates.map((each, p) => {
    const energy = heat.energies[material[p] ?? -1]?.kJPerMol ?? Number.NaN;
    return { ...each, dose: dailyDose(p, each, heat.parts, energy, heat.referenceCelsius) };
  });
}

/** By position, -1 where nothing runs. */
function runningMaterials({ positions, lives }: Fleet): Int32Array {
  const material = new Int32Array(positions.length).fill(-1);
  for (let i = 0; i < lives.length; i++) {
    if (Number.isNaN(floatAt(lives.removed, i))) {
      material[wholeAt(lives.position, i)] = wholeAt(lives.material, i);
    }
  }
  return material;
}
