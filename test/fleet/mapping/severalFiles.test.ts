/** Several exports of one kind in a folder: what is proposed to be joined, what is asked, and what is not looked at. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type MappedFolder, mapFolder } from '../../../lib/fleet/mapping/mapFolder.js';
import { readFleet } from '../../../lib/fleet/read.js';
import { rawSite } from '../../../lib/fleet/settings.js';
import { mapText } from '../../../lib/report/mapText.js';
import { messyFolder } from '../../fixtures/exports/messyFolder.js';
import { demoPart, type Plant } from '../../fixtures/exports/plant.js';
import { arrowOf, columnsOfCsv, parquetOf } from '../columnar/makeColumns.js';
import { livesOf } from '../files.js';

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

let plant: Plant;
beforeAll(async () => {
  plant = await demoPart();
});

function folderWith(files: ReadonlyMap<string, Uint8Array | string>): string {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-several-'));
  made.push(folder);
  for (const [name, bytes] of files) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  return folder;
}

const site = ({ text }: MappedFolder) =>
  rawSite(new TextEncoder().encode(text)) as Record<string, Record<string, unknown>>;

describe('a folder of three extracts in two languages', () => {
  it('is proposed whole, and read as the history in one table would be', async () => {
    const folder = folderWith(messyFolder(plant));
    const mapped = await mapFolder(folder);
    expect(mapped.proposal.questions).toEqual([]);
    const text = mapText(mapped);
    expect(text).toMatch(
      /Diaphragm changes 2023-24\.xlsx, sheet "Changes", header in row 4, 180 rows \(sure: it is of the same kind/,
    );
    expect(text).toMatch(/lives\.csv: 146 rows are in two of the files and count once/);
    expect(text).toMatch(/STILL TO SAY.*\n {2}"money"/);
    expect(site(mapped).files?.['lives.csv']).toHaveLength(3);
    expect(site(mapped).columns?.['items.csv']).toMatchObject({ Bezeichnung: ['material', 'size'] });

    writeFileSync(join(folder, 'site.json'), mapped.text);
    const fleet = await readFleet(folder);
    const read = livesOf(fleet).filter((life) => !life.endsWith(' row 0'));
    const exported = plant['lives.csv'].map(
      (row) => `${row.position} ${row.material} ${row.size} ${row.fitted || '?'}..${row.removed || '?'}`,
    );
    expect(read.map((life) => life.replace(/ row \d+$/, '')).sort()).toEqual(exported.sort());
    expect(fleet.items.map(({ item, material, size }) => `${item} ${material} ${size}`)).toEqual(
      plant['items.csv'].map(({ item, material, size }) => `${item} ${material} ${size}`),
    );
  });
});

const POSITIONS = `position,size\n${Array.from({ length: 12 }, (_, i) => `FV-${i + 1},25`).join('\n')}\n`;
const lives = (from: number, to: number): string => {
  const rows = Array.from({ length: to - from }, (_, k) => from + k).flatMap((year) =>
    Array.from(
      { length: 12 },
      (_, i) => `FV-${i + 1},EPDM,${year}-03-0${1 + (i % 9)},${year + 1}-03-0${1 + (i % 9)},leak`,
    ),
  );
  return `Valve,Material,Date in,Date out,Reason\n${rows.join('\n')}\n`;
};

describe('what is joined and what is asked', () => {
  it('is by header and name, with the shared names of columns said once', async () => {
    const mapped = await mapFolder(
      folderWith(
        new Map([
          ['positions.csv', POSITIONS],
          ['changes 2021.csv', lives(2019, 2021)],
          ['changes 2023.csv', lives(2021, 2023)],
        ]),
      ),
    );
    expect(site(mapped).files).toEqual({ 'lives.csv': ['changes 2021.csv', 'changes 2023.csv'] });
    expect(site(mapped).columns?.['lives.csv']).toMatchObject({ Valve: 'position', 'Date in': 'fitted' });
    expect(mapped.text).toMatch(
      /its header is that of changes 2021\.csv, and its name differs .* in numbers alone/,
    );
    expect(mapped.reading.findings?.rowsUsed).toBe(12 + 48);
  });

  it('is asked where two lists name the same things: one is the older', async () => {
    const stock =
      'Item,Material,Size,On hand\nP1,EPDM,25,3\nP2,FKM,25,4\nP3,EPDM,40,5\nP4,FKM,40,6\nP5,EPDM,50,7\n';
    const mapped = await mapFolder(
      folderWith(
        new Map([
          ['positions.csv', POSITIONS],
          ['lives.csv', lives(2019, 2021)],
          ['stock January.csv', stock],
          ['stock June.csv', stock.replaceAll(',25,', ',25,1')],
        ]),
      ),
    );
    expect(mapped.proposal.questions.map(({ text }) => text).join('\n')).toMatch(
      /stock (June|January)\.csv may be items\.csv as well as stock (June|January)\.csv\. Is one of them older/,
    );
    expect(site(mapped).files?.['items.csv']).not.toBeInstanceOf(Array);
  });

  it('may be packed or kept by columns, and lie one folder down; what lies deeper and links are told', async () => {
    const outside = folderWith(new Map([['x.csv', lives(2019, 2020)]]));
    const folder = folderWith(
      new Map<string, Uint8Array | string>([
        ['valves.csv.gz', gzipSync(POSITIONS.replace('position,size', 'Valve,DN'))],
        ['old/changes 2021.parquet', parquetOf(columnsOfCsv(lives(2019, 2021)), true)],
        ['changes 2023.arrow', arrowOf(columnsOfCsv(lives(2021, 2023)), true)],
        ['bad.parquet', 'x'],
        ['old/older/changes.csv', lives(2010, 2011)],
        ['packed.xlsx.gz', 'x'],
      ]),
    );
    symlinkSync(outside, join(folder, 'elsewhere'));
    symlinkSync(join(outside, 'x.csv'), join(folder, 'old', 'linked.csv'));
    const mapped = await mapFolder(folder);
    expect(site(mapped).files).toEqual({
      'positions.csv': 'valves.csv.gz',
      'lives.csv': ['changes 2023.arrow', 'old/changes 2021.parquet'],
    });
    expect(mapped.reading.findings?.rowsUsed).toBe(12 + 48);
    const left = mapped.proposal.unused.join('\n');
    expect(left).toMatch(/bad\.parquet: /);
    expect(left).toMatch(/old\/older\/: Folders are looked into one level down/);
    expect(left).toMatch(/elsewhere: It is a link/);
    expect(left).toMatch(/old\/linked\.csv: .*leads out of the fleet folder/);
    expect(left).toMatch(/packed\.xlsx\.gz: Tables of this kind are not looked into/);
    writeFileSync(join(folder, 'site.json'), mapped.text);
    expect((await readFleet(folder)).lives.length).toBeGreaterThan(40);
  });
});
