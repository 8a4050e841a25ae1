/** A group that no position uses now, in what each reader takes away. */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { intervalsOverview } from '../../lib/chart/index.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { UNUSED_FIGURES } from '../../lib/interval/unused.js';
import type { Plan } from '../../lib/planTypes.js';
import { csvFiles } from '../../lib/report/csv.js';
import { engineerPart } from '../../lib/report/engineer.js';
import { figures } from '../../lib/report/figure.js';
import { summaryText } from '../../lib/report/summary.js';
import { ordinaryPlan } from '../fixtures/plan.js';

/** The ordinary plan with its first group no longer used. */
function withUnused(): { plan: Plan; name: string } {
  const plan = ordinaryPlan();
  const [first, ...rest] = plan.intervals as [IntervalAdvice, ...IntervalAdvice[]];
  const unused: IntervalAdvice = {
    ...first,
    action: 'keep',
    keptFor: 'no positions',
    direction: 'leave',
    days: null,
    months: null,
    inPractice: null,
    positions: 0,
    because: '12 leaks in 60 lives; no position uses it now, so there is no interval to act on.',
    inShort: 'no position uses it now',
    ...UNUSED_FIGURES,
    costRange: [0, 0],
    warnings: [],
  };
  return { plan: { ...plan, intervals: [unused, ...rest] }, name: first.group };
}

describe('a group that no position uses', () => {
  it('has one plain line in the summary', () => {
    const { plan, name } = withUnused();
    const lines = summaryText(plan, 'out').split('\n');
    const start = lines.findIndex((line) => line.startsWith('INTERVALS'));
    expect(lines[start + 1]).toBe(`  ${name}: no position uses it now`);
    expect(lines[start + 2]).toMatch(/^ {2}\S/);
  });

  it('is not drawn, and has neither cost nor interval in the tables', () => {
    const { plan, name } = withUnused();
    const chart = intervalsOverview(plan.intervals, 'EUR');
    expect(chart.finding).toContain('1 used by no position now');
    expect(JSON.stringify(chart.spec.layer)).not.toContain(name);
    const row = chart.table.rows.find(([group]) => group === name) ?? [];
    expect(row.slice(3)).toEqual(['not used now', 'none', null, null, null]);
    const only = intervalsOverview(plan.intervals.slice(0, 1), 'EUR');
    expect(only.description).toBe('Of 1 group: 1 used by no position now.');
  });

  it('has no amount in intervals.csv, and no picture of its own in the report', async () => {
    const { plan, name } = withUnused();
    const rows: unknown = parse(csvFiles(plan)['intervals.csv'], { columns: true, bom: true });
    expect(rows).toContainEqual(
      expect.objectContaining({
        group: name,
        kept_for: 'no positions',
        days: '',
        cost_per_position_and_year: '',
        cost_low: '',
        leaks_per_year: '',
      }),
    );
    const page = figures();
    const part = await engineerPart(plan, page);
    expect(part.markup).not.toContain(`Picture: ${name}: cost against interval`);
    expect(part.markup).toContain(`Picture: ${plan.intervals[1]?.group}: cost against interval`);
    expect(part.markup).toContain('no position uses it now, so there is no interval to act on');
  });
});
