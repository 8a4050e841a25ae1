/**
 * The demo plant for readers elsewhere: all that report, sheets, lists, summary and the check of records show is walked,
 * and no number and no date is written in another way than theirs. The report is weighed on the way.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demoFiles } from '../../data-demo/plant/demo.js';
import { type FleetRecords, readRecords } from '../../lib/fleet/read.js';
import { planFleet } from '../../lib/plan.js';
import { changeSheetsHtml } from '../../lib/report/changeSheets.js';
import { checkFiles, checkRecords, checkText } from '../../lib/report/check/index.js';
import { reportHtml } from '../../lib/report/html.js';
import { pickListsHtml } from '../../lib/report/pickListPage.js';
import { summaryText } from '../../lib/report/summary.js';
import { houseWay, LOCALES, seenTexts } from '../report/houseWay.js';

/** Bytes that the report of the demo may have: it must open at once, also from a slow share. */
const MOST_BYTES = 2.5e6;

/** The demo, of some of its lines, as read under a locale. */
async function demoRecords(locale: string, lines: RegExp): Promise<FleetRecords> {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-locale-'));
  try {
    for (const [name, text] of Object.entries(demoFiles()))
      writeFileSync(join(folder, name), partOf(name, text, lines));
    const site = JSON.parse(demoFiles()['site.json'] ?? '') as object;
    writeFileSync(join(folder, 'site.json'), JSON.stringify({ ...site, locale }));
    return await readRecords(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function partOf(name: string, text: string, lines: RegExp): string {
  if (!['positions.csv', 'lives.csv', 'readings.csv'].includes(name)) return text;
  return text
    .split('\n')
    .filter((row, i) => i === 0 || lines.test(row))
    .join('\n');
}

async function shownOf(records: FleetRecords): Promise<{ shown: Record<string, string[]>; report: string }> {
  const plan = planFleet(records.fleet);
  const check = checkRecords(records);
  const report = await reportHtml(plan);
  const shown = {
    report: seenTexts(report),
    sheets: seenTexts(changeSheetsHtml(plan)),
    lists: seenTexts(pickListsHtml(plan)),
    summary: summaryText(plan, 'out').split(/\n(?! {4,})/),
    check: seenTexts(checkFiles(check).get('check.html') ?? ''),
    checkText: checkText(check, 'out').split(/\n(?! {4,})/),
  };
  return { shown, report };
}

describe.each([
  ['de-DE', /./],
  ['en-IN', /^[AD][1-5]-/],
] as const)('the demo plant under %s', (locale, lines) => {
  it('shows no number and no date in another way', { timeout: 120_000 }, async () => {
    const records = await demoRecords(locale, lines);
    const { shown, report } = await shownOf(records);
    const cells = records.fleet.findings.problems.map(({ value }) => value ?? '');
    for (const [where, texts] of Object.entries(shown)) {
      expect(texts.length, where).toBeGreaterThan(0);
      expect(houseWay(texts, LOCALES[locale], cells), where).toEqual([]);
    }
    expect(Buffer.byteLength(report)).toBeLessThan(MOST_BYTES);
  });
});
