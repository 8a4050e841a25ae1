/** Quick refits to lives in other numbers against the fit of the same lives written out. */
import { describe, expect, it } from 'vitest';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { weibullRefits } from '../../lib/life/estimate/weibull/weibullRefits.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { floatAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';

function simulated(shape: number, lives: number, unit: number): LifeSample {
  const random = randomStream(5, `refits ${shape} ${lives}`);
  const ages = Array.from({ length: lives }, () => unit * (-Math.log(random.uniform())) ** (1 / shape));
  return lifeSample({
    lower: ages.map((age) => Math.min(age, unit)),
    upper: ages.map((age) => (age < unit ? age : Infinity)),
  });
}

/** The rows with a life or more, as a sample of their own. */
function writtenOut(sample: LifeSample, count: Float64Array): LifeSample {
  const rows = Array.from(count.keys()).filter((i) => floatAt(count, i) > 0);
  return lifeSample({
    lower: rows.map((i) => floatAt(sample.lower, i)),
    upper: rows.map((i) => floatAt(sample.upper, i)),
    count: rows.map((i) => floatAt(count, i)),
  });
}

describe.each([
  [0.05, 12, 1],
  [0.8, 6, 1e-9],
  [2.5, 60, 900],
  [50, 40, 1e12],
])('lives of shape %s, %i of them', (shape, lives, unit) => {
  const sample = simulated(shape, lives, unit);
  const top = fitLife(sample, { kind: 'weibull' }).model;
  if (top.kind !== 'weibull') throw new Error('no Weibull');
  const refit = weibullRefits(sample, top.shape);
  const random = randomStream(6, 'numbers of lives');

  it('are fitted as the lives written out are, or left to the slow road', () => {
    let answered = 0;
    for (let draw = 0; draw < 60; draw++) {
      const count = new Float64Array(lives);
      for (let k = 0; k < lives; k++) {
        const row = random.below(lives);
        count[row] = floatAt(count, row) + 1;
      }
      const quick = refit?.(count);
      if (quick === null || quick === undefined) continue;
      const slow = fitLife(writtenOut(sample, count), { kind: 'weibull' }).model;
      if (slow.kind !== 'weibull') throw new Error('no Weibull');
      expect(quick.shape / slow.shape).toBeCloseTo(1, 9);
      expect(quick.scale / slow.scale).toBeCloseTo(1, 8);
      answered++;
    }
    expect(answered).toBeGreaterThan(45);
  });
});

it('leaves other samples alone: intervals, late entries', () => {
  const interval = lifeSample({ lower: [1, 2, 3], upper: [2, 2, Infinity] });
  const late = lifeSample({ lower: [2, 3], upper: [2, Infinity], entry: [1, 0] });
  expect(weibullRefits(interval, 1)).toBeNull();
  expect(weibullRefits(late, 1)).toBeNull();
});

it('answers nothing where the shape has no best value', () => {
  const sample = lifeSample({ lower: [2, 3, 5], upper: [2, 3, Infinity] });
  const refit = weibullRefits(sample, 2);
  expect(refit?.(Float64Array.of(3, 0, 0))).toBeNull();
  expect(refit?.(Float64Array.of(0, 0, 3))).toBeNull();
});
