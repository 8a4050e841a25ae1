/** The quick search of a choice of clock against the full one. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { chooseClock } from '../../../lib/exposure/clock/chooseClock.js';
import { compareClocks } from '../../../lib/exposure/clock/compareClocks.js';
import type { ClockColumns } from '../../../lib/exposure/clock/types.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { plantOf } from './plants.js';

const TRUTHS = [
  { seed: 11, dayShare: 1, cycleShare: 0, rateSd: 0.3 },
  { seed: 12, dayShare: 0, cycleShare: 1, rateSd: 0.3 },
  { seed: 13, dayShare: 0.5, cycleShare: 0.5, rateSd: 0.5 },
  { seed: 14, dayShare: 0.8, cycleShare: 0.2, rateSd: 0.6 },
] as const;

function scaled({ days, exposures }: ClockColumns, unit: number): ClockColumns {
  const steam = exposures['steam cycles'] as NonNullable<ClockColumns['exposures'][string]>;
  const by = (column: ArrayLike<number>): number[] => Array.from(column, (x) => x * unit);
  return { days, exposures: { 'steam cycles': { exit: by(steam.exit), rate: by(steam.rate) } } };
}

describe.each(TRUTHS)('days $dayShare, cycles $cycleShare', (truth) => {
  const plant = plantOf(truth);
  const full = chooseClock(plant, { draws: 100 });
  const quick = chooseClock(plant, { draws: 100, effort: 'quick' });

  it('finds the likelihoods of the full search', () => {
    for (const one of full.rows) {
      if (one.aic === null) continue;
      const aic = quick.rows.find(({ clock }) => clock === one.clock)?.aic ?? null;
      // A weight beyond e^5 times the even one is given up: the clock is then one of its parts, but for the parameter that costs 2.
      if (aic === null)
        expect(one.aic).toBeGreaterThan(Math.min(...full.rows.map((row) => row.aic ?? Infinity)) + 1.5);
      // A weight good to a fiftieth moves the top of a curve by its square: below a tenth in AIC, where 2 is a difference.
      else expect(Math.abs(aic - one.aic)).toBeLessThan(0.1);
    }
  });

  it('chooses the same, nearly as surely', () => {
    expect(quick.best).toBe(full.best);
    expect(quick.rival).toBe(full.rival);
    // Both shares come from 100 draws of their own: 4 standard errors of their difference at a share of 0.9.
    expect(Math.abs(quick.agreement - full.agreement)).toBeLessThan(4 * Math.sqrt((2 * 0.09) / 100));
  });

  it('has the same law of the chosen clock', () => {
    if (quick.clock !== full.clock) return;
    expect(quick.law.half.estimate / full.law.half.estimate).toBeCloseTo(1, 4);
    expect(quick.law.half.low / full.law.half.low).toBeCloseTo(1, 3);
  });

  it.each([1e-9, 1e12])('does not mind the unit of a count, times %s', (unit) => {
    const other = chooseClock(scaled(plant, unit), { draws: 100, effort: 'quick' });
    expect(other.best).toBe(quick.best);
    expect(other.lead).toBeCloseTo(quick.lead as number, 2);
  });
});

describe('what each position adds to a lead', () => {
  const plant = plantOf({ seed: 12, dayShare: 0, cycleShare: 1, rateSd: 0.3 });

  it('adds up to the lead, most first', () => {
    const compared = compareClocks(plant, { draws: 20, effort: 'quick' });
    const parts = compared.leadParts();
    expect(parts.length).toBe(60);
    // Both clocks have as many parameters, so that nothing but likelihoods is left.
    expect(parts.reduce((total, { lead }) => total + lead, 0)).toBeCloseTo(compared.lead as number, 8);
    parts.slice(1).forEach(({ lead }, i) => {
      expect(lead).toBeLessThanOrEqual((parts[i] as { lead: number }).lead);
    });
    expect(new Set(parts.map(({ cluster }) => cluster)).size).toBe(60);
  });
});

describe('what cannot be compared', () => {
  const of = (ages: number[], leaked: number[]): ClockColumns => ({
    days: lifeSample({ lower: ages, upper: ages.map((age, i) => (leaked[i] === 1 ? age : Infinity)) }),
    exposures: {
      strokes: { exit: ages.map((age, i) => age * (1 + (i % 3))), rate: ages.map((_, i) => 1 + (i % 3)) },
    },
  });

  it('leaks all at one age and count have no law', () => {
    const ages = new Array<number>(8).fill(100);
    const same = {
      ...of(
        ages,
        ages.map(() => 1),
      ),
      exposures: { strokes: { exit: ages, rate: ages.map(() => 1) } },
    };
    expect(() => compareClocks(same, { effort: 'quick' })).toThrow(UsageError);
  });

  it('knows the weibull law only, and two efforts', () => {
    const plant = of([10, 20, 30, 40, 50, 60, 70], [1, 1, 1, 1, 1, 1, 0]);
    expect(() => compareClocks(plant, { effort: 'quick', kind: 'lognormal' })).toThrow(/weibull law only/);
    expect(() => compareClocks(plant, { effort: 'some' as never })).toThrow(/effort must be/);
  });
});
