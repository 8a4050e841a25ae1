/** Life until damage from what was found at removals. */
import { describe, expect, it } from 'vitest';
import type { FindingAtRemoval } from '../../lib/fleet/types.js';
import { groupCells } from '../../lib/group/cells.js';
import { damageLives } from '../../lib/group/damageLives.js';
import { readHistory } from '../../lib/group/history.js';
import type { DamageLife } from '../../lib/group/types.js';
import { randomStream } from '../../lib/numeric/random.js';
import { DATA_UNTIL, fleetOf, type LifeFact, position } from './plant.js';

const [SHAPE, SCALE, DELAY] = [3, 700, 150];

/** Damage by a Weibull, a leak an exponential delay later, taken out on schedule in between, some findings not written down. */
function damagedPlant(count: number, seed: number): LifeFact[] {
  const random = randomStream(seed, 'damage');
  return Array.from({ length: count }, (_, i) => {
    const damage = SCALE * (-Math.log(random.uniform())) ** (1 / SHAPE);
    const leak = damage - DELAY * Math.log(random.uniform());
    const scheduled = 300 + 500 * random.uniform();
    const age = Math.max(1, Math.round(Math.min(leak, scheduled)));
    const seen: FindingAtRemoval =
      random.uniform() < 0.3 ? 'unknown' : damage <= scheduled ? 'torn' : 'sound';
    return {
      position: i,
      material: 'EPDM',
      size: 25,
      fitted: DATA_UNTIL - 10 - age,
      removed: DATA_UNTIL - 10,
      reason: leak <= scheduled ? ('leak' as const) : ('scheduled' as const),
      finding: seen,
    };
  });
}

function damageOf(lives: LifeFact[], event: 'leak' | 'damage' = 'damage'): DamageLife | null {
  const fleet = fleetOf(
    lives.map((_, i) => position(`V${i}`, 25)),
    lives,
  );
  fleet.site.event = event;
  const { cells } = groupCells(fleet, readHistory(fleet), () => false);
  return damageLives(fleet, cells, 1)[0] ?? null;
}

describe('damage', () => {
  it('that goes on to leak is recovered, shape, scale and delay (Weibull 3 / 700, mean 150 days)', () => {
    const found = damageOf(damagedPlant(4000, 17));
    const life = found?.life;
    if (life === null || life === undefined) throw new Error('no life until damage');
    for (const [drawn, truth] of [
      [life.shape, SHAPE],
      [life.scale, SCALE],
      [life.delay, DELAY],
    ] as const) {
      const standardError = Math.log(drawn.high / drawn.low) / (2 * 1.6448536269514722);
      // An eighth of what taking damage for all there is would do to the shape (3 becomes 0.72).
      expect(standardError).toBeLessThan(0.1);
      expect(Math.abs(Math.log(drawn.median / truth))).toBeLessThan(4 * standardError);
    }
    const byTwoYears = 1 - Math.exp(-((730 / SCALE) ** SHAPE));
    expect(life.ages[2]).toBe(730);
    expect(Math.abs((life.share[2]?.median ?? 0) - byTwoYears)).toBeLessThan(0.05);
  });

  it('is counted as found: damaged, sound, leaked, not looked at', () => {
    const lives = damagedPlant(400, 3);
    const found = damageOf(lives);
    const number = (reason: string, ...findings: string[]): number =>
      lives.filter((life) => life.reason === reason && findings.includes(life.finding ?? '')).length;
    expect(found?.damaged).toBe(number('scheduled', 'torn'));
    expect(found?.sound).toBe(number('scheduled', 'sound'));
    expect(found?.notLookedAt).toBe(number('scheduled', 'unknown'));
    expect(found?.leaks).toBe(number('leak', 'torn', 'unknown'));
  });

  it('is not asked for where the event is a leak, and has no life where none was found', () => {
    expect(damageOf(damagedPlant(50, 4), 'leak')).toBeNull();
    const sound = damagedPlant(50, 4).map((life) => ({
      ...life,
      reason: 'scheduled' as const,
      finding: 'sound' as const,
    }));
    expect(damageOf(sound)).toMatchObject({ damaged: 0, sound: 50, life: null });
  });

  it('is not what a leak of a faulty fitting shows', () => {
    const early: LifeFact = {
      position: 0,
      material: 'EPDM',
      size: 25,
      fitted: DATA_UNTIL - 20,
      removed: DATA_UNTIL - 10,
      reason: 'leak',
      finding: 'creased',
    };
    expect(damageOf([early])?.leaks).toBe(0);
  });
});
