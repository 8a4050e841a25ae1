/** One step without some lives against refits by hand and by a grid. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hazardWithout, leaveOut, type Moments } from '../../../lib/group/standOut/leaveOut.js';

const NOTHING: Moments = { hazard: 0, hazardU: 0, hazardUU: 0, leaks: 0, leaksU: 0 };

describe('leaving lives out of a fit', () => {
  it('moves nothing where they had nothing', () => {
    const out = leaveOut([0.05, 0.01, 0.09], 2.5, NOTHING, 1);
    expect(out.move.map(Math.abs)).toEqual([0, 0]);
    const { factor, stretch } = hazardWithout(out, 0.7);
    expect(factor).toBeCloseTo(1, 12);
    expect(stretch).toBeCloseTo(1, 12);
  });

  it('with the shape known is one step in the level: (E - O) / (A - E)', () => {
    // 40 leaks known; 6 leaks where 2 were expected, all at one year (u = 0).
    const out = leaveOut([1 / 40, 0, 1e-14], 2.5, { ...NOTHING, leaks: 6, hazard: 2 }, 1);
    expect(out.move[0]).toBeCloseTo(-4 / 38, 9);
    // Gamma laws have (40 - 6) / (40 - 2) exactly; a step of 4 / 38 is good to half its square.
    expect(Math.abs(Math.log((hazardWithout(out, 0).factor * 38) / 34))).toBeLessThan(
      0.55 * (4 / 38) ** 2 + 0.001,
    );
    expect(hazardWithout(out, 0).stretch).toBeCloseTo(Math.sqrt(40 / 38), 9);
  });

  it('is near the mode without them, leaks at many ages, shape and level both unknown', () => {
    // A fit of 60 leaks at 40 to 100 % of a year and a half, watched till then; five of them, all early, are left out.
    const ages = Array.from({ length: 60 }, (_, i) => 220 + 5.5 * i);
    const sound = Array.from({ length: 100 }, () => 550);
    const all = modeOf(ages, sound);
    const out = leaveOut(all.covariance, all.shape, momentsOf(ages.slice(0, 5), all), 1);
    const others = modeOf(ages.slice(5), sound);
    const moved = [others.level - all.level, others.shape - all.shape];
    for (const j of [0, 1] as const)
      expect((out.move[j] as number) / (moved[j] as number)).toBeGreaterThan(0.8);
    for (const j of [0, 1] as const) expect((out.move[j] as number) / (moved[j] as number)).toBeLessThan(1.2);
    out.after.forEach((value, j) => {
      expect(value / (others.covariance[j] as number)).toBeGreaterThan(0.75);
      expect(value / (others.covariance[j] as number)).toBeLessThan(1.25);
    });
  });

  it('stays finite and positive whatever the lives had', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(number(1e-6, 2), number(-0.99, 0.99), number(1e-6, 4)),
        number(0.05, 50),
        fc.integer({ min: 0, max: 500 }),
        number(0, 200),
        number(-6, 2),
        number(1, 5),
        ([aa, r, ss], shape, leaks, hazard, u, inflation) => {
          const lives = { leaks, leaksU: leaks * u, hazard, hazardU: hazard * u, hazardUU: hazard * u * u };
          const out = leaveOut([aa, r * Math.sqrt(aa * ss), ss], shape, lives, inflation);
          const { stretch } = hazardWithout(out, u);
          expect(stretch).toBeGreaterThanOrEqual(1 - 1e-9);
          // A tenth of what is known is left in every direction.
          expect(stretch).toBeLessThan(Math.sqrt(10) * (1 + 1e-6));
          expect(out.move.every(Number.isFinite)).toBe(true);
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });
});

interface Mode {
  level: number;
  shape: number;
  covariance: [number, number, number];
}

const log = (age: number): number => Math.log(age / 365.25);

/** Sums of a set of leaks at a law. */
function momentsOf(leaks: readonly number[], { level, shape }: Pick<Mode, 'level' | 'shape'>): Moments {
  const out = { ...NOTHING };
  for (const age of leaks) {
    const hazard = Math.exp(level + shape * log(age));
    out.leaks += 1;
    out.leaksU += log(age);
    out.hazard += hazard;
    out.hazardU += hazard * log(age);
    out.hazardUU += hazard * log(age) ** 2;
  }
  return out;
}

/** Maximum likelihood of a Weibull by Newton in (level, shape), and the inverse of minus its second derivatives. */
function modeOf(leaks: readonly number[], sound: readonly number[]): Mode {
  let [level, shape] = [Math.log(0.2), 2];
  for (let turn = 0; ; turn++) {
    const lost = momentsOf(leaks, { level, shape });
    const kept = momentsOf(sound, { level, shape });
    const h = [0, 1, 2].map(
      (j) =>
        [lost.hazard + kept.hazard, lost.hazardU + kept.hazardU, lost.hazardUU + kept.hazardUU][j] as number,
    );
    const g = [lost.leaks - (h[0] as number), lost.leaks / shape + lost.leaksU - (h[1] as number)] as const;
    const information = [h[0] as number, h[1] as number, lost.leaks / shape ** 2 + (h[2] as number)] as const;
    const determinant = information[0] * information[2] - information[1] ** 2;
    const covariance: Mode['covariance'] = [
      information[2] / determinant,
      -information[1] / determinant,
      information[0] / determinant,
    ];
    if (turn === 60) return { level, shape, covariance };
    level += covariance[0] * g[0] + covariance[1] * g[1];
    shape = Math.max(0.2, shape + covariance[1] * g[0] + covariance[2] * g[1]);
  }
}
