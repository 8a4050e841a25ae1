/** What the script of the report page does: long tables, files to take away, one reader's part at a time; and without it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Download, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Plan } from '../../lib/planTypes.js';
import { changeSheetsHtml } from '../../lib/report/changeSheets.js';
import { reportHtml } from '../../lib/report/html.js';
import { pickListsHtml } from '../../lib/report/pickListPage.js';
import { pickLists } from '../../lib/report/pickLists.js';
import { largePlan } from '../fixtures/largePlan.js';
import { HOSTILE, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';
import { launch, openPage, present, required, sidewaysScroll, violations } from './pages.js';

vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const POSITIONS = 243;

/** The ordinary plan with so many replacements in the next shutdown, as the demo plant has them. */
function longPlan(): Plan {
  const plan = largePlan(12, POSITIONS);
  const tags = [...HOSTILE, '=1+1', '-2', '@SUM(A1)', 'V-2 "quoted", with comma'];
  return {
    ...plan,
    shutdownPlan: plan.shutdownPlan.map((task, i) => ({ ...task, position: tags[i - 30] ?? task.position })),
  };
}

let browser: Browser;
let folder: string;
let long: string;
let hostile: string;

beforeAll(async () => {
  if (!present) return;
  folder = mkdtempSync(join(tmpdir(), 'weirwise-live-'));
  [long, hostile] = await Promise.all([reportHtml(longPlan()), reportHtml(hostilePlan())]);
  browser = await launch();
});

afterAll(async () => {
  if (!present) return;
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

/** The task list, with its tools above and its pages below. */
function taskList(page: Page) {
  const box = page.locator('.scroll', { has: page.getByText(`${POSITIONS} replacements by line`) }).first();
  const tools = box.locator('xpath=preceding-sibling::div[1]');
  const pager = box.locator('xpath=following-sibling::div[1]');
  const head = (name: string): Locator => box.getByRole('columnheader', { name }).getByRole('button');
  return { box, tools, pager, head, search: tools.getByRole('searchbox'), state: tools.getByRole('status') };
}

/** Texts of a column of the rows that are on the screen. */
async function shown(box: Locator, column: number): Promise<string[]> {
  return box
    .locator('tbody tr:visible')
    .evaluateAll(
      (rows, i) =>
        rows.map(
          (row) => (row as unknown as { children: { textContent: string }[] }).children[i]?.textContent ?? '',
        ),
      column,
    );
}

async function textOf(download: Promise<Download>): Promise<string> {
  return readFileSync(await (await download).path(), 'utf8');
}

describe.skipIf(!present && !required)('the report with its script', () => {
  it('searches as one types and says how many are left', async () => {
    const { page, troubles } = await openPage(browser, folder, long);
    const { box, search, state, pager } = taskList(page);
    expect(await state.textContent()).toBe(`1 to 50 of ${POSITIONS} rows`);
    expect(await shown(box, 0)).toHaveLength(50);
    await search.fill('v-11');
    const left = (await shown(box, 0)).length;
    expect(left).toBeGreaterThan(3);
    expect(left).toBeLessThan(50);
    expect(await state.textContent()).toBe(`${left} of ${POSITIONS} rows`);
    expect(await pager.isVisible()).toBe(false);
    await search.fill('line 2');
    expect((await shown(box, 1)).length).toBe(50);
    for (const row of await shown(box, 1)) expect(row).toContain('Line 2');
    await search.fill('dia- v-11');
    const both = await shown(box, 0);
    expect(both.length).toBeGreaterThan(1);
    for (const tag of both) expect(tag).toContain('V-11');
    await search.fill('no such position');
    expect(await state.textContent()).toBe(`0 of ${POSITIONS} rows`);
    await search.fill('');
    expect(await shown(box, 0)).toHaveLength(50);
    expect(troubles).toEqual([]);
    await page.close();
  });

  it('sorts by number, by tag as a person counts, and back, and says so to a screen reader', async () => {
    const { page } = await openPage(browser, folder, long);
    const { box, head, pager } = taskList(page);
    await pager.getByRole('button', { name: 'Show all' }).click();
    const given = await shown(box, 0);
    expect(given).toHaveLength(POSITIONS);
    const age = box.getByRole('columnheader', { name: 'Age' });
    await head('Age').click();
    expect(await age.getAttribute('aria-sort')).toBe('ascending');
    const ages = (await shown(box, 4)).map(Number);
    expect(ages).toEqual([...ages].sort((a, b) => a - b));
    expect(new Set(ages).size).toBeGreaterThan(100);
    await head('Age').press('Enter');
    expect(await age.getAttribute('aria-sort')).toBe('descending');
    expect((await shown(box, 4)).map(Number)).toEqual([...ages].reverse());
    await head('Age').click();
    expect(await age.getAttribute('aria-sort')).toBe('none');
    expect(await shown(box, 0)).toEqual(given);
    await head('Position').click();
    const tags = (await shown(box, 0)).filter((tag) => /^V-\d+$/.test(tag) && tag.length < 9);
    const numbers = tags.map((tag) => Number(tag.slice(2)));
    expect(numbers.length).toBeGreaterThan(200);
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
    await page.close();
  });

  it('sorts dates by day', async () => {
    const { page } = await openPage(browser, folder, longOrders);
    const box = page.locator('.scroll', { has: page.locator('caption', { hasText: /^Later/ }) });
    await page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })");
    await box.getByRole('columnheader', { name: 'Due by' }).getByRole('button').click();
    const days = (await shown(box, 3)).map((text) => Date.parse(`${text} UTC`));
    expect(days.length).toBeGreaterThan(20);
    expect(days).toEqual([...days].sort((a, b) => a - b));
    expect(new Set(days).size).toBeGreaterThan(5);
    await page.close();
  });

  it('turns pages with the keyboard, and prints what the search left, all pages of it', async () => {
    const { page } = await openPage(browser, folder, long);
    const { box, pager, tools } = taskList(page);
    const state = tools.locator('.state');
    const first = await shown(box, 0);
    await pager.getByRole('button', { name: 'Next' }).press('Enter');
    expect(await state.textContent()).toBe(`51 to 100 of ${POSITIONS} rows`);
    const second = await shown(box, 0);
    expect(second).toHaveLength(50);
    expect(second.filter((tag) => first.includes(tag))).toEqual([]);
    await pager.getByRole('button', { name: 'Previous' }).click();
    expect(await shown(box, 0)).toEqual(first);
    await page.emulateMedia({ media: 'print' });
    expect(await shown(box, 0)).toHaveLength(POSITIONS);
    expect(await state.isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
    await tools.getByRole('searchbox').fill('v-11');
    await page.emulateMedia({ media: 'print' });
    const left = (await shown(box, 0)).length;
    expect(left).toBeLessThan(50);
    expect(await state.isVisible()).toBe(true);
    await page.close();
  });

  it('offers sorting by a list on a phone, where rows are cards', async () => {
    const { page } = await openPage(browser, folder, long, { width: 360 });
    const { box, tools, pager } = taskList(page);
    await tools.getByRole('combobox').selectOption({ label: 'Age, days ▼' });
    await pager.getByRole('button', { name: 'Show all' }).click();
    const ages = (await shown(box, 3)).map(Number);
    expect(ages).toEqual([...ages].sort((a, b) => b - a));
    await page.close();
  });

  it('saves a table as CSV: what the search left, plain numbers, nothing that a spreadsheet runs', async () => {
    const { page, troubles } = await openPage(browser, folder, long);
    const { tools, search } = taskList(page);
    const whole = page.waitForEvent('download');
    await tools.getByRole('button', { name: 'CSV' }).click();
    const text = await textOf(whole);
    expect((await whole).suggestedFilename()).toMatch(/^243-replacements-by-line-[a-z0-9-]+\.csv$/);
    const lines = text.slice(1).trimEnd().split('\r\n');
    expect(text.codePointAt(0)).toBe(0xfeff);
    expect(lines).toHaveLength(POSITIONS + 1);
    expect(lines[0]).toMatch(/^Position,/);
    expect(text).not.toMatch(/NaN|undefined|\[object/);
    expect(lines.some((line) => line.startsWith("'=1+1,"))).toBe(true);
    expect(lines.some((line) => line.startsWith("'@SUM(A1),"))).toBe(true);
    expect(lines.some((line) => line.startsWith('-2,'))).toBe(true);
    expect(lines.some((line) => line.startsWith('"V-2 ""quoted"", with comma",'))).toBe(true);
    await search.fill('v-11');
    const part = page.waitForEvent('download');
    await tools.getByRole('button', { name: 'CSV' }).click();
    const rows = (await textOf(part)).trimEnd().split('\r\n').slice(1);
    for (const row of rows) expect(row.toLowerCase()).toContain('v-11');
    expect(troubles).toEqual([]);
    await page.close();
  });

  it('saves a picture as SVG with its title, source and real colours, also from a dark page', async () => {
    const { page, troubles } = await openPage(browser, folder, hostile, { dark: true });
    for (const figure of [page.locator('figure').nth(1), page.locator('figure').last()]) {
      const waiting = page.waitForEvent('download');
      await figure.locator('button', { hasText: 'SVG' }).first().click();
      const svg = await textOf(waiting);
      expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
      expect(svg).not.toMatch(/var\(|NaN|undefined|<script|<img/);
      expect(svg).toContain('#ffffff');
      expect(svg).toContain('data until 28 Feb 2026, weirwise 0.1.0, inputs 5c1f0e9b6f0a');
      const alone = await browser.newPage();
      const file = join(folder, 'alone.svg');
      writeFileSync(file, svg);
      await alone.goto(`file://${file}`);
      const title = (await figure.locator('strong').textContent()) ?? '';
      const words = (await alone.evaluate('document.documentElement.textContent')) as string;
      expect(words).toContain(title.slice(0, 20));
      expect(await alone.locator('parsererror').count()).toBe(0);
      await alone.close();
    }
    expect(troubles).toEqual([]);
    await page.close();
  });

  it('saves a picture as PNG of twice its size', async () => {
    const { page, troubles } = await openPage(browser, folder, long);
    const waiting = page.waitForEvent('download');
    await page.locator('figure').first().getByRole('button', { name: 'PNG' }).click();
    const png = readFileSync(await (await waiting).path());
    expect(png.subarray(1, 4).toString()).toBe('PNG');
    expect(png.readUInt32BE(16)).toBe(1040);
    expect(png.readUInt32BE(20)).toBeGreaterThan(500);
    expect(png.length).toBeGreaterThan(10_000);
    expect(troubles).toEqual([]);
    await page.close();
  });

  it('shows one reader’s part, or all, by the address and by the links', async () => {
    const { page, troubles } = await openPage(browser, folder, long, { hash: '#manager' });
    const parts = ['stores', 'maintenance', 'manager', 'engineer', 'records'];
    const visible = async (): Promise<string[]> => {
      const seen = await Promise.all(parts.map((id) => page.locator(`#${id}`).isVisible()));
      return parts.filter((_, i) => seen[i]);
    };
    expect(await visible()).toEqual(['manager']);
    expect(await page.locator('.answers section').count()).toBe(4);
    const nav = page.getByRole('navigation');
    await nav.getByRole('link', { name: 'Engineer' }).click();
    expect(await visible()).toEqual(['engineer']);
    expect(await nav.getByRole('link', { name: 'Engineer' }).getAttribute('aria-current')).toBe('true');
    await page.locator('.answers').getByRole('link', { name: 'Order table' }).click();
    expect(await visible()).toEqual(['stores']);
    await page.goBack();
    expect(await visible()).toEqual(['engineer']);
    await nav.getByRole('link', { name: 'All parts' }).click();
    expect(await visible()).toEqual(parts);
    expect(troubles).toEqual([]);
    await page.close();
  });

  it.each([false, true])(
    'breaks no rule of access (dark %s), searched, sorted and on one part',
    async (dark) => {
      const { page, troubles } = await openPage(browser, folder, long, { dark, hash: '#maintenance' });
      const { head, search } = taskList(page);
      await head('Age').click();
      await search.fill('line');
      expect(await violations(page)).toEqual([]);
      await page.getByRole('link', { name: 'All parts' }).click();
      await page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })");
      expect(await violations(page)).toEqual([]);
      expect(troubles).toEqual([]);
      await page.close();
    },
  );

  it.each([360, 1024, 1600])('needs no sideways scroll at %i px', async (width) => {
    const { page } = await openPage(browser, folder, long, { width });
    await page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })");
    expect(await sidewaysScroll(page)).toBeLessThanOrEqual(0);
    await page.close();
  });

  it('prints a page for each change, and heads of columns on each sheet of a long list', async () => {
    const pagesOf = async (html: string): Promise<number> => {
      const { page, troubles } = await openPage(browser, folder, html);
      const pdf = await page.pdf({ format: 'A4' });
      expect(troubles).toEqual([]);
      await page.close();
      return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    };
    const plan = ordinaryPlan();
    expect(plan.changes.length).toBeGreaterThan(3);
    expect(await pagesOf(changeSheetsHtml(plan))).toBe(plan.changes.length);
    const lists = pickLists(plan).filter(({ rows }) => rows.length > 0).length;
    expect(await pagesOf(pickListsHtml(plan))).toBeGreaterThanOrEqual(lists);
    const { page } = await openPage(browser, folder, long);
    await page.emulateMedia({ media: 'print' });
    // Chromium repeats no head that holds a button with a box of its own.
    const display = await page.evaluate(
      "getComputedStyle(document.querySelector('table.live thead button')).display",
    );
    expect(display).toBe('contents');
    await page.close();
  });

  it('is read whole where scripts are off', async () => {
    const { page, troubles } = await openPage(browser, folder, long, { scripts: false });
    const box = page.locator('.scroll', { has: page.getByText(`${POSITIONS} replacements by line`) }).first();
    expect(await box.locator('tbody tr:visible').count()).toBe(POSITIONS);
    expect(await page.getByRole('button').count()).toBe(0);
    expect(await page.locator('main > section:visible').count()).toBe(5);
    expect(troubles).toEqual([]);
    await page.close();
  });
});

let longOrders: string;
beforeAll(async () => {
  const plan = ordinaryPlan();
  const stock = plan.stock.flatMap((item) =>
    Array.from({ length: 12 }, (_, i) => ({
      ...item,
      item: `${item.item}-${i}`,
      orders: item.orders.map((order, j) => ({
        ...order,
        orderBy: `2026-1${i % 3}-${String(28 - i - j).padStart(2, '0')}`,
        dueBy: `2027-0${1 + ((i * 5) % 9)}-${String(1 + ((i * 7 + j) % 28)).padStart(2, '0')}`,
      })),
    })),
  );
  longOrders = await reportHtml({ ...plan, stock }, async () => '<svg class="chart"></svg>');
});
