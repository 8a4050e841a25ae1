/**
 * What is said of clocks and of use against the truth. Plants as the demo (lives run in days, and all counters of a position are used
 * alike), and plants whose counters have a use each of their own and whose wear-out goes by days, by steam cycles or by strokes.
 */
import { DUTIES } from '../../data-demo/plant/design.js';
import type { PlantOptions } from '../../data-demo/plant/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import type { GroupedFleet } from '../../lib/group/types.js';
import { findWear } from '../../lib/group/wear/findWear.js';
import type { Wear, WearCounter } from '../../lib/group/wear/types.js';
import { readPlant } from './plant.js';

/** Fixed before any of these plants was drawn. */
export const WEAR_SEEDS = Array.from({ length: 20 }, (_, i) => 60_001 + i);

export const WEAR_DESIGNS = {
  'as the demo': {},
  'days, counters apart': { clock: 'days' },
  'steam cycles': { clock: 'steam cycles' },
  strokes: { clock: 'strokes' },
} as const satisfies Record<string, Omit<PlantOptions, 'seed'>>;
export type WearDesign = keyof typeof WEAR_DESIGNS;

/** Verdicts on groups whose true clock is days, or the counter of the design. */
export interface WearHits {
  truth: 'days' | 'counter';
  groups: number;
  right: number;
  /** Days added to the right counter: told as a combination. */
  nearly: number;
  wrong: number;
  open: number;
  /** Ratios of life at twice a counter: those whose 90 % range holds the truth, and all; by whether the truth is 1. */
  ratios: number;
  held: number;
}

export function studyWear(seed: number, design: WearDesign): WearHits[] {
  const { fleet } = readPlant({ seed, ...WEAR_DESIGNS[design] });
  const grouped = groupFleet(fleet, { seed: 1 });
  return wearHits(findWear(fleet, grouped, 1), grouped, design);
}

/** The counter that wears a duty in a design; null where days do. */
function counterOf(design: WearDesign, duty: string | null): WearCounter | null {
  if (design === 'as the demo' || design === 'days, counters apart') return null;
  if (design === 'strokes') return 'strokes';
  const steam = DUTIES.find(({ name }) => name === duty)?.steamPerWeek ?? 0;
  return steam > 0 ? 'steam cycles' : null;
}

function wearHits({ clocks, effects }: Wear, { groups }: GroupedFleet, design: WearDesign): WearHits[] {
  return (['days', 'counter'] as const).map((truth): WearHits => {
    const hits: WearHits = { truth, groups: 0, right: 0, nearly: 0, wrong: 0, open: 0, ratios: 0, held: 0 };
    clocks.forEach(({ verdict, clock, best }, g) => {
      const counter = counterOf(design, groups[g]?.duty ?? null);
      if (best === null || (counter === null) !== (truth === 'days')) return;
      hits.groups += 1;
      if (verdict === 'cannot tell') hits.open += 1;
      else if (clock === (counter ?? 'days')) hits.right += 1;
      else if (counter !== null && clock === `days and ${counter}`) hits.nearly += 1;
      else hits.wrong += 1;
    });
    for (const { material, effects: own } of effects) {
      for (const { covariate, ratio } of own) {
        if (covariate === 'duty' || covariate === 'size') continue;
        const steam = design === 'steam cycles' && covariate === 'steam cycles' && material !== 'VMQ';
        const acts = steam || (design === 'strokes' && covariate === 'strokes');
        if (acts !== (truth === 'counter')) continue;
        const value = acts ? 0.5 : 1;
        hits.ratios += 1;
        if (ratio.low <= value && value <= ratio.high) hits.held += 1;
      }
    }
    return hits;
  });
}

/** All plants of a design in one. */
export function wearSum(all: readonly WearHits[][]): WearHits[] {
  return (['days', 'counter'] as const).map((truth) =>
    all
      .map((hits) => hits.find((each) => each.truth === truth) as WearHits)
      .reduce((total, each) => ({
        truth,
        groups: total.groups + each.groups,
        right: total.right + each.right,
        nearly: total.nearly + each.nearly,
        wrong: total.wrong + each.wrong,
        open: total.open + each.open,
        ratios: total.ratios + each.ratios,
        held: total.held + each.held,
      })),
  );
}

export function wearTable(design: WearDesign, plants: number, sums: readonly WearHits[]): string {
  return sums
    .filter(({ groups }) => groups > 0)
    .map(
      ({ truth, groups, right, nearly, wrong, open, ratios, held }) =>
        `| ${design} | ${truth === 'days' ? 'days' : design} | ${plants} | ${groups} | ${right} | ${nearly} | ${wrong} | ${open} | ${held} of ${ratios} |`,
    )
    .join('\n');
}
