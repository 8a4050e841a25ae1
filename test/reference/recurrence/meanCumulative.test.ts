/** Mean cumulative number of events against R survfit and against the definition of its variance (meanCumulative.R). */
import { describe, expect, it } from 'vitest';
import { type MeanCumulative, meanCumulative } from '../../../lib/recurrence/meanCumulative.js';
import cases from './meanCumulative.json' with { type: 'json' };
import published from './published.json' with { type: 'json' };

/** Both add up the same few hundred terms. */
const near = (got: Float64Array, want: readonly number[]): void => {
  expect(got.length).toBe(want.length);
  want.forEach((value, k) => {
    expect(Math.abs((got[k] as number) - value)).toBeLessThan(1e-11 * Math.max(1, Math.abs(value)));
  });
};

describe.each(['valveSeat', 'infections', 'late', 'costs'] as const)('%s', (name) => {
  const { rows, curve } = cases[name];

  it('mean, robust standard error and number watched as R', () => {
    const got = meanCumulative(rows, { fewestAtRisk: 1 });
    near(got.age, curve.age);
    near(got.mean, curve.mean);
    near(got.atRisk, curve.atRisk);
    near(got.standardError, curve.standardError);
  });
});

describe('B7: valve seats of 41 engines, two replacements of one engine on one day kept together', () => {
  const seats = published.valveSeat;
  const got: MeanCumulative = meanCumulative(seats, { level: seats.level });

  it('mean, robust variance and bounds as recomputed from the definition', () => {
    near(got.age, seats.eventAges);
    near(got.events, seats.events);
    near(got.atRisk, seats.atRisk);
    near(got.mean, seats.mean);
    near(
      got.standardError.map((x) => x * x),
      seats.robustVariance,
    );
    near(got.low, seats.low);
    near(got.high, seats.high);
  });

  it('is the same told as one table without starts', () => {
    const id = [...seats.eventSystem, ...seats.system];
    const stop = [...seats.eventAge, ...seats.end];
    const event = stop.map((_, k) => k < seats.eventAge.length);
    expect(meanCumulative({ id, stop, event }, { level: seats.level })).toEqual(got);
  });
});
