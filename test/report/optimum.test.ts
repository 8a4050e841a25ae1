import { describe, expect, it } from 'vitest';
import type { ShutdownOptimum } from '../../lib/interval/types.js';
import { optimumPart } from '../../lib/report/optimum.js';
import { emptyPlan, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';

const textOf = (part: ReturnType<typeof optimumPart>): string =>
  (part?.markup ?? '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\u00a0/g, ' ')
    .replace(/\s+/g, ' ');

describe('how good the plan is', () => {
  it('is told with the gap, what the due rule would cost, and what one more hour saves', () => {
    const text = textOf(optimumPart(ordinaryPlan()));
    expect(text).toContain(
      'This plan is within 0.4 % of the best possible that keeps the intervals within these hours',
    );
    expect(text).toContain('for the 304 positions whose interval the data support');
    expect(text).toMatch(/they cost 833 000 EUR, 14 % more/);
    expect(text).toMatch(/Autumn shutdown 2026 7 Oct 2026 191 190\.4 84\.2 145/);
  });

  it('is left out where nothing is placed, and says where hours are short for the intervals', () => {
    expect(optimumPart(emptyPlan())).toBeNull();
    const text = textOf(optimumPart(hostilePlan()));
    expect(text).toContain('For lack of hours 2 positions get past their intervals');
    expect(text).toContain('an interval kept');
    expect(text).toContain('After the end of the calendar 1 of 1 window that repeat it would be too full');
  });

  it('says that more hours would save nothing where none bind', () => {
    const plan = ordinaryPlan();
    const { optimum } = plan;
    const text = textOf(optimumPart({ ...plan, optimum: optimum && { ...optimum, limits: [] } }));
    expect(text).toContain('No hours bind: more of them would save nothing here.');
  });

  it('says so where nothing is known of how near the best it is, and where it is dearer than the due rule', () => {
    const plan = ordinaryPlan();
    const optimum = { ...(plan.optimum as ShutdownOptimum), cost: 100_000, lowerBound: 35_000, gap: 0.65 };
    const text = textOf(
      optimumPart({ ...plan, optimum: { ...optimum, byDueRule: 90_000, pastInterval: 5 } }),
    );
    expect(text).toContain('How near this plan is to the best possible cannot be told within these hours');
    expect(text).not.toContain('65 %');
    expect(text).toMatch(/they would cost 90 000 EUR, 10 % less, but leave more past their intervals/);
  });
});
