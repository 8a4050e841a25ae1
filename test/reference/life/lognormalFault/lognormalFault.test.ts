/** A lognormal beside a known part of faulty fittings against an independent search in scipy. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitLognormalBesideFaults, lifeSample } from '../../../../lib/index.js';

interface Case {
  name: string;
  share: number;
  shape: number;
  scale: number;
  lower: number[];
  upper: (number | null)[];
  entry: number[];
  count: number[];
  mu: number;
  sigma: number;
  logLikelihood: number;
}

const { cases } = JSON.parse(readFileSync(new URL('./lognormalFault.json', import.meta.url), 'utf8')) as {
  cases: Case[];
};

describe('fitLognormalBesideFaults against scipy', () => {
  for (const each of cases) {
    it(each.name, () => {
      const { lower, entry, count, share, shape, scale } = each;
      const upper = each.upper.map((age) => age ?? Infinity);
      const fit = fitLognormalBesideFaults(lifeSample({ lower, upper, entry, count }), {
        share,
        shape,
        scale,
      });
      expect(fit.converged).toBe(true);
      // A simplex search ends where the likelihood is flat to its rounding: half of the digits of the place.
      expect(Math.abs(fit.mu - each.mu) / each.sigma).toBeLessThan(2e-5);
      expect(Math.abs(fit.sigma / each.sigma - 1)).toBeLessThan(2e-5);
      expect(Math.abs(fit.logLikelihood - each.logLikelihood)).toBeLessThan(
        1e-8 * Math.abs(each.logLikelihood),
      );
    });
  }
});
