/** The page, the table and the text of a check: numbers add up, hostile names stay text, and the last line says what to do. */
import { rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { fromCSV } from 'arquero';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRecords } from '../../../lib/fleet/read.js';
import { firstThing } from '../../../lib/report/check/firstThing.js';
import { checkFiles, checkRecords, checkText, type RecordsCheck } from '../../../lib/report/check/index.js';
import { FAULTY, HOSTILE } from '../../fleet/quality/faulty.js';
import { writeFolder } from '../../plan/folders.js';

const DEMO = fileURLToPath(new URL('../../../data-demo', import.meta.url));
const faulty = writeFolder(FAULTY);
let demo: RecordsCheck;
let hostile: RecordsCheck;

beforeAll(async () => {
  demo = checkRecords(await readRecords(DEMO));
  hostile = checkRecords(await readRecords(faulty));
}, 60_000);

afterAll(() => rmSync(faulty, { recursive: true, force: true }));

const fileOf = (check: RecordsCheck, name: string): string => checkFiles(check).get(name) ?? '';

interface Row {
  part: string;
  name: string;
  rows: number;
  rows_used: number;
  rows_set_aside: number;
  lives: number;
}

const rowsOf = (check: RecordsCheck): Row[] => fromCSV(fileOf(check, 'check.csv')).objects() as Row[];
const sumOf = (rows: readonly Row[], key: 'rows' | 'rows_used' | 'rows_set_aside' | 'lives'): number =>
  rows.reduce((sum, row) => sum + row[key], 0);

describe('check.csv', () => {
  it('adds up: rows of files, rows by cause, lives by group', () => {
    const rows = rowsOf(demo);
    const of = (part: string): Row[] => rows.filter((row) => row.part === part);
    const { rowsIn, rowsUsed, rowsSetAside, rules } = demo.findings;
    expect(sumOf(of('file'), 'rows')).toBe(rowsIn);
    expect(sumOf(of('file'), 'rows_used')).toBe(rowsUsed);
    expect(sumOf(of('file'), 'rows_set_aside')).toBe(rowsSetAside);
    expect(sumOf(of('mend'), 'rows_set_aside')).toBe(rowsSetAside);
    expect(sumOf(of('group'), 'lives')).toBe(demo.livesInFits);
    expect(of('rule')).toHaveLength(rules.filter(({ found }) => found > 0).length);
    expect(of('reason')).toHaveLength(20);
    expect(of('missing')).toHaveLength(demo.switchedOff.length + demo.assumed.length);
  });
});

describe('the text for the screen', () => {
  it('fits two screens and ends with the one thing to do first', () => {
    const lines = checkText(demo, 'out').trimEnd().split('\n');
    expect(lines.length).toBeLessThan(90);
    expect(Math.max(...lines.slice(0, -1).map((line) => line.length))).toBeLessThanOrEqual(125);
    expect(lines[lines.length - 1]).toMatch(/^FIRST {2}Look for the days of fitting/);
    expect(lines.join(' ')).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('says what each kind of group can support', () => {
    const text = checkText(demo, 'out').replace(/\s+/g, ' ');
    expect(text).toMatch(/interval can be estimated, fit can be tested \(20 groups\)/);
    expect(text).toContain('shape assumed (2 groups): none in FKM DN 15; none in FKM DN 25');
  });
});

describe('hostile names', () => {
  it('are text on the page, which loads nothing and runs nothing', () => {
    const page = fileOf(hostile, 'check.html');
    expect(page).toContain('&lt;b&gt;weg&lt;/b&gt;');
    expect(page).not.toMatch(/<img|<b>weg|<script/);
    expect(page).toContain("default-src 'none'");
    expect(page).not.toContain('\u001b');
  });

  it('cannot move the cursor', () => {
    expect(HOSTILE).toContain('\u001b');
    const asked = { ...hostile, reasons: [{ ...reason, position: HOSTILE, group: HOSTILE }] };
    const text = checkText({ ...asked, first: firstThing({ ...asked, mends: [] }) }, 'out');
    expect(text).toContain('<img src=x onerror=alert(1)>');
    for (const mark of ['\u001b', '\u202e']) expect(text).not.toContain(mark);
    const page = fileOf(asked, 'check.html');
    expect(page).toContain('<bdi>&lt;img src=x');
    expect(page).not.toContain('<img');
  });

  it('are no formulas in a spreadsheet', () => {
    const asked = { ...hostile, reasons: [{ ...reason, position: '=HYPERLINK("x")' }] };
    expect(fileOf(asked, 'check.csv')).not.toMatch(/(^|,)"?=HYPERLINK/m);
  });
});

const reason = {
  position: 'V1',
  group: 'EPDM DN 25',
  removed: '2021-05-01',
  age: 300,
  chance: 0.4,
  effect: -12,
};

describe('what to do first', () => {
  const mend = {
    code: 'position-unknown',
    file: 'lives.csv',
    rows: 3,
    rowsSetAside: 3,
    livesGained: 3,
    livesClearer: 0,
    what: 'No such tag.',
    todo: 'Add the position.',
    row: 11,
    value: 'W9',
  };
  const bare = { mends: [], reasons: [], switchedOff: [], assumed: [] };
  const first = (more: Partial<RecordsCheck>): string => firstThing({ ...demo, ...bare, ...more });

  it('is a mend worth a hundredth of the lives, then the reasons, then a small mend, then what is missing', () => {
    const both = { mends: [mend], reasons: [reason] };
    expect(first({ ...both, livesInFits: 300 })).toMatch(
      /^Add the position\. In lives\.csv: 3 rows, first in row 11/,
    );
    expect(first({ ...both, livesInFits: 301 })).toMatch(
      /^Ask why the diaphragm of V1 was removed on 2021-05-01/,
    );
    expect(first({ mends: [mend], livesInFits: 301 })).toMatch(/^Add the position/);
    expect(first({ switchedOff: ['no items.csv: no stock table'] })).toContain('no items.csv');
    expect(first({})).toBe('Nothing is in the way: plan with this folder.');
  });
});
