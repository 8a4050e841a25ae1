/** Singular and plural: a plant of one position, one interval of a month, and savings of nothing. */
import { describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { planFleet } from '../../lib/plan.js';
import type { Plan } from '../../lib/planTypes.js';
import { reportHtml } from '../../lib/report/html.js';
import { savingSentence } from '../../lib/report/saving.js';
import { summaryText } from '../../lib/report/summary.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { folderFiles, writeFolder } from '../plan/folders.js';

const ONE_OF_MANY =
  /(?<![\d.,\u00a0])1[ \u00a0](?:positions|months|days|leaks|lives|rows|removals|replacements|groups|items|orders|openings|shutdowns|lines|pieces|hours|cells|kinds|years|life models have|more groups)\b/;

async function smallestPlan(): Promise<Plan> {
  const groups = [
    { material: 'EPDM', size: 25, positions: 1, shape: 3, scale: 900, replacedAt: 400 },
    { material: 'FKM', size: 25, positions: 1, shape: 3, scale: 900, replacedAt: 400 },
  ];
  const files = folderFiles({ seed: 1, groups, watchedDays: 900 });
  const lives = (files.get('lives.csv') ?? '').trim().split('\n');
  const [first = ''] = lives.slice(-1);
  files.set(
    'lives.csv',
    `${lives.join('\n')}\n${first.split(',')[0]},FKM,25,2024-01-01,2024-01-20,unknown,\n`,
  );
  const [head = '', , ...rest] = (files.get('items.csv') ?? '').split('\n');
  files.set('items.csv', [head, ...rest].join('\n'));
  return planFleet(await readFleet(writeFolder(files)), { seed: 1 });
}

describe('one of each', () => {
  it('is said in the singular all over a plan of two positions', async () => {
    const plan = await smallestPlan();
    const texts = [summaryText(plan, 'out'), JSON.stringify(plan), await reportHtml(plan, async () => '')];
    for (const text of texts) {
      const found = ONE_OF_MANY.exec(text);
      const around = found === null ? '' : text.slice(Math.max(0, found.index - 60), found.index + 60);
      expect(around).toBe('');
    }
    expect(plan.stock.flatMap(({ warnings }) => warnings).map(({ text }) => text)).toContain(
      '1 position takes EPDM DN 25, and items.csv has no such item.',
    );
  }, 30_000);

  it('is a month, and one more group, in the summary', () => {
    const plan = ordinaryPlan();
    const [first] = plan.intervals as [IntervalAdvice];
    const month: IntervalAdvice = { ...first, action: 'replace', days: 30, months: 1, direction: 'shorten' };
    const many = Array.from({ length: 41 }, () => month);
    const text = summaryText({ ...plan, intervals: many }, 'out');
    expect(text).toContain('-> 1 month (shorten)');
    expect(text).toContain('  and 1 more group\n');
    expect(text).not.toContain('1 months');
  });

  it('names no saving of nothing', () => {
    const { cost } = ordinaryPlan();
    const saving = { ...cost.saving, perYear: 0, low: 0, high: 0 };
    expect(savingSentence({ ...cost, proposed: cost.today, saving }, 'EUR')).toBe(
      'The yearly cost stays about the same.',
    );
    const firstYear = { saving: 0, low: 0, high: 0 };
    expect(savingSentence({ ...cost, saving: { ...cost.saving, firstYear } }, 'EUR')).toMatch(
      /The first year costs about the same\.$/,
    );
  });
});
