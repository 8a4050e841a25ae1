/** Quick roads of resampling against the slow ones: refits from the law drawn from, and days looked up by hazard. */
import { describe, expect, it } from 'vitest';
import { cumulativeHazard } from '../../lib/index.js';
import { lawOf } from '../../lib/life/distribution/functions.js';
import { dayOfHazard } from '../../lib/life/estimate/bounds/dayOfHazard.js';
import { redrawer } from '../../lib/life/estimate/bounds/redraw.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { nearbyRefit } from '../../lib/life/estimate/weibull/nearbyRefit.js';
import type { LifeModel, WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';

const fault = { share: 0.05, shape: 0.7, scale: 20 };

describe.each([
  ['beside faults', { kind: 'weibull', shape: 2.5, scale: 800, fault }],
  ['without faults', { kind: 'weibull', shape: 0.6, scale: 800 }],
  ['sharp', { kind: 'weibull', shape: 50, scale: 800, fault }],
] as [string, WeibullModel][])('a Weibull %s', (_, law) => {
  const days = Array.from({ length: 60 }, (_, i) => 100 + 10 * i);
  const watched = lifeSample({
    lower: days.map((day, i) => (i % 3 === 0 ? day : day - 0.5)),
    upper: days.map((day, i) => (i % 3 === 0 ? Infinity : day + 0.5)),
  });

  it('is fitted to samples drawn from it as the slow road does, or left to it', () => {
    const redraw = redrawer(watched, law, { closing: days.map(() => 1000) }, 'test');
    const random = randomStream(8, 'test/nearbyRefit');
    const refit = nearbyRefit(law);
    let answered = 0;
    for (let draw = 0; draw < 40; draw++) {
      const sample = redraw(random);
      const quick = refit(sample);
      if (quick === null) continue;
      const slow = fitLife(sample, { kind: 'weibull', ...(law.fault === undefined ? {} : { fault }) })
        .model as WeibullModel;
      // Both stop where the slopes vanish to rounding: 1e-8 of a shape is far below what moves a distance.
      expect(Math.abs(quick.shape / slow.shape - 1)).toBeLessThan(1e-8);
      expect(Math.abs(quick.scale / slow.scale - 1)).toBeLessThan(1e-8);
      expect(quick.fault).toEqual(law.fault);
      answered++;
    }
    expect(answered).toBeGreaterThan(30);
  });
});

it('leaves a sample whose best shape is far away, or that has none, to the slow road', () => {
  const refit = nearbyRefit({ kind: 'weibull', shape: 2, scale: 10 });
  expect(refit(lifeSample({ lower: [10, 10.1, 10.2], upper: [10, 10.1, 10.2] }))).toBeNull();
  expect(refit(lifeSample({ lower: [10, 10], upper: [10, 10] }))).toBeNull();
});

it.each([
  { kind: 'weibull', shape: 2.5, scale: 800, fault },
  { kind: 'weibull', shape: 0.05, scale: 1e-3 },
  { kind: 'weibull', shape: 50, scale: 40_000 },
  { kind: 'lognormal', mu: 6, sigma: 0.5 },
] as LifeModel[])('a hazard is reached on the day on which it is: %j', (model) => {
  const law = lawOf(model);
  const dayOf = dayOfHazard(law, model);
  const random = randomStream(9, 'test/dayOfHazard');
  for (let i = 0; i < 500; i++) {
    const hazard = -Math.log(random.uniform());
    const [quick, age] = [dayOf(hazard), law.ageAtHazard(model, hazard)];
    expect(Math.round(quick)).toBe(Math.round(age));
    expect(quick < 0.5).toBe(age < 0.5);
  }
  // Beyond the table and below the first half day.
  const late = cumulativeHazard(model, 80_000);
  if (Number.isFinite(late)) expect(dayOf(late) / law.ageAtHazard(model, late)).toBe(1);
  expect(dayOf(0)).toBe(0.25);
});
