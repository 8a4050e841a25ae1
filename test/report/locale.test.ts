/** The plant's locale: readers get numbers and dates as they write them, machines get what they always got. */
import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { planFleet } from '../../lib/plan.js';
import type { Plan } from '../../lib/planTypes.js';
import { changeSheetsHtml } from '../../lib/report/changeSheets.js';
import { csvFiles } from '../../lib/report/csv.js';
import { reportHtml } from '../../lib/report/html.js';
import { pickListsHtml } from '../../lib/report/pickListPage.js';
import { summaryText } from '../../lib/report/summary.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { readFiles } from '../fleet/files.js';
import { folderFiles } from '../plan/folders.js';

const house = ordinaryPlan();
const german: Plan = { ...house, site: { ...house.site, locale: 'de-DE' } };
const shown = (page: string): string => page.replace(/<(style|script)\b[\s\S]*?<\/\1>|<[^>]+>/g, ' ');

describe('the locale of a plan', () => {
  it('is that of the report, its charts and the summary', async () => {
    const [page, plain] = await Promise.all([reportHtml(german), reportHtml(house)]);
    expect(shown(page)).toContain('28. Feb. 2026');
    expect(shown(page)).not.toMatch(/\d{1,2} (?:Feb|Mar|Apr) 2026/);
    expect(shown(page)).toContain('2.604 rows');
    expect(shown(plain)).toContain('2\u00a0604 rows');
    const ticks = (text: string): string[] =>
      [...text.matchAll(/<text[^>]*>([\d.,\u00a0]+)<\/text>/g)].map(([, tick = '']) => tick);
    const swapped = ticks(plain).map((tick) => tick.replace('.', ',').replaceAll('\u00a0', '.'));
    expect(ticks(page)).toEqual(swapped);
    expect(ticks(page).some((tick) => /^\d+\.\d{3}$/.test(tick))).toBe(true);
    expect(ticks(page).some((tick) => /^\d+,\d+$/.test(tick))).toBe(true);
    expect(summaryText(german, 'out')).toContain('214.000 EUR a year');
    expect(changeSheetsHtml(german)).toContain('28. Feb. 2026');
    expect(pickListsHtml(german)).toContain('28. Feb. 2026');
  });

  it('moves no cell of the tables for other systems', () => {
    expect(csvFiles(german)).toEqual(csvFiles(house));
  });

  it('does not stay behind for the next plan', async () => {
    const before = await reportHtml(house);
    await reportHtml(german);
    expect((await reportHtml(house)) === before).toBe(true);
  });

  it('sorts cells by what they say in it', async () => {
    const page = await reportHtml(german, async () => '');
    const plain = await reportHtml(house, async () => '');
    const values = (text: string): string[] =>
      [...text.matchAll(/ data-value="([^"]*)"/g)].map(([, value = '']) => value);
    // Plain decimals carry no value of their own where the house way writes them as machines do.
    expect(values(page)).toEqual(expect.arrayContaining(values(plain)));
    expect(values(page).every((value) => Number.isFinite(Number(value)))).toBe(true);
  });
});

describe('locale in site.json', () => {
  const files = (locale: unknown): Record<string, string> => {
    const groups = [{ material: 'EPDM', size: 25, positions: 12, shape: 3, scale: 900, replacedAt: 400 }];
    const all = Object.fromEntries(folderFiles({ seed: 3, groups, watchedDays: 1200 }));
    const site = JSON.parse(all['site.json'] ?? '{}') as object;
    return { ...all, 'site.json': JSON.stringify({ ...site, ...(locale === undefined ? {} : { locale }) }) };
  };

  it.each(['de_DE', 'klingon', 'english', '', 7])('refuses %j with what to write', (locale) => {
    expect(() => readFiles(files(locale))).toThrow(InputError);
    expect(() => readFiles(files(locale))).toThrow(/locale/);
  });

  it('moves no number of the plan, only how sentences write them', () => {
    const numbers = (plan: Plan): unknown =>
      JSON.parse(
        JSON.stringify(plan, (key, value) =>
          key === 'locale' || key === 'inputsHash' ? undefined : typeof value === 'string' ? '' : value,
        ),
      );
    const plan = planFleet(readFiles(files(undefined)));
    const local = planFleet(readFiles(files('fr-FR')));
    expect(local.site.locale).toBe('fr-FR');
    expect('locale' in plan.site).toBe(false);
    expect(numbers(local)).toEqual(numbers(plan));
    expect(JSON.stringify(local)).toMatch(/\d,\d/);
    expect(local.intervals[0]?.because).not.toBe(plan.intervals[0]?.because);
  });
});
