import { describe, expect, it } from 'vitest';
import { changeSheetsHtml } from '../../lib/report/changeSheets.js';
import { emptyPlan, HOSTILE, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';

describe('the page for change control', () => {
  const plan = ordinaryPlan();
  const page = changeSheetsHtml(plan);

  it('has a sheet for each change, with what it rests on, the inputs and lines to sign', () => {
    expect(plan.changes.length).toBeGreaterThan(1);
    expect(page.match(/<section class="sheet">/g)).toHaveLength(plan.changes.length);
    expect(page.match(/Approved by/g)).toHaveLength(plan.changes.length);
    expect(page).toContain(plan.inputsHash);
    expect(page).toContain(plan.caution);
    for (const { group } of plan.changes) expect(page).toContain(group);
    expect(page).toContain('replacing later is asked for more than replacing sooner');
    expect(page).toContain('to be judged');
  });

  it('tells the parts of the leaks so that they add up', () => {
    const [first] = plan.changes;
    if (first === undefined) throw new Error('no change in the plan');
    const sheetOf = (data: Partial<typeof first.data>): string =>
      changeSheetsHtml({ ...plan, changes: [{ ...first, data: { ...first.data, ...data } }] });
    const all = { leaks: 27.85, wearLeaks: 22.85, earlyLeaks: 4 };
    expect(sheetOf(all)).toContain(
      '22.9 by wear-out, 4 in the first 60 days and 1 by faults of fitting found later',
    );
    expect(sheetOf({ ...all, earlyLeaks: 5 })).toContain('22.9 by wear-out and 5 in the first 60 days;');
  });

  it('says so where nothing changes', () => {
    expect(changeSheetsHtml(emptyPlan())).toContain('nothing to approve');
  });

  it('shows hostile names as text', () => {
    const hostile = changeSheetsHtml(hostilePlan());
    expect(hostile).not.toContain('<script>');
    expect(hostile).not.toContain('<img');
    expect(hostile).not.toContain('<svg');
    expect(hostile).toContain(`V-${'9'.repeat(500)}`);
    expect(HOSTILE.length).toBeGreaterThan(3);
  });

  it('loads nothing and runs nothing', () => {
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|https?:\/\//);
  });
});
