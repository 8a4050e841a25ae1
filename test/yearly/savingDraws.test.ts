import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { compareCost } from '../../lib/yearly/compare.js';
import { ends, shareAbove } from '../../lib/yearly/draws.js';
import { savingDraws } from '../../lib/yearly/savingDraws.js';
import { exact, RATIO_TEN, testPlant } from '../interval/fixtures.js';

const ages = Array.from({ length: 40 }, (_, i) => (i * 18) % 720);
const draws = [0.8, 0.9, 1, 1.1, 1.3].map((factor) => ({ shape: 3, scale: 900 * factor, share: 0.02 }));

describe('the draws of the saving', () => {
  const { fleet, grouped } = testPlant(
    [{ shape: 3, scale: 900, share: 0.02, draws, openingsPerYear: 0.1, todayDays: 730, ages }],
    { money: RATIO_TEN },
  );
  const costs = groupCosts(fleet, grouped);
  const intervals = adviseIntervals(fleet, grouped, costs, { seed: 1 });

  it('are those behind the range and the chance of the comparison', () => {
    const { today, proposed, saving } = savingDraws(fleet, grouped, intervals, { seed: 1 });
    const compared = compareCost(fleet, grouped, costs, intervals, { seed: 1 });
    expect(saving).toHaveLength(grouped.groups[0]?.draws.shape.length ?? 0);
    expect(ends(Float64Array.from(saving))).toEqual([compared.saving.low, compared.saving.high]);
    expect(ends(Float64Array.from(today))).toEqual([compared.today.low, compared.today.high]);
    expect(ends(Float64Array.from(proposed))).toEqual([compared.proposed.low, compared.proposed.high]);
    expect(shareAbove(Float64Array.from(saving), 0)).toBe(compared.saving.chance);
  });

  it('are other draws by another seed, where prices have a range', () => {
    const spread = exact(60);
    const money = { ...fleet.site.money, labourPerHour: { ...spread, low: 30, high: 120 } };
    const priced = { ...fleet, site: { ...fleet.site, money } };
    const by = (seed: number): number[] => savingDraws(priced, grouped, intervals, { seed }).today;
    expect(by(1)).toEqual(by(1));
    expect(by(2)).not.toEqual(by(1));
  });
});
