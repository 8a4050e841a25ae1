/** Scores and mends of a folder whose faults were planted and counted by hand; and sums that hold for every folder. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors.js';
import { mapFolder } from '../../../lib/fleet/mapping/mapFolder.js';
import { type Mend, mends } from '../../../lib/fleet/quality/mends.js';
import { scoreFiles } from '../../../lib/fleet/quality/scoreFiles.js';
import { type FleetRecords, readRecords } from '../../../lib/fleet/read.js';
import { DIALECTS } from '../../fixtures/exports/dialects.js';
import { makeExport } from '../../fixtures/exports/makeExport.js';
import { demoPart } from '../../fixtures/exports/plant.js';
import { writeFolder } from '../../plan/folders.js';
import { FAULTY, planted } from './faulty.js';

const DEMO = fileURLToPath(new URL('../../../data-demo', import.meta.url));
const folders: string[] = [];

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

async function recordsOf(files: ReadonlyMap<string, string>): Promise<FleetRecords> {
  const folder = writeFolder(files);
  folders.push(folder);
  return readRecords(folder);
}

/** What must add up in any folder that can be read. */
function expectSums(records: FleetRecords): void {
  const found = mends(records);
  const aside = (file: string): number =>
    found.filter((mend) => mend.file === file).reduce((sum, { rowsSetAside }) => sum + rowsSetAside, 0);
  for (const score of scoreFiles(records)) {
    expect(score.rowsIn).toBe(score.rowsUsed + score.rowsSetAside);
    expect(aside(score.file), score.file).toBe(score.rowsSetAside);
    expect(score.columnsThere + score.columnsMissing.length).toBe(score.columnsOf);
    for (const { filled, of } of score.cells) expect(filled).toBeLessThanOrEqual(of);
    expect(score.score).toBeGreaterThanOrEqual(0);
    expect(score.score).toBeLessThanOrEqual(100);
    if (score.rowsSetAside + score.ruleHits > 0) expect(score.score).toBeLessThan(100);
  }
  for (const mend of found) expect(mend.rowsSetAside).toBeLessThanOrEqual(mend.rows);
}

describe('a folder with planted faults', () => {
  let records: FleetRecords;
  let found: Map<string, Mend>;

  beforeAll(async () => {
    records = await recordsOf(FAULTY);
    found = new Map(mends(records).map((mend) => [mend.code, mend]));
  });

  it.each(planted)('counts %s', (code, { rows, lives, clearer }) => {
    const mend = found.get(code);
    expect([mend?.rows, mend?.livesGained, mend?.livesClearer]).toEqual([rows, lives, clearer]);
    expect(mend?.todo).toMatch(/\.$/);
  });

  it('finds no other cause, and the most lives first', () => {
    expect([...found.keys()].sort()).toEqual(planted.map(([code]) => code).sort());
    const gains = mends(records).map(({ livesGained }) => livesGained);
    expect(gains).toEqual([...gains].sort((a, b) => b - a));
    expectSums(records);
  });

  it('names words for reasons that the settings could say', () => {
    expect(found.get('reason-unknown')).toMatchObject({ value: '<b>weg</b>' });
    expect(found.get('reason-unknown')?.todo).toContain('site.json under "values", "reason"');
  });

  it('scores lives by hand', () => {
    const lives = scoreFiles(records).find(({ file }) => file === 'lives.csv');
    expect(lives).toMatchObject({ rowsIn: 15, rowsUsed: 8, rowsSetAside: 7, columnsMissing: ['lot'] });
    expect(lives?.cells).toEqual([
      { column: 'fitted', filled: 8, of: 10 },
      { column: 'reason', filled: 5, of: 7 },
      { column: 'finding', filled: 4, of: 7 },
      { column: 'lot', filled: 0, of: 10 },
    ]);
    const [used, columns, cells, rules] = [8 / 15, 6 / 7, 17 / 34, 1 - (lives?.ruleHits ?? 0) / 15];
    expect(lives?.score).toBe(Math.floor(50 * used + 20 * columns + 20 * cells + 10 * rules));
  });
});

describe('work orders', () => {
  const orders = (rows: string[]): ReadonlyMap<string, string> =>
    new Map([
      ['positions.csv', 'position,size\nV1,25\nV2,25\n'],
      ['work-orders.csv', `position,date,work,material,reason\n${rows.join('\n')}\n`],
    ]);
  const clean = [
    'V1,2020-01-01,replaced,EPDM,scheduled',
    'V1,2021-01-01,replaced,EPDM,leak',
    'V2,2020-01-01,replaced,EPDM,scheduled',
    'V2,2021-01-01,replaced,EPDM,leak',
  ];

  it('are not blamed for lives that began before them', async () => {
    const records = await recordsOf(orders(clean));
    expect(records.fleet.lives.fitted.filter(Number.isNaN)).toHaveLength(2);
    expect(mends(records)).toEqual([]);
    expectSums(records);
  });

  it('are for those whose beginning is in doubt by an order that cannot be read', async () => {
    const records = await recordsOf(orders([...clean, 'V2,2020-06-01,tinkered,EPDM,leak']));
    expect(mends(records).map(({ code, livesGained }) => [code, livesGained])).toEqual([
      ['work-unknown', 1],
      ['fitting-day-unknown', 1],
    ]);
    expectSums(records);
  });
});

describe('numbers add up', () => {
  it('on the demo', async () => {
    const records = await readRecords(DEMO);
    expectSums(records);
    expect(mends(records)[0]).toMatchObject({ code: 'fitting-day-unknown' });
  });

  it('on exports in many languages, read with what map proposes', async () => {
    const plant = await demoPart();
    let read = 0;
    for (const dialect of DIALECTS.slice(0, 4)) {
      const folder = mkdtempSync(join(tmpdir(), 'weirwise-quality-'));
      folders.push(folder);
      for (const [name, bytes] of makeExport(plant, dialect).files) writeFileSync(join(folder, name), bytes);
      const mapped = await mapFolder(folder);
      writeFileSync(join(folder, 'site.json'), mapped.text);
      if (mapped.reading.findings === null) {
        await expect(readRecords(folder)).rejects.toThrow(InputError);
        continue;
      }
      expectSums(await readRecords(folder));
      read += 1;
    }
    expect(read).toBeGreaterThanOrEqual(2);
  });

  it('on a table with a header alone: no row, score 0', async () => {
    const records = await recordsOf(new Map([...FAULTY, ['lots.csv', 'item,lot,quantity\n']]));
    expect(scoreFiles(records).find(({ file }) => file === 'lots.csv')).toMatchObject({
      rowsIn: 0,
      score: 0,
    });
    expectSums(records);
  });
});
