/** Fits of a plant that lost reasons: against the same plant with all of them, and with none at all. */
import { expect, it } from 'vitest';
import { groupFleet } from '../../lib/group/groupFleet.js';
import type { Group } from '../../lib/group/types.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { simulatedPlant } from './plant.js';

/** Fixed before any of them was drawn. */
const SEEDS = [401, 402, 403, 404, 405, 406];

function groupWith(reasonLost: number, seed: number): Group {
  const fleet = simulatedPlant(
    {
      groups: [{ material: 'EPDM', size: 25, positions: 40, shape: 2.5, scale: 900, scheduled: 730 }],
      years: 8,
      faultShare: () => 0,
      fault: { shape: 0.7, scale: 20 },
      openingsPerYear: 0.08,
      reasonLost,
      before: 500,
    },
    seed,
  );
  return itemAt(groupFleet(fleet, { seed: 1 }).groups, 0);
}

const width = ({ planned }: Group): number => Math.log(planned.scale.high / planned.scale.low);

it('a few lost reasons neither move a life nor flatten what is known of it', () => {
  for (const seed of SEEDS) {
    const [all, some] = [groupWith(0, seed), groupWith(0.1, seed)];
    const sd = width(all) / 3.29;
    expect(Math.abs(Math.log(some.planned.scale.median / all.planned.scale.median))).toBeLessThan(2 * sd);
    expect(some.inflation / all.inflation).toBeLessThan(1.3);
    expect(width(some) / width(all)).toBeLessThan(1.4);
  }
});

it('with no reason known at all the life is wide and holds the truth', () => {
  for (const seed of SEEDS) {
    const [all, none] = [groupWith(0, seed), groupWith(1, seed)];
    expect(width(none)).toBeGreaterThan(2 * width(all));
    expect(none.planned.scale.low).toBeLessThan(900);
    expect(none.planned.scale.high).toBeGreaterThan(900);
    expect(none.inflation).toBeGreaterThan(5);
  }
});
