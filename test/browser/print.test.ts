/**
 * The report of the demo plant and its sheets on paper, A4 and Letter: words taken out of the PDF that Chromium prints
 * (pdftotext of poppler-utils). Skipped with a word where one of the two is missing.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { planFleet } from '../../lib/plan.js';
import type { Plan } from '../../lib/planTypes.js';
import { changeSheetsHtml } from '../../lib/report/changeSheets.js';
import { reportHtml } from '../../lib/report/html.js';
import { pickListsHtml } from '../../lib/report/pickListPage.js';
import { pickLists } from '../../lib/report/pickLists.js';
import { ROOT } from '../structure/source.js';
import { launch, openPage, present, required } from './pages.js';

vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

/** A program that is there starts, whatever it answers. */
const reader = spawnSync('pdftotext', ['-v']).error === undefined;
if (present && !reader) process.stderr.write('print tests skipped: no pdftotext\n');

/** Sheets of the whole report; the demo takes about 57 (A4) and 65 (Letter), 13 of them its list of tasks. */
const MOST_SHEETS = 75;
/** Words of a sheet that is no better than a blank one. */
const FEWEST_WORDS = 12;
/** Points from the edge of the paper within which nothing may be printed. */
const EDGE = 18;

interface Word {
  text: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

interface Sheet {
  width: number;
  height: number;
  words: Word[];
}

let browser: Browser;
let folder: string;
let plan: Plan;
let pages: Record<'report' | 'changes' | 'picks', string>;

beforeAll(async () => {
  if (!present || !reader) return;
  folder = mkdtempSync(join(tmpdir(), 'weirwise-print-'));
  browser = await launch();
  plan = planFleet(await readFleet(join(ROOT, 'data-demo')));
  pages = { report: await reportHtml(plan), changes: changeSheetsHtml(plan), picks: pickListsHtml(plan) };
});

afterAll(async () => {
  if (!present || !reader) return;
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

async function printed(html: string, format: string): Promise<Sheet[]> {
  const { page, troubles } = await openPage(browser, folder, html);
  const file = join(folder, 'printed.pdf');
  writeFileSync(file, await page.pdf({ format }));
  await page.close();
  expect(troubles).toEqual([]);
  return sheetsOf(execFileSync('pdftotext', ['-bbox', file, '-'], { encoding: 'utf8', maxBuffer: 1e8 }));
}

function sheetsOf(text: string): Sheet[] {
  return text
    .split('<page ')
    .slice(1)
    .map((page) => {
      const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(page) ?? [];
      const found = page.matchAll(
        /<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)</g,
      );
      const words = Array.from(found, ([, left, top, right, bottom, word = '']) => ({
        text: word,
        left: Number(left),
        top: Number(top),
        right: Number(right),
        bottom: Number(bottom),
      }));
      return { width: Number(width), height: Number(height), words };
    });
}

const textOf = ({ words }: Sheet): string => words.map(({ text }) => text).join(' ');

/** Words that stand over the edge of the paper or in the part that printers leave white. */
function cutWords({ width, height, words }: Sheet): string[] {
  return words
    .filter(
      ({ left, right, top, bottom }) =>
        left < EDGE || right > width - EDGE || top < EDGE || bottom > height - EDGE,
    )
    .map(({ text }) => text);
}

/** The sheet on which a part begins. */
function sheetWith(sheets: readonly Sheet[], heading: string): string {
  return textOf(sheets.find((sheet) => textOf(sheet).includes(heading)) as Sheet);
}

describe.skipIf((!present || !reader) && !required)('the demo plant on paper', () => {
  it('finds the browser and pdftotext', () => {
    expect([present, reader]).toEqual([true, true]);
  });

  it.each(['A4', 'Letter'])(
    '%s: each reader’s first sheet gives the answer, and no line is cut',
    async (format) => {
      const sheets = await printed(pages.report, format);
      expect(sheets.length).toBeGreaterThan(20);
      expect(sheets.length).toBeLessThan(MOST_SHEETS);
      for (const [i, sheet] of sheets.entries()) {
        expect(sheet.words.length, `sheet ${i + 1}`).toBeGreaterThan(FEWEST_WORDS);
        expect(cutWords(sheet), `sheet ${i + 1}`).toEqual([]);
      }
      const first = textOf(sheets[0] as Sheet);
      for (const words of ['Stores: what to order?', 'Maintenance: what fits?', 'Before you act.']) {
        expect(first).toContain(words);
      }
      expect(first).toMatch(/Order now: \d+ × \S+ .*Chase \d+ × /);
      const next = sheetWith(sheets, 'Maintenance: what to replace at the next shutdown');
      expect(next).toMatch(/\d+ replacements, [\d.]+ h of \d+ h of the crew\./);
      expect(next).toMatch(/Short of parts: \d+ × \S+ not there yet, order by \d+ \w+ \d{4}/);
      expect(next).toContain('Hours by craft');
      const manager = sheetWith(sheets, 'Manager: what changes, and what it saves or costs');
      expect(manager).toMatch(/\d+ of \d+ intervals change\. The plan saves about .* EUR a year .*chance/);
      const engineer = sheetWith(sheets, 'Engineer: how long they last');
      expect(engineer).toMatch(/Does the model fit\? \d+ groups fit/);
      expect(engineer).toContain(': fit against records');
    },
  );

  it.each(['A4', 'Letter'])(
    '%s: a sheet for each change, with what it rests on and room to sign',
    async (format) => {
      const sheets = await printed(pages.changes, format);
      expect(sheets.length).toBe(plan.changes.length);
      for (const sheet of sheets) {
        expect(textOf(sheet)).toMatch(/Today .* → proposed .*Positions.*Prepared by.*Approved by/);
        expect(cutWords(sheet)).toEqual([]);
      }
    },
  );

  it.each(['A4', 'Letter'])('%s: pick lists begin a sheet each and hold every position', async (format) => {
    const sheets = await printed(pages.picks, format);
    const lists = pickLists(plan);
    const [list] = lists;
    const begun = sheets.filter((sheet) => textOf(sheet).includes('Parts to lay out')).length;
    expect(begun).toBe((pages.picks.match(/Parts to lay out/g) ?? []).length);
    const all = sheets.map(textOf).join(' ');
    for (const { task } of list?.rows ?? []) expect(all).toContain(task.position);
    for (const sheet of sheets) expect(cutWords(sheet)).toEqual([]);
  });
});
