import { describe, expect, it } from 'vitest';
import { countLaw, momentsOf } from '../../lib/demand/countLaw.js';
import {
  addDraw,
  emptyMixture,
  mixtureQuantiles,
  NORMAL_FROM_VARIANCE,
  refinedNormalCdf,
} from '../../lib/demand/mixture.js';
import { randomStream } from '../../lib/numeric/random.js';

/** Poisson-binomial distribution by the plain recursion, one position after the other. */
function plainLaw(chances: number[]): number[] {
  let law = [1];
  for (const q of chances) {
    law = Array.from({ length: law.length + 1 }, (_, k) => (law[k] ?? 0) * (1 - q) + (law[k - 1] ?? 0) * q);
  }
  return law;
}

describe('grouped counts', () => {
  const random = randomStream(4, 'unlike positions');
  it.each([20, 100, 400])('%d unlike positions: within 2e-4 of the plain recursion in every chance', (n) => {
    const chances = Array.from({ length: n }, () => random.uniform() ** 4);
    const { start, chances: law } = countLaw({
      chance: Float64Array.from(chances),
      positions: new Float64Array(n).fill(1),
      poisson: 0,
    });
    plainLaw(chances).forEach((expected, k) => {
      expect(Math.abs((law[k - start] ?? 0) - expected)).toBeLessThan(2e-4);
    });
  });
  it('the refined normal approximation is good to 5e-4 from the switch on', () => {
    // The first term of the series that it leaves out is of the order 0.4 / (24 x variance), 8e-4 at variance 20.

    const chances = Array.from({ length: 250 }, () => 0.7 * random.uniform() ** 2);
    const moments = momentsOf({
      chance: Float64Array.from(chances),
      positions: new Float64Array(chances.length).fill(1),
      poisson: 0,
    });
    expect(moments.variance).toBeGreaterThan(NORMAL_FROM_VARIANCE);
    let cdf = 0;
    plainLaw(chances).forEach((chance, k) => {
      cdf += chance;
      expect(Math.abs(refinedNormalCdf(k, moments) - cdf)).toBeLessThan(5e-4);
    });
  });
});

describe('mixture over draws', () => {
  const parts = (q: number, n: number) => ({
    chance: Float64Array.of(q),
    positions: Float64Array.of(n),
    poisson: 0,
  });
  it('mixes narrow and wide draws', () => {
    const mixture = emptyMixture();
    addDraw(mixture, parts(0.01, 100));
    addDraw(mixture, parts(0.5, 400));
    // Half the chance lies at 0 to 5, half round 200: 0.45 is 0.9 of the first (R: qbinom(0.9, 100, 0.01) = 2), 0.75 the
    // middle of the second.
    expect(mixtureQuantiles(mixture, null, [0.45, 0.75])).toEqual([2, 200]);
  });
  it('adds what does not depend on the draw, by its chances or by its moments', () => {
    const exact = emptyMixture();
    addDraw(exact, parts(0.1, 30));
    const chances = Float64Array.of(0.5, 0, 0, 0, 0.5);
    const moments = { mean: 2, variance: 4, third: 0 };
    const [byChances] = mixtureQuantiles(exact, { chances, moments }, [0.95]);
    const [byMoments] = mixtureQuantiles(exact, { chances: null, moments }, [0.95]);
    expect(Math.abs((byChances ?? 0) - (byMoments ?? 99))).toBeLessThanOrEqual(1);
  });
});
