/**
 * What is said of heat against the truth: plants whose steam is held at 121 or 134 degrees C, as positions.csv tells, and whose
 * wear-out goes by equivalent hours, by steam cycles whatever their temperature, or by days; with everything that makes records hard.
 */
import { DUTIES, TRUE_ENERGY } from '../../data-demo/plant/design.js';
import type { PlantOptions } from '../../data-demo/plant/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { DOSE } from '../../lib/group/wear/doseApart.js';
import { energyFromLives } from '../../lib/group/wear/energyFromLives.js';
import { findWear } from '../../lib/group/wear/findWear.js';
import type { HeatBasis, UsedLives } from '../../lib/group/wear/usedLives.js';
import { usedLives } from '../../lib/group/wear/usedLives.js';
import { readPlant } from './plant.js';

/** Fixed before any of these plants was drawn. */
export const HEAT_SEEDS = Array.from({ length: 20 }, (_, i) => 61_001 + i);

export const HEAT_CLOCKS = ['equivalent hours', 'steam cycles', 'days'] as const satisfies NonNullable<
  PlantOptions['clock']
>[];
export type HeatClock = (typeof HEAT_CLOCKS)[number];

/** Verdicts on the groups that are steamed, and what lives say of the activation energy. */
export interface HeatHits {
  groups: number;
  right: number;
  /** Days added to the right one. */
  nearly: number;
  /** Another clock: equivalent hours (alone or added to days), and all. */
  dose: number;
  wrong: number;
  open: number;
  /** Materials whose lives show an energy, those whose range (90 %) holds the truth, and those where it took the place of the usual one. */
  energies: number;
  held: number;
  used: number;
  /** Sum of the estimates, kJ/mol. */
  total: number;
}

export function studyHeat(seed: number, clock: HeatClock): HeatHits {
  const { fleet } = readPlant({ seed, clock, temperatures: true });
  const grouped = groupFleet(fleet, { seed: 1 });
  const { clocks, heat } = findWear(fleet, grouped, 1);
  const hits: HeatHits = { ...NONE };
  clocks.forEach(({ verdict, clock: told, best }, g) => {
    const steam = DUTIES.find(({ name }) => name === grouped.groups[g]?.duty)?.steamPerWeek ?? 0;
    if (best === null || steam === 0) return;
    hits.groups += 1;
    if (verdict === 'cannot tell') hits.open += 1;
    else if (told === clock) hits.right += 1;
    else if (told === `days and ${clock}`) hits.nearly += 1;
    else {
      hits.wrong += 1;
      if (told.includes(DOSE)) hits.dose += 1;
    }
  });
  const lives = usedLives(fleet) as UsedLives & { heat: HeatBasis };
  const truth = { 'equivalent hours': TRUE_ENERGY, 'steam cycles': 0, days: null }[clock];
  for (const { material, from } of heat?.energies ?? []) {
    const own = energyFromLives(fleet, grouped, lives, material, 1);
    if (from === 'lives') hits.used += 1;
    if (own === null || truth === null) continue;
    hits.energies += 1;
    hits.total += own.kJPerMol;
    if (own.low <= truth && truth <= own.high) hits.held += 1;
  }
  return hits;
}

const NONE: HeatHits = {
  groups: 0,
  right: 0,
  nearly: 0,
  dose: 0,
  wrong: 0,
  open: 0,
  energies: 0,
  held: 0,
  used: 0,
  total: 0,
};

export function heatSum(all: readonly HeatHits[]): HeatHits {
  const sum = { ...NONE };
  for (const each of all) {
    for (const name of Object.keys(NONE) as (keyof HeatHits)[]) sum[name] += each[name];
  }
  return sum;
}

/** One row of the table, plants counted by what they say on the whole. */
export function heatRow(clock: HeatClock, all: readonly HeatHits[]): string {
  const { groups, right, nearly, dose, wrong, open, energies, held, used, total } = heatSum(all);
  const plants = [
    all.filter((each) => each.right > 0 && each.wrong === 0).length,
    all.filter((each) => each.right === 0 && each.wrong === 0).length,
    all.filter((each) => each.wrong > 0).length,
  ];
  const energy =
    energies === 0 ? '' : `${held} of ${energies} (mean ${Math.round(total / energies)}); ${used}`;
  return `| ${[clock, all.length, plants.join(', '), groups, right, nearly, wrong, dose, open, energy].join(' | ')} |`;
}
