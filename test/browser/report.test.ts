/**
 * The report in a real browser (Chromium, headless): it opens from a file, asks for nothing, draws everything, fits a
 * phone and prints. Skipped with a word where there is no Chromium; WEIRWISE_REQUIRE_BROWSER=1 makes that a failure,
 * and CHROMIUM names another program than /usr/bin/chromium.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { costRateChart } from '../../lib/chart/index.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import type { Plan } from '../../lib/planTypes.js';
import { chartPage } from '../../lib/render/page.js';
import { reportHtml } from '../../lib/report/html.js';
import { emptyPlan, HOSTILE, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';
import { launch, openPage, present, program, required, sidewaysScroll, violations } from './pages.js';

/** Reports by the name of the plan, made once. */
const reports = new Map<string, string>();
// A browser on a busy machine is slow; a fault shows by what it does, not by how long it takes.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

let browser: Browser;
let folder: string;

beforeAll(async () => {
  if (!present) return;
  folder = mkdtempSync(join(tmpdir(), 'weirwise-browser-'));
  const plans: [string, Plan][] = [
    ['ordinary', ordinaryPlan()],
    ['hostile', hostilePlan()],
    ['empty', emptyPlan()],
  ];
  for (const [name, plan] of plans) reports.set(name, await reportHtml(plan));
  browser = await launch();
});

const report = (name: string): string => reports.get(name) ?? '';

afterAll(async () => {
  if (!present) return;
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

function open(html: string, width = 1024, dark = false): Promise<{ page: Page; troubles: string[] }> {
  return openPage(browser, folder, html, { width, dark });
}

/** Charts whose box has no area, with folded parts left out. */
async function hiddenCharts(page: Page): Promise<number> {
  return page.evaluate(
    `[...document.querySelectorAll('svg.chart')].filter((svg) => { const box = svg.getBoundingClientRect(); return box.width < 200 || box.height < 60; }).length`,
  ) as Promise<number>;
}

/** Sentences in tables that are squeezed to a column of letters: narrower than ten letters and more than six lines high. */
async function squeezed(page: Page): Promise<string[]> {
  return page.evaluate(
    `[...document.querySelectorAll('td, tbody th')].filter((cell) => {
      const range = document.createRange();
      range.selectNodeContents(cell);
      const text = range.getBoundingClientRect();
      return text.width > 0 && text.width < 70 && text.height > 130;
    }).map((cell) => cell.textContent.slice(0, 60))`,
  ) as Promise<string[]>;
}

if (!present && !required) {
  process.stderr.write(`browser tests skipped: no Chromium at ${program}\n`);
}

describe.skipIf(!present && !required)('the report in a browser', () => {
  it('finds the browser', () => {
    expect(present, `no Chromium at ${program}`).toBe(true);
  });

  it.each(['ordinary', 'hostile', 'empty'])(
    'opens the %s plan in silence, draws every chart and breaks no rule of access',
    async (name) => {
      const { page, troubles } = await open(report(name));
      expect(await page.locator('svg.chart').count()).toBeGreaterThan(3);
      expect(await hiddenCharts(page)).toBe(0);
      await page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })");
      expect(await violations(page)).toEqual([]);
      expect(troubles).toEqual([]);
      await page.close();
    },
  );

  it.each([360, 1024, 1600])('needs no sideways scroll at %i px, also with hostile names', async (width) => {
    for (const name of ['ordinary', 'hostile']) {
      const { page } = await open(report(name), width);
      await page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })");
      expect(await sidewaysScroll(page)).toBeLessThanOrEqual(0);
      await page.close();
    }
  });

  it.each([360, 1024])('squeezes no sentence of a table to a column of letters at %i px', async (width) => {
    for (const name of ['ordinary', 'hostile']) {
      const { page } = await open(report(name), width);
      await page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })");
      expect(await squeezed(page)).toEqual([]);
      await page.close();
    }
  });

  it('shows hostile names as text', async () => {
    const { page } = await open(report('hostile'));
    const text = (await page.evaluate('document.body.textContent')) as string;
    for (const name of HOSTILE.filter((each) => !each.includes('\u0007'))) expect(text).toContain(name);
    expect(await page.locator('img, iframe').count()).toBe(0);
    expect(await page.locator('script').count()).toBe(1);
    await page.close();
  });

  it('goes dark with the reader and keeps its contrast', async () => {
    const { page, troubles } = await open(report('ordinary'), 1024, true);
    const colours = (await page.evaluate(
      '[getComputedStyle(document.documentElement).backgroundColor, getComputedStyle(document.querySelector(\'svg.chart [fill="var(--ink)"]\')).fill]',
    )) as string[];
    expect(colours).toEqual(['rgb(21, 25, 28)', 'rgb(232, 230, 225)']);
    expect(await violations(page)).toEqual([]);
    expect(troubles).toEqual([]);
    await page.close();
  });

  it('prints to paper of both sizes', async () => {
    const { page } = await open(report('ordinary'));
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ format, preferCSSPageSize: false });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      expect(pages).toBeGreaterThan(4);
      expect(pages).toBeLessThan(40);
    }
    await page.close();
  });

  it('draws a chart page live, in silence', async () => {
    const plan = ordinaryPlan();
    const chart = costRateChart(plan.intervals[0] as IntervalAdvice, plan.groups[0] ?? null, 'EUR');
    const { page, troubles } = await open(await chartPage(chart));
    await page.waitForSelector('.vega-embed svg');
    expect(troubles).toEqual([]);
    expect(await violations(page)).toEqual([]);
    await page.close();
  });
});
