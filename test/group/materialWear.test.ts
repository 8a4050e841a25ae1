import { describe, expect, it } from 'vitest';
import { materialWear } from '../../lib/group/materialWear.js';
import { maximiseWeibull } from '../../lib/life/estimate/weibull/maximiseWeibull.js';
import { prepareRows } from '../../lib/life/estimate/weibull/weibullLikelihood.js';
import { lifeSample } from '../../lib/life/sample.js';

const NO_FAULT = { share: 1e-9, shape: 0.7, scale: 20 };

/** Lives at the middle of `count` equal chances of a Weibull law, all failed. */
function evenLives(count: number, shape: number, scale: number): number[] {
  return Array.from({ length: count }, (_, i) => scale * (-Math.log(1 - (i + 0.5) / count)) ** (1 / shape));
}

describe('materialWear', () => {
  it('finds one shape beside scales that differ, where one law over all is much flatter', () => {
    const [short, long] = [evenLives(400, 2.5, 400), evenLives(400, 2.5, 1600)];
    const samples = [short, long].map((ages) => lifeSample({ lower: ages, upper: ages }));
    const wear = materialWear(samples, NO_FAULT);
    for (const { shape } of wear) {
      expect(shape).toBeGreaterThan(2.45);
      expect(shape).toBeLessThan(2.55);
    }
    expect((wear[0]?.scale ?? 0) / 400).toBeCloseTo(1, 2);
    expect((wear[1]?.scale ?? 0) / 1600).toBeCloseTo(1, 2);
    const both = [...short, ...long];
    const one = lifeSample({ lower: both, upper: both });
    expect(maximiseWeibull(prepareRows(one, NO_FAULT), {}).shape).toBeLessThan(1.6);
  });

  it('stays at a likely shape where next to nothing leaked', () => {
    const [wear] = materialWear([lifeSample({ lower: [300, 400], upper: [300, Infinity] })], NO_FAULT);
    expect(wear?.shape).toBeGreaterThan(1);
    expect(wear?.shape).toBeLessThan(4);
    expect(wear?.scale).toBeGreaterThan(200);
  });

  it('leaves a flat sample flat beside a steep one, and lends a shape to one with few leaks', () => {
    const samples = [evenLives(400, 1.4, 300), evenLives(400, 3.5, 900), evenLives(2, 2, 600)].map((ages) =>
      lifeSample({ lower: ages, upper: ages }),
    );
    const [flat = 0, steep = 0, few = 0] = materialWear(samples, NO_FAULT).map(({ shape }) => shape);
    // 400 leaks know their log shape to 0.04.
    expect(Math.abs(Math.log(flat / 1.4))).toBeLessThan(0.08);
    expect(Math.abs(Math.log(steep / 3.5))).toBeLessThan(0.08);
    expect(few).toBeGreaterThan(flat);
    expect(few).toBeLessThan(steep);
  });

  it('puts the common shape where the marginal likelihood of normal shapes has it', () => {
    // Two samples of so many leaks that their likelihood is normal.
    const samples = [evenLives(3000, 1.6, 500), evenLives(3000, 2.6, 500)].map((ages) =>
      lifeSample({ lower: ages, upper: ages }),
    );
    const alone = samples.map((sample) => Math.log(maximiseWeibull(prepareRows(sample, NO_FAULT), {}).shape));
    const together = materialWear(samples, NO_FAULT).map(({ shape }) => Math.log(shape));
    // Profile information of log shape of a complete sample is n pi^2 / 6 (Johnson, Kotz & Balakrishnan, from memory).
    const information = (3000 * Math.PI ** 2) / 6;
    const marginal = 1 / (1 / information + 0.3 ** 2);
    const common =
      (Math.log(2) / 0.25 + marginal * (alone[0] as number) + marginal * (alone[1] as number)) /
      (1 / 0.25 + 2 * marginal);
    alone.forEach((own, i) => {
      const expected = (information * own + common / 0.09) / (information + 1 / 0.09);
      expect(together[i]).toBeCloseTo(expected, 3);
    });
  });
});
