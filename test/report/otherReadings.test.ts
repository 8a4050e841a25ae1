/** Other readings of the records in the engineer's part. */
import { describe, expect, it } from 'vitest';
import type { DamageLife } from '../../lib/group/types.js';
import { otherReadings } from '../../lib/report/otherReadings.js';
import { ordinaryPlan } from '../fixtures/plan.js';

const plan = ordinaryPlan();
const damage: DamageLife = {
  damaged: 15,
  sound: 170,
  leaks: 21,
  notLookedAt: 38,
  life: {
    shape: { low: 1.1, median: 1.6, high: 2.4 },
    scale: { low: 740, median: 1080, high: 2020 },
    delay: { low: 71, median: 137, high: 236 },
    ages: [183, 365, 730],
    share: [
      { low: 0.03, median: 0.05, high: 0.08 },
      { low: 0.12, median: 0.16, high: 0.21 },
      { low: 0.29, median: 0.41, high: 0.57 },
    ],
  },
};

describe('removals without a reason', () => {
  const { markup } = otherReadings(plan);

  it('have a row for each group whose life parts, with the ages at all five odds', () => {
    expect(markup).toContain('All leaks');
    const parted = plan.groups.filter(({ unknown }) => unknown?.parts === true);
    expect(parted.length).toBeGreaterThan(2);
    expect(parted.length).toBeLessThan(plan.groups.length);
    expect(markup).toContain(`In ${plan.groups.length - parted.length} groups it moves by no more than 5 %`);
    const [caption, ...others] = markup.split('Reasons to ask for first');
    const rest = others.join('');
    expect(caption?.match(/<th scope="row"/g)).toHaveLength(parted.length);
    expect(rest).toContain('V-80');
    expect(rest).toContain('−14');
    expect(markup).toContain('under 1 leak');
  });

  it('are not spoken of where every reason is known', () => {
    const known = { ...plan, groups: plan.groups.map((group) => ({ ...group, unknown: null })) };
    expect(otherReadings(known).markup).toBe('');
  });
});

describe('damage', () => {
  it('is shown with its ranges, and said not to be priced', () => {
    const asked = {
      ...plan,
      groups: plan.groups.map((group, i) => ({ ...group, damage: i === 0 ? damage : null })),
    };
    const { markup } = otherReadings(asked);
    expect(markup).toContain('no interval, order or cost rests on this table');
    expect(markup).toContain('15 of 185');
    expect(markup).toContain('16 % (12 % to 21 %)');
    expect(markup).toContain('140 (71 to 240)');
  });

  it('is not shown where nobody asked', () => {
    expect(otherReadings(plan).markup).not.toContain('Share found damaged');
  });
});
