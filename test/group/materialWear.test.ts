import { describe, expect, it } from 'vitest';
import { materialWear } from '../../lib/group/materialWear.js';
import { maximiseWeibull } from '../../lib/life/estimate/maximiseWeibull.js';
import { prepareRows } from '../../lib/life/estimate/weibullLikelihood.js';
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
    const { shape, scales } = materialWear(samples, NO_FAULT);
    expect(shape).toBeGreaterThan(2.45);
    expect(shape).toBeLessThan(2.55);
    expect((scales[0] as number) / 400).toBeCloseTo(1, 2);
    expect((scales[1] as number) / 1600).toBeCloseTo(1, 2);
    const both = [...short, ...long];
    const one = lifeSample({ lower: both, upper: both });
    expect(maximiseWeibull(prepareRows(one, NO_FAULT), {}).shape).toBeLessThan(1.6);
  });

  it('stays at a likely shape where next to nothing leaked', () => {
    const { shape, scales } = materialWear(
      [lifeSample({ lower: [300, 400], upper: [300, Infinity] })],
      NO_FAULT,
    );
    expect(shape).toBeGreaterThan(1);
    expect(shape).toBeLessThan(4);
    expect(scales[0]).toBeGreaterThan(200);
  });
});
