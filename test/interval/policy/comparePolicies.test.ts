import { describe, expect, it } from 'vitest';
import { groupCost } from '../../../lib/cost/groupCost.js';
import { adviseIntervals } from '../../../lib/interval/advise.js';
import { chooseAge, costRate } from '../../../lib/interval/chooseAge.js';
import { blockCostRate, chooseBlockAge } from '../../../lib/interval/policy/chooseBlockAge.js';
import { drawRenewals, renewalsAt } from '../../../lib/interval/policy/drawRenewals.js';
import type { PolicyFigures } from '../../../lib/interval/types.js';
import type { LifeModel } from '../../../lib/life/model.js';
import { renewalCount } from '../../../lib/life/renewal.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { type TestGroup, testPlant } from '../fixtures.js';

function policiesOf(group: TestGroup): PolicyFigures[] {
  const { fleet, grouped } = testPlant([group]);
  const costs = grouped.groups.map((each) => groupCost(fleet, each));
  return adviseIntervals(fleet, grouped, costs)[0]?.policies ?? [];
}

const of = (policies: PolicyFigures[], policy: PolicyFigures['policy']): PolicyFigures => {
  const found = policies.find((each) => each.policy === policy);
  if (found === undefined) throw new Error(`no ${policy}`);
  return found;
};

describe('policies of a group without spread', () => {
  // Every draw is the truth: the figures are those of the known model. A replacement costs 100, a leak 1000.
  const truth = { shape: 3, scale: 900, failures: 40, lives: 200, todayDays: 500 };
  const model: LifeModel = { kind: 'weibull', shape: 3, scale: 900 };
  const costs = { replacement: 100, leak: 1000 };
  const policies = policiesOf({ ...truth, ages: Array.from({ length: 20 }, () => 100) });

  it('are the five, with the intervals that they are for', () => {
    expect(policies.map(({ policy }) => policy)).toEqual(['advised', 'today', 'run', 'block', 'best block']);
    expect(of(policies, 'today').days).toBe(500);
    expect(of(policies, 'run').days).toBeNull();
    expect(of(policies, 'block').days).toBe(of(policies, 'advised').days);
  });

  it('cost what the known model costs: by age exactly, by block to 2e-4', () => {
    for (const { policy, days, costPerYear, costRange } of policies) {
      const isBlock = policy === 'block' || policy === 'best block';
      const rate = isBlock
        ? blockCostRate(model, days ?? 0, costs)
        : costRate(model, days ?? Infinity, costs);
      expect(Math.abs(costPerYear / (rate * 365.25) - 1)).toBeLessThan(isBlock ? 2e-4 : 1e-6);
      for (const end of costRange) expect(end / costPerYear).toBeCloseTo(1, 10);
    }
  });

  it('the best block is that of the known model, to a day or two of a flat minimum', () => {
    const best = chooseBlockAge(model, costs);
    expect(Math.abs((of(policies, 'best block').days ?? 0) - (best.age ?? 0))).toBeLessThan(3);
    expect(of(policies, 'best block').costPerYear / (best.costRate * 365.25) - 1).toBeLessThan(2e-4);
    expect(of(policies, 'best block').costPerYear).toBeGreaterThan(chooseAge(model, costs).costRate * 365.25);
  });

  it('leaks and diaphragms add up: a block fits one more each interval than leak', () => {
    const block = of(policies, 'block');
    const days = block.days ?? 0;
    expect(block.replacementsPerYear - block.leaksPerYear).toBeCloseTo(365.25 / days, 10);
    expect(Math.abs(block.leaksPerYear / ((renewalCount(model, days) / days) * 365.25) - 1)).toBeLessThan(
      2e-4,
    );
    const run = of(policies, 'run');
    expect(run.leaksPerYear).toBeCloseTo(run.replacementsPerYear, 10);
  });
});

it('a group that runs until it leaks has no block', () => {
  const policies = policiesOf({
    shape: 0.9,
    scale: 900,
    failures: 40,
    lives: 60,
    todayDays: 500,
    exceededShare: 0.5,
    ages: Array.from({ length: 20 }, () => 100),
  });
  expect(policies.map(({ policy }) => policy)).toEqual(['advised', 'today', 'run']);
  expect(of(policies, 'advised')).toEqual({ ...of(policies, 'run'), policy: 'advised' });
});

describe('drawRenewals', () => {
  // Shapes, scales, faults and openings as posteriors have them, drawn with a fixed seed.
  const random = randomStream(46, 'draws');
  const count = 24;
  const column = (value: () => number): Float64Array => Float64Array.from({ length: count }, value);
  const draws = {
    shape: column(() => 1 + 4 * random.uniform()),
    scale: column(() => 300 + 2000 * random.uniform()),
    share: column(() => 0.1 * random.uniform()),
    faultShape: 0.8,
    faultScale: 12,
  };

  it.each([0, 0.0008])(
    'is good to 3e-4 of the count at the middle of 48 steps, openings %d a day',
    (openings) => {
      const days = 365;
      const renewals = drawRenewals(draws, openings, (2 * days) / 48, 48);
      for (let d = 0; d < count; d++) {
        const wear: LifeModel = {
          kind: 'weibull',
          shape: draws.shape[d] as number,
          scale: draws.scale[d] as number,
          fault: { share: draws.share[d] as number, shape: 0.8, scale: 12 },
        };
        const model: LifeModel =
          openings === 0
            ? wear
            : { kind: 'competing', modes: [wear, { kind: 'exponential', scale: 1 / openings }] };
        for (const time of [days, 1.37 * days])
          expect(Math.abs(renewalsAt(renewals, d, time) / renewalCount(model, time) - 1)).toBeLessThan(3e-4);
      }
    },
  );

  it('is good to 1e-4 where each life ends at the same rate', () => {
    const steady = { ...draws, shape: column(() => 1), share: column(() => 0) };
    const renewals = drawRenewals(steady, 0, 5, 48);
    for (let d = 0; d < count; d++)
      expect(Math.abs(renewalsAt(renewals, d, 120) / (120 / (steady.scale[d] as number)) - 1)).toBeLessThan(
        1e-4,
      );
  });
});
