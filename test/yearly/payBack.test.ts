import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { payBack, type YearCosts } from '../../lib/yearly/payBack.js';

/** Costs by year, and the same in every draw but for what is added to each year's cost there. */
function costs(years: number[], added: number[] = [0]): YearCosts {
  return {
    years: years.map((cost) => ({ cost })),
    drawn: years.map((cost) => Float64Array.from(added, (more) => cost + more)),
  };
}

const rate = (mean: number, draws = 1) => ({ mean, drawn: new Float64Array(draws).fill(mean) });

describe('payBack', () => {
  it('adds up discounted savings: worked by hand at 10 %', () => {
    // Savings of the years: 500 - 600, 500 - 470, 500 - 440, 500 - 410.
    const result = payBack(costs([500, 500, 500, 500]), costs([600, 470, 440, 410]), rate(0.1));
    expect(result.years.map(({ saving }) => saving)).toEqual([-100, 30, 60, 90]);
    // -100 / 1.1, 30 / 1.21, 60 / 1.331, 90 / 1.4641.
    const discounted = [-90.90909, 24.79339, 45.07889, 61.47121];
    const cumulated = [-90.90909, -66.1157, -21.03681, 40.4344];
    result.years.forEach((year, y) => {
      expect(year.discounted).toBeCloseTo(discounted[y] as number, 5);
      expect(year.cumulated).toBeCloseTo(cumulated[y] as number, 4);
      expect(year.low).toBe(year.cumulated);
    });
    expect(result).toMatchObject({ verdict: 'within the horizon', year: 4, range: [4, 4], chance: 1 });
    // Not discounted: -100, -70, -10, 80.
    expect(payBack(costs([500, 500, 500]), costs([600, 470, 440]), rate(0)).verdict).toBe(
      'never within the horizon',
    );
  });

  it('pays at once, later, never, or has nothing to pay', () => {
    const verdict = (today: number[], proposed: number[]) => {
      const { verdict: words, year } = payBack(costs(today), costs(proposed), rate(0));
      return [words, year];
    };
    expect(verdict([10, 10], [9, 10])).toEqual(['at once', 1]);
    expect(verdict([10, 10], [12, 8])).toEqual(['within the horizon', 2]);
    expect(verdict([10, 10], [12, 9])).toEqual(['never within the horizon', null]);
    expect(verdict([10, 10], [10, 10])).toEqual(['nothing changes', null]);
    // Saves first, costs more after: not paid for at the end.
    expect(verdict([10, 10, 10], [9, 10, 13])).toEqual(['never within the horizon', null]);
    // Falls below 0 again on the way: paid for from the last time on.
    expect(verdict([10, 10, 10], [9, 12, 8])).toEqual(['within the horizon', 3]);
  });

  it('has the range of the draws, each against its own: one of three never pays', () => {
    const result = payBack(costs([100, 100], [0, 30, -60]), costs([110, 80], [0, 0, 0]), rate(0, 3));
    // Savings of the draws: -10 and 20; 20 and 50; -70 and -40.
    expect(result).toMatchObject({ year: 2, range: [1, null], chance: 2 / 3 });
    const [first, second] = result.years;
    // Added up: -10, 20, -70, then 10, 70, -110; between two draws in proportion.
    expect(first?.low).toBeCloseTo(-70 + 0.1 * 60, 12);
    expect(second?.high).toBeCloseTo(70 - 0.1 * 60, 12);
  });

  it('at rate 0 is the plain sum; a higher rate makes what comes later smaller', () => {
    const amounts = fc.array(fc.integer({ min: -1_000_000, max: 1_000_000 }), {
      minLength: 1,
      maxLength: 20,
    });
    fc.assert(
      fc.property(amounts, fc.double({ min: 0.001, max: 1, noNaN: true }), (savings, share) => {
        const nothing = costs(savings.map(() => 0));
        const plain = payBack(costs(savings), nothing, rate(0)).years;
        let sum = 0;
        plain.forEach((year, y) => {
          sum += savings[y] as number;
          expect(year.cumulated).toBe(sum);
        });
        payBack(costs(savings), nothing, rate(share)).years.forEach((year, y) => {
          expect(Math.abs(year.discounted)).toBeLessThanOrEqual(Math.abs(savings[y] as number));
          const whole = year.discounted * (1 + share) ** (y + 1);
          expect(Math.abs(whole - (savings[y] as number))).toBeLessThanOrEqual(1e-12 * Math.abs(whole));
        });
      }),
      { seed: 1 },
    );
  });
});
