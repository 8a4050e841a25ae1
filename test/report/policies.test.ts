/** Policies side by side in the engineer's part. */
import { describe, expect, it } from 'vitest';
import { policiesPart } from '../../lib/report/policies.js';
import { ordinaryPlan } from '../fixtures/plan.js';

const plan = ordinaryPlan();
const markup = policiesPart(plan)?.markup ?? '';

describe('the table of policies', () => {
  it('has a row for each group, with unit and range, and what a group has not is said', () => {
    expect(markup.match(/<th scope="row"/g)).toHaveLength(plan.intervals.length);
    expect(markup).toContain(
      `Cost in ${plan.site.currency} per position and year, with the 5 % to 95 % range`,
    );
    const without = plan.intervals.filter(({ days }) => days === null).length;
    expect(without).toBeGreaterThan(0);
    expect(markup.match(/no interval/g)).toHaveLength(without);
    expect(markup.match(/none found/g)).toHaveLength(without);
  });

  it('says what fixed dates cost more, and that a cheaper policy is no advice by itself', () => {
    expect(markup).toContain('fixed dates cost 5\u00a0% more than going by age');
    expect(markup).toContain('no advice by itself');
  });

  it('says so where fixed dates are the cheaper in some groups', () => {
    const intervals = plan.intervals.map((each, i) => ({
      ...each,
      policies: each.policies.map((figures) =>
        figures.policy === 'block' && i % 2 === 0
          ? { ...figures, costPerYear: figures.costPerYear / 1.05 ** 2 }
          : figures,
      ),
    }));
    const mixed = policiesPart({ ...plan, intervals })?.markup ?? '';
    expect(mixed).toContain('cost from 4.8\u00a0% less to 5\u00a0% more than going by age');
  });

  it('leaves out groups without prices or positions, and itself where none is left', () => {
    const intervals = plan.intervals.map((each, i) =>
      i === 0 ? { ...each, keptFor: 'no prices' as const } : i === 1 ? { ...each, policies: [] } : each,
    );
    const fewer = policiesPart({ ...plan, intervals })?.markup ?? '';
    expect(fewer.match(/<th scope="row"/g)).toHaveLength(plan.intervals.length - 2);
    expect(policiesPart({ ...plan, intervals: [] })).toBeNull();
  });
});
