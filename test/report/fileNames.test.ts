/** The files of a plan are named wherever somebody looks for them. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { planFiles } from '../../lib/report/files.js';
import { summaryText } from '../../lib/report/summary.js';
import { ordinaryPlan } from '../fixtures/plan.js';

describe('every file that is written', async () => {
  const plan = ordinaryPlan();
  const names = [...(await planFiles(plan, async () => '')).keys()];
  const summary = summaryText(plan, 'out');
  const readme = readFileSync('README.md', 'utf8');

  it.each(names)('%s is named at the end of the summary and in the README', (name) => {
    expect(summary).toContain(name);
    expect(readme).toContain(`| \`${name}\``);
  });
});
