/** A file that is too large to be held gives the fleet that it gives when it is held. */
import { appendFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readFolder } from '../../../lib/fleet/folder.js';
import { fleetOf, readFleet } from '../../../lib/fleet/read.js';
import { fileBytes, HELD_BYTES } from '../../../lib/fleet/stream/byteSource.js';

const folder = mkdtempSync(join(tmpdir(), 'weirwise-large-'));
const LIVES = join(folder, 'lives.csv');
afterAll(() => rmSync(folder, { recursive: true }));

/** Few rows, with notes of a fifth of a megabyte in each: they take no time, and the file is above the size that is held. */
function writeFolder(): void {
  const rows = Array.from({ length: 180 }, (_, i) => {
    const note = `${'worn; '.repeat(32_000)}${i}`;
    return `V${i},EPDM,${1 + (i % 28)}.02.2019,${i < 90 ? `${1 + (i % 28)}.02.2020` : ''},${i < 90 ? 'leak' : ''},"${note}"`;
  });
  const text = `position,material,fitted,removed,reason,notes\r\n${rows.join('\r\n')}\r\nV999,EPDM,1.1.2020,,,\r\n`;
  expect(text.length).toBeGreaterThan(HELD_BYTES);
  writeFileSync(LIVES, text);
  writeFileSync(
    join(folder, 'positions.csv'),
    `position,line,size\n${Array.from({ length: 180 }, (_, p) => `V${p},A,25`).join('\n')}\n`,
  );
  writeFileSync(join(folder, 'site.json'), '{ "data_until": "2024-06-30" }\n');
}

describe('a file that is not held', () => {
  it('gives the same fleet, findings and hash, and tells how much of it has been read', async () => {
    writeFolder();
    const shares: number[] = [];
    const fleet = await readFleet(folder, {
      onReading: (file, share) => {
        expect(file).toBe('lives.csv');
        shares.push(share);
      },
    });
    const { files, large, ...rest } = await readFolder(folder);
    expect([...(large?.keys() ?? [])]).toEqual(['lives.csv']);
    const held = new Map([...files, ['lives.csv', new Uint8Array(readFileSync(LIVES))]]);
    expect(fleet).toEqual(fleetOf({ ...rest, files: held }));
    expect(fleet.findings.files.find(({ file }) => file === 'lives.csv')).toMatchObject({
      rowsUsed: 180,
      rowsSetAside: 1,
    });
    expect(shares.at(-1)).toBe(1);
    expect(shares.filter((share) => share < 1).length).toBeGreaterThan(10);
  });

  it('is refused where it changes while it is read', () => {
    const source = fileBytes(LIVES, 'lives.csv');
    appendFileSync(LIVES, 'V1,EPDM,,,,\r\n');
    expect(() => [...source.pieces()]).toThrow(/lives\.csv: The file changed while it was read/);
    expect(() => source.whole()).toThrow(/changed/);
  });
});
