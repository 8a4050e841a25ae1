/** What the plan says of each group's law. */
import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import type { LawCheck } from '../../lib/group/checkLaw.js';
import { weighIntervals } from '../../lib/interval/advise.js';
import { checkGroups, checkWarnings } from '../../lib/interval/checkGroups.js';
import type { GroupCheck } from '../../lib/interval/types.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { type TestGroup, type TestOptions, testPlant } from './fixtures.js';

const GROUP: TestGroup = { material: 'EPDM', size: 25, shape: 3, scale: 900, ages: [100, 300] };
/** The lognormal with the mean and spread of log life of that Weibull. */
const LIKE = { mu: Math.log(900) - 0.19, sigma: 0.43 };

function law(p: number | null, aicDifference = 0, leaks = 40): LawCheck {
  return { leaks, p, resamples: p === null ? 0 : 999, lognormal: { ...LIKE, aicDifference } };
}

function checksOf(laws: LawCheck[], group: Partial<TestGroup> = {}, options: TestOptions = {}): GroupCheck[] {
  const { fleet, grouped } = testPlant(
    laws.map(() => ({ ...GROUP, ...group })),
    options,
  );
  const costs = groupCosts(fleet, grouped);
  const { intervals } = weighIntervals(fleet, grouped, costs);
  return checkGroups(grouped.groups, costs, intervals, laws);
}

const one = (check: LawCheck, group: Partial<TestGroup> = {}, options: TestOptions = {}): GroupCheck =>
  itemAt(checksOf([check], group, options), 0);

describe('verdicts', () => {
  it('need a smaller p where there are many groups', () => {
    expect(one(law(0.04)).verdict).toBe('does not fit');
    const among = checksOf([law(0.04), ...Array.from({ length: 9 }, () => law(0.6))]);
    expect(among.map(({ verdict }) => verdict)).toEqual(Array.from({ length: 10 }, () => 'fits'));
    expect(among[0]?.adjusted).toBeCloseTo(0.4, 12);
    const several = checksOf(
      [0.005, 0.01, 0.02, 0.03, ...Array.from({ length: 6 }, () => 0.6)].map((p) => law(p)),
    );
    // Benjamini & Hochberg: the fourth of ten is held against 0.04.
    expect(several.filter(({ verdict }) => verdict === 'does not fit')).toHaveLength(4);
  });

  it('leave groups out of the count that cannot be judged', () => {
    const checks = checksOf([law(0.04), ...Array.from({ length: 9 }, () => law(null, 0, 4))]);
    expect(checks.map(({ verdict }) => verdict)).toEqual([
      'does not fit',
      ...Array.from({ length: 9 }, () => 'cannot be judged'),
    ]);
    expect(checks[1]).toMatchObject({ p: null, adjusted: null, resamples: 0, leaks: 4 });
  });
});

describe('the second opinion', () => {
  it('is preferred only with an AIC lower by 6 and 20 leaks', () => {
    const preferred = (aic: number, leaks: number): boolean | undefined =>
      one(law(0.5, aic, leaks)).secondOpinion?.preferred;
    expect(preferred(6, 20)).toBe(true);
    expect(preferred(5.99, 20)).toBe(false);
    expect(preferred(60, 19.9)).toBe(false);
    expect(preferred(-60, 200)).toBe(false);
  });

  it('has the cost of the advised interval under both laws, each above its own least', () => {
    const { weibull, lognormal } = one(law(0.5)).secondOpinion ?? {};
    for (const under of [weibull, lognormal]) {
      expect(under?.costPerYear).toBeGreaterThanOrEqual((under?.leastPerYear ?? Infinity) * (1 - 1e-9));
      expect(under?.aboveLeast).toBeCloseTo((under?.costPerYear ?? 0) / (under?.leastPerYear ?? 1) - 1, 9);
    }
    // The plan's own law: advised within 2 % of its best age. A lognormal wears out later, so another age is the best.
    expect(weibull?.aboveLeast).toBeLessThan(0.021);
    expect(lognormal?.bestDays).not.toBeCloseTo(weibull?.bestDays ?? 0, 0);
  });

  it('has no cost without prices or positions, and is none without a lognormal', () => {
    const unpriced = { downtimePerHour: new Map(), batchValue: { low: 0, likely: 0, high: 0 } };
    expect(one(law(0.5), {}, { money: unpriced }).secondOpinion).toMatchObject({
      weibull: null,
      lognormal: null,
    });
    expect(one(law(0.5), { ages: [] }).secondOpinion).toMatchObject({ weibull: null, lognormal: null });
    expect(one({ ...law(0.5), lognormal: null }).secondOpinion).toBeNull();
  });
});

describe('warnings', () => {
  const under = { bestDays: 304, leastPerYear: 100, costPerYear: 112, aboveLeast: 0.12 };
  const judged = (change: Partial<GroupCheck>, lognormal: typeof under | null = under): GroupCheck => ({
    verdict: 'fits',
    leaks: 41.3,
    p: 0.4,
    adjusted: 0.4,
    resamples: 12,
    secondOpinion: {
      kind: 'lognormal',
      ...LIKE,
      aicDifference: 8.25,
      preferred: true,
      weibull: null,
      lognormal,
    },
    ...change,
  });

  it('are none where the law fits and no other is preferred', () => {
    expect(checkWarnings(judged({ secondOpinion: null }), 365)).toEqual([]);
    const open = judged({});
    expect(
      checkWarnings({ ...open, secondOpinion: { ...open.secondOpinion, preferred: false } as never }, 365),
    ).toEqual([]);
  });

  it('of a misfit say how rare it is and what to do', () => {
    const [warning] = checkWarnings(judged({ verdict: 'does not fit', p: 0.001, secondOpinion: null }), 365);
    expect(warning?.code).toBe('model-does-not-fit');
    expect(warning?.text).toContain('41.3 leaks');
    expect(warning?.text).toContain('1 draw of 1000');
    expect(warning?.todo).toMatch(/^Look for two kinds of lives.*do not lengthen the interval\.$/);
  });

  it('of a better law name both ages with their unit, and what to do by how dear a mistake is', () => {
    const [dear] = checkWarnings(judged({}), 183);
    expect(dear?.code).toBe('lognormal-fits-better');
    expect(dear?.text).toContain('AIC lower by 8.3');
    expect(dear?.text).toContain('6 months would cost 12.0 % above the least, which is at 10 months');
    expect(dear?.todo).toContain('provisional');
    const [cheap] = checkWarnings(judged({}, { ...under, costPerYear: 101, aboveLeast: 0.01 }), 183);
    expect(cheap?.todo).toContain('good under both laws');
  });

  it('of a better law without costs do not call the interval good', () => {
    const [warning] = checkWarnings(judged({}, null), 183);
    expect(warning?.text).not.toMatch(/cost/);
    expect(warning?.todo).not.toContain('good under both');
    expect(warning?.todo.length).toBeGreaterThan(20);
  });

  it('say running where nothing is scheduled', () => {
    const [warning] = checkWarnings(judged({}, { ...under, bestDays: null as never }), null);
    expect(warning?.text).toContain(
      'running until it leaks would cost 12.0 % above the least, which is at running',
    );
  });
});
