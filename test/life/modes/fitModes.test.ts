import { describe, expect, it } from 'vitest';
import { drawLives } from '../../../lib/life/distribution/functions.js';
import { lifeBounds } from '../../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import type { LifeModel } from '../../../lib/life/model.js';
import { fitModes } from '../../../lib/life/modes/fitModes.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';

const EARLY: LifeModel = { kind: 'weibull', shape: 0.7, scale: 4000 };
const WEAR: LifeModel = { kind: 'weibull', shape: 3, scale: 900 };

/** Lives that end by the first of two modes or are sound at 800; looked at every `every` days, 0 for exact ages. */
function lives(seed: number, size: number, every: number): { sample: LifeSample; modes: (string | null)[] } {
  const random = randomStream(seed, 'modes');
  const [early, wear] = [drawLives(EARLY, size, random), drawLives(WEAR, size, random)];
  const ends = Array.from(early, (one, i) => Math.min(one, wear[i] as number));
  const modes = ends.map((t, i) => (t > 800 ? null : t === early[i] ? 'early' : 'wear'));
  const before = (t: number): number => (every === 0 ? t : Math.floor(t / every) * every);
  const lower = ends.map((t) => (t > 800 ? 800 : before(t)));
  const upper = ends.map((t) => (t > 800 ? Infinity : before(t) + every));
  return { sample: lifeSample({ lower, upper }), modes };
}

describe('fitModes', () => {
  it('with exact ages is the fit of each mode with the others sound at their age', () => {
    const { sample, modes } = lives(1, 300, 0);
    const fit = fitModes(sample, modes, { kinds: { wear: 'loglogistic' } });
    const { lower, upper } = sample;
    const alone = lifeSample({ lower, upper: upper.map((t, i) => (modes[i] === 'wear' ? t : Infinity)) });
    expect(fit.modes[1]?.fit.model).toEqual(fitLife(alone, { kind: 'loglogistic' }).model);
    expect(fit.modes.map(({ failures }) => failures)).toEqual(
      ['early', 'wear'].map((name) => modes.filter((one) => one === name).length),
    );
  });

  it('one mode alone is fitLife, in wide intervals too', () => {
    const { sample, modes } = lives(2, 200, 100);
    const all = modes.map((one) => one && 'leak');
    const [got] = fitModes(sample, all).modes;
    const want = fitLife(sample, { kind: 'weibull' });
    got?.fit.parameters.forEach(({ estimate, standardError }, i) => {
      expect(Math.abs(estimate - (want.parameters[i]?.estimate as number))).toBeLessThan(1e-8);
      expect(standardError / (want.parameters[i]?.standardError as number)).toBeCloseTo(1, 6);
    });
  });

  // 20 plants of 1 000 lives each: the mean of a standardised error has standard error 0.22, so 4 of them are 0.89.
  it.each([0, 1, 200])('finds the laws that lives were drawn from, looked at every %s days', (every) => {
    const truth = [Math.log(0.7), Math.log(4000), Math.log(3), Math.log(900)];
    const total = [0, 0, 0, 0];
    for (let seed = 1; seed <= 20; seed++) {
      const { sample, modes } = lives(100 + seed, 1000, every);
      const found = fitModes(sample, modes).modes.flatMap(({ fit }) => fit.parameters);
      found.forEach(({ estimate, standardError }, i) => {
        total[i] = (total[i] as number) + (estimate - (truth[i] as number)) / standardError / 20;
      });
    }
    for (const mean of total) expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(20));
  });

  it('fits that go on to bounds; the sample is left as it was', () => {
    const { sample, modes } = lives(3, 150, 1);
    const before = Array.from(sample.lower);
    const [, wear] = fitModes(sample, modes, { kinds: { early: { kind: 'weibull', shape: 0.7 } } }).modes;
    const { low, high, estimate } = lifeBounds((wear as NonNullable<typeof wear>).fit, {
      of: { quantile: 0.1 },
    });
    expect(low).toBeLessThan(estimate);
    expect(high).toBeGreaterThan(estimate);
    expect(Array.from(sample.lower)).toEqual(before);
  });

  it('refuses modes that do not fit their rows, naming the row or the mode', () => {
    const sample = lifeSample({ lower: [10, 20, 30], upper: [10, 20, Infinity] });
    expect(() => fitModes(sample, ['a', null, null])).toThrow('row 2 ended');
    expect(() => fitModes(sample, ['a', 'a', 'a'])).toThrow('row 3 is still sound');
    expect(() => fitModes(sample, ['a', 'a'])).toThrow('as long as the sample');
    expect(() => fitModes(sample, ['a', '', null])).toThrow('row 2');
    expect(() => fitModes(sample, ['a', 'b', null], { kinds: { c: 'weibull' } })).toThrow('there are a, b');
    const last = lifeSample({ lower: [10, 20], upper: [10, 20] });
    expect(() => fitModes(last, ['a', 'b'])).toThrow('mode "b"');
    expect(() => fitModes(lifeSample({ lower: [5], upper: [Infinity] }), [null])).toThrow('no life ended');
  });
});
