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
