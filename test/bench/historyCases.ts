/** A history of a million diaphragms, as CSV (plain and with every cell quoted) and as Parquet: read, checked and turned into rows that can enter a fit. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { readFleet } from '../../lib/fleet/read.js';
import { readHistory } from '../../lib/group/history.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { randomStream } from '../../lib/numeric/random.js';
import type { BenchCase } from './run.js';

const POSITIONS = 100_000;
const LIVES_EACH = 10;
const FIRST_DAY = 17_000;
const MATERIALS = ['EPDM', 'PTFE-faced EPDM', 'FKM', 'VMQ'];
const COLUMNS = ['position', 'material', 'fitted', 'removed', 'reason', 'finding'] as const;

type Table = Record<(typeof COLUMNS)[number], string[]>;

/** The cases; their folders go when the process ends. */
export function historyCases(): BenchCase[] {
  const lives = { amount: POSITIONS * LIVES_EACH, unit: 'lives', times: 3 };
  const folders = [
    folderOf('lives.csv', csvOf),
    folderOf('lives.csv', quotedOf),
    folderOf('lives.parquet', parquetOf),
  ] as const;
  const [csv, quoted, parquet] = folders;
  process.once('exit', () => {
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  });
  const read = async (folder: string): Promise<number> => readHistory(await readFleet(folder)).length;
  return [
    { name: 'fleet: read and check a history, CSV', ...lives, run: () => read(csv) },
    { name: 'fleet: read and check a history, quoted', ...lives, run: () => read(quoted) },
    { name: 'fleet: read and check a history, Parquet', ...lives, run: () => read(parquet) },
  ];
}

function folderOf(file: string, write: (table: Table) => string | Uint8Array): string {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-history-'));
  const table = history();
  const rows = Array.from({ length: POSITIONS }, (_, p) => `V${p},L${p % 200},25`);
  writeFileSync(join(folder, 'positions.csv'), `position,line,size\n${rows.join('\n')}\n`);
  writeFileSync(join(folder, 'site.json'), '{ "data_until": "2026-09-30" }\n');
  writeFileSync(join(folder, file), write(table));
  return folder;
}

/** One life after the other in each position; the last goes on. */
function history(): Table {
  const random = randomStream(14, 'a history of a million');
  const table: Table = { position: [], material: [], fitted: [], removed: [], reason: [], finding: [] };
  for (let p = 0; p < POSITIONS; p++) {
    let day = FIRST_DAY + random.below(300);
    for (let k = 0; k < LIVES_EACH; k++) {
      const [last, leaked] = [k === LIVES_EACH - 1, random.below(8) === 0];
      const end = day + (leaked ? 1 + random.below(365) : 365);
      table.position.push(`V${p}`);
      table.material.push(MATERIALS[p % MATERIALS.length] as string);
      table.fitted.push(textFromDay(day));
      table.removed.push(last ? '' : textFromDay(end));
      table.reason.push(last ? '' : leaked ? 'leak' : 'scheduled');
      table.finding.push(last ? '' : leaked ? 'torn' : 'sound');
      day = end;
    }
  }
  return table;
}

function csvOf(table: Table): string {
  const lines = table.position.map((_, i) => COLUMNS.map((column) => table[column][i]).join(','));
  return `${COLUMNS.join(',')}\n${lines.join('\n')}\n`;
}

function quotedOf(table: Table): string {
  return csvOf(table).replace(/[^,\n]+/g, '"$&"');
}

function parquetOf(table: Table): Uint8Array {
  const columnData = COLUMNS.map((name) => ({ name, data: table[name], type: 'STRING' as const }));
  return new Uint8Array(parquetWriteBuffer({ columnData }));
}
