import { describe, expect, it } from 'vitest';
import type { Plan } from '../../lib/planTypes.js';
import { reportHtml } from '../../lib/report/html.js';
import { savingSentence } from '../../lib/report/saving.js';
import { emptyPlan, hostilePlan, manyGroupsPlan, ordinaryPlan, quietPlan } from '../fixtures/plan.js';

/** What a reader sees: markup, styles and pictures taken out. */
function textOf(page: string): string {
  return page
    .replace(/<style>[\s\S]*?<\/style>|<svg[\s\S]*?<\/svg>/g, ' ')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\u00a0/g, ' ')
    .replace(/&quot;/g, '"')
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
}

describe('reportHtml', () => {
  it('answers each reader first, in this order, and carries the caution', async () => {
    const text = textOf(await reportHtml(ordinaryPlan()));
    const places = [
      'Stores: what to order?',
      'Manager: what changes?',
      'Engineer: how sure?',
      'Before you act.',
      'Stores planner: what to order, and when',
      'Orders that were due before the day of the data',
      'The next orders, the first to place first',
      'Issue these lots first',
      'Will expire even so',
      'Items with enough on the shelf',
      'Kits per shutdown',
      'Manager: what changes, and what it saves or costs',
      'Engineer: how long they last',
      'What the data cannot say',
      'Shutdown list',
      'What was found in the records',
    ].map((words) => text.lastIndexOf(words));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(text).toContain(
      'Saves about 210 000 EUR a year in the long run (61 000 to 400 000; chance that it is cheaper 94 %)',
    );
    expect(text).toContain('2 604 rows read = 2 571 used + 33 set aside.');
    expect(text).toContain('The proposal pays while a lost batch costs above 8 400 EUR');
  });

  it('is the same twice, small, without script and with a policy that lets nothing in', async () => {
    const page = await reportHtml(ordinaryPlan());
    expect(page === (await reportHtml(ordinaryPlan()))).toBe(true);
    expect(page.length).toBeLessThan(2_500_000);
    expect(page).not.toMatch(/<script|<link|javascript:|\son\w+=/i);
    expect(page).toContain("default-src 'none'");
    const addresses = page
      .replaceAll('http://www.w3.org/2000/svg', '')
      .replaceAll('http://www.w3.org/1999/xlink', '');
    expect(addresses).not.toMatch(/https?:\/\//);
  });

  it.each<[string, Plan]>([
    ['ordinary', ordinaryPlan()],
    ['empty', emptyPlan()],
    ['quiet', quietPlan()],
    ['with 500 groups', manyGroupsPlan(500)],
  ])('shows no hole in the numbers of the %s plan', async (_name, plan) => {
    const text = textOf(await reportHtml(plan));
    expect(text).not.toMatch(/NaN|undefined|Infinity|\[object|\bnull\b/);
  });

  it('says what is missing where there is nothing', async () => {
    const text = textOf(await reportHtml(emptyPlan()));
    expect(text).toContain('No order list: the folder has no items.csv');
    expect(text).toContain('No group could be formed');
    expect(text).toContain('No cost could be worked out');
    expect(text).toContain('No replacement falls into the time planned');
    expect(text).toContain('Downtime only');
  });

  it('turns no text of a user into markup', async () => {
    const page = await reportHtml(hostilePlan());
    expect(page).not.toMatch(/<img|<script|<svg onload/i);
    expect(page).toContain('&lt;img src=x onerror=alert(1)&gt;');
    expect(page).toContain('<bdi>\u202Etxt.exe\u202C V-1</bdi>');
    const outside = page.replace(/<bdi>[\s\S]*?<\/bdi>/g, '');
    expect(outside).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
  });

  it('has headings that skip no level, and ids that are there once', async () => {
    const page = await reportHtml(ordinaryPlan());
    const levels = [...page.matchAll(/<h(\d)/g)].map(([, level]) => Number(level));
    expect(levels[0]).toBe(1);
    const steps = levels.slice(1).map((level, i) => level - (levels[i] as number));
    expect(Math.max(...steps)).toBe(1);
    const ids = [...page.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe('savingSentence', () => {
  const { cost } = ordinaryPlan();

  it('claims nothing where the records contradict the formula', () => {
    const doubted = { ...cost, saving: { ...cost.saving, claimed: false } };
    expect(savingSentence(doubted, 'EUR')).toMatch(/^No saving is claimed/);
  });

  it('says that it costs more where it does, with the range the right way round', () => {
    const dearer = {
      ...cost,
      saving: { ...cost.saving, perYear: -20_000, low: -50_000, high: 4_000, chance: 0.12 },
    };
    expect(savingSentence(dearer, 'EUR').replace(/\u00a0/g, ' ')).toBe(
      'Costs about 20 000 EUR more a year in the long run (−4 000 to 50 000; chance that it is cheaper 12 %).',
    );
  });

  it('says downtime only where no batch value is given', () => {
    expect(savingSentence({ ...cost, covers: 'downtime only' }, 'EUR')).toContain('downtime only');
  });
});
