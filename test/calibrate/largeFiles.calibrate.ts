/** A history of a million lives whose text is longer than a text can be: read in a memory that does not hold it, plain and packed. */
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, expect, it } from 'vitest';
import { textFromDay } from '../../lib/numeric/day.js';

const folder = mkdtempSync(join(tmpdir(), 'weirwise-large-'));
afterAll(() => rmSync(folder, { recursive: true }));

const POSITIONS = 100_000;
const LIVES_EACH = 10;
const NOTE = `"${'nothing; '.repeat(60)}""x"""`;

/** About 590 MB; packed in parts, which is how long files are packed. */
function writeLives(name: string, pack: (text: string) => Uint8Array): void {
  const file = openSync(join(folder, name), 'w');
  writeSync(file, pack('position,material,fitted,removed,reason,notes\n'));
  for (let from = 0; from < POSITIONS; from += 500) {
    let text = '';
    for (let p = from; p < from + 500; p++) {
      for (let k = 0; k < LIVES_EACH; k++) {
        const [fitted, isLast] = [17_000 + 300 * k, k === LIVES_EACH - 1];
        const end = isLast ? ',' : `${textFromDay(fitted + 300)},scheduled`;
        text += `V${p},EPDM,${textFromDay(fitted)},${end},${NOTE}\n`;
      }
    }
    writeSync(file, pack(text));
  }
  closeSync(file);
}

const READ = `
import { readFleet } from './lib/fleet/read.ts';
const fleet = await readFleet(process.argv[1], { mostBytes: 2 ** 31 });
process.stdout.write(JSON.stringify({ lives: fleet.lives.length, memory: process.resourceUsage().maxRSS / 1024 }));
`;

it.each([
  ['lives.csv', (text: string) => Buffer.from(text)],
  ['lives.csv.gz', (text: string) => gzipSync(text)],
])('%s', (name, pack) => {
  writeLives(name, pack);
  const rows = Array.from({ length: POSITIONS }, (_, p) => `V${p},L${p % 200},25`);
  writeFileSync(join(folder, 'positions.csv'), `position,line,size\n${rows.join('\n')}\n`);
  writeFileSync(join(folder, 'site.json'), '{ "data_until": "2026-09-30" }\n');
  const args = ['--import', 'tsx', '--input-type=module', '-e', READ, folder];
  const run = spawnSync(process.execPath, args, { encoding: 'utf8', timeout: 600_000 });
  expect(run.stderr).toBe('');
  const { lives, memory } = JSON.parse(run.stdout) as { lives: number; memory: number };
  expect(lives).toBe(POSITIONS * LIVES_EACH);
  expect(memory).toBeLessThan(600);
  rmSync(join(folder, name));
});
