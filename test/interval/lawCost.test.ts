import { describe, expect, it } from 'vitest';
import { chooseAge } from '../../lib/index.js';
import { lawCost } from '../../lib/interval/lawCost.js';
import { survival } from '../../lib/life/distribution/index.js';

const model = {
  kind: 'weibull',
  shape: 3,
  scale: 900,
  fault: { share: 0.03, shape: 0.8, scale: 10 },
} as const;
const costs = { replacement: 1, leak: 4, opening: 0, openingsPerDay: 0 };

describe('lawCost', () => {
  it('agrees with chooseAge on a Weibull with faulty fittings', () => {
    const known = chooseAge(model, { replacement: 1, leak: 4 });
    const cost = lawCost((age) => survival(model, age), costs, { days: 3000, run: true });
    // Panels of 3 % with three nodes, over a fault part steep at age 0.
    expect(Math.abs((cost.bestDays ?? 0) / (known.age ?? 1) - 1)).toBeLessThan(1e-3);
    expect(Math.abs(cost.leastPerYear / 365.25 / known.costRate - 1)).toBeLessThan(1e-4);
  });

  it('runs constant hazards, at the leak cost over the mean life', () => {
    const cost = lawCost((age) => Math.exp(-age / 500), costs, { days: 1000, run: true });
    expect(cost.bestDays).toBeNull();
    expect(Math.abs(cost.perYearAt(null) / ((4 * 365.25) / 500) - 1)).toBeLessThan(1e-8);
  });

  it('keeps within the reach', () => {
    const cost = lawCost((age) => survival(model, age), costs, { days: 200, run: false });
    expect(cost.bestDays).toBe(200);
  });
});
