/** Two Weibull parts: truth found again, one part told from two, no part shrunk onto one age. Values from scipy: test/reference. */
import { describe, expect, it } from 'vitest';
import { drawLives } from '../../lib/life/distribution/functions.js';
import { fitMixture } from '../../lib/life/estimate/mixture/fitMixture.js';
import type { MixtureModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';

const exact = (ages: ArrayLike<number>): LifeSample => lifeSample({ lower: ages, upper: ages });
const truth: MixtureModel = {
  kind: 'mixture',
  parts: [
    { share: 0.25, model: { kind: 'weibull', shape: 1.2, scale: 60 } },
    { share: 0.75, model: { kind: 'weibull', shape: 4, scale: 900 } },
  ],
};
const TRUTH = [Math.log(0.25 / 0.75), Math.log(1.2), Math.log(60), Math.log(4), Math.log(900)];

/** Lives replaced at 800, a third of them watched from 100 or 250 on. */
function plant(lives: number, seed: number): LifeSample {
  const ages = Array.from(drawLives(truth, lives, randomStream(seed, 'two parts')));
  const rows = ages
    .map((age, i) => ({ age, entry: [0, 0, 0, 0, 100, 250][i % 6] as number }))
    .filter(({ age, entry }) => age > entry);
  return lifeSample({
    lower: rows.map(({ age }) => Math.min(age, 800)),
    upper: rows.map(({ age }) => (age < 800 ? age : Infinity)),
    entry: rows.map(({ entry }) => entry),
  });
}

describe('fitMixture', () => {
  it('finds the truth again within its standard errors, over six plants', () => {
    let squares = 0;
    for (let seed = 1; seed <= 6; seed++) {
      const fit = fitMixture(plant(300, seed), { starts: 3 });
      expect(fit.converged && !fit.onePartIsEnough).toBe(true);
      for (const [i, { estimate, standardError }] of fit.parameters.entries()) {
        squares += ((estimate - (TRUTH[i] as number)) / standardError) ** 2;
      }
    }
    // 30 squared standard errors: chi-square with 30 degrees has 99.9 % between 10.8 and 62.2.
    expect(squares).toBeGreaterThan(10.8);
    expect(squares).toBeLessThan(62.2);
  });

  it('does not depend on rows, unit or seed where the parts are plain', () => {
    const sample = plant(300, 3);
    const fit = fitMixture(sample, { starts: 4 });
    const reversed = {
      ...sample,
      lower: Float64Array.from(sample.lower).reverse(),
      upper: Float64Array.from(sample.upper).reverse(),
      entry: Float64Array.from(sample.entry).reverse(),
    };
    const hours = {
      ...sample,
      lower: sample.lower.map((t) => 24 * t),
      upper: sample.upper.map((t) => 24 * t),
      entry: sample.entry.map((t) => 24 * t),
    };
    const others = [
      fitMixture(reversed, { starts: 4 }),
      fitMixture(sample, { seed: 9, starts: 6 }),
      fitMixture(hours, { starts: 4 }),
    ];
    for (const [k, other] of others.entries()) {
      fit.parameters.forEach(({ name, estimate, standardError }, i) => {
        const moved = k === 2 && name.startsWith('logScale') ? Math.log(24) : 0;
        expect(Math.abs((other.parameters[i]?.estimate ?? 0) - moved - estimate)).toBeLessThan(
          1e-5 * standardError,
        );
      });
    }
    expect(fitMixture(sample, { seed: 9, starts: 6 })).toEqual(others[1]);
    expect(fit.starts.sound + fit.starts.collapsed).toBe(4);
  });

  it('says when one part does the job', () => {
    const one = exact(drawLives({ kind: 'weibull', shape: 2, scale: 500 }, 150, randomStream(6, 'one part')));
    const fit = fitMixture(one, { starts: 4 });
    expect(fit.onePartIsEnough).toBe(true);
    expect(fit.ratio).toBeLessThan(12);
    expect(fit.ratio).toBeGreaterThan(-1e-9);
    expect(fit.warnings.map(({ code }) => code)).toContain('one-part-enough');
    expect(fit.onePart.model.kind).toBe('weibull');
  });

  it('does not shrink onto one exact age, nor onto ties', () => {
    // Six lives at 400 make a likelihood without limit for a part that sits on them.
    const tied = exact([400, 400, 400, 400, 400, 400, 30, 90, 150, 260, 330, 480, 560, 640, 790, 900]);
    expect(() => fitMixture(tied)).toThrow(/shrank onto one age/);
    // One day wide they are intervals, and a narrow part is still none that years of records would show.
    const days = lifeSample({ lower: tied.lower.map((t) => t - 0.5), upper: tied.upper.map((t) => t + 0.5) });
    expect(() => fitMixture(days)).toThrow(/shrank onto one age/);
  });

  it('refuses what two parts cannot be had from', () => {
    expect(() => fitMixture(exact([1, 2, 3, 4, 5]))).toThrow(/6 failures or more/);
    expect(() => fitMixture(exact([3, 3, 3, 3, 3, 3]))).toThrow(/nothing can be estimated/);
    expect(() => fitMixture(exact([1, 2, 3, 4, 5, 6]), { starts: 0 })).toThrow(/starts/);
  });
});
