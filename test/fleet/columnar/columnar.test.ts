/** Tables kept as Parquet or Arrow give the fleet and the findings that the same tables give as CSV. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readFleet } from '../../../lib/fleet/read.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { arrowOf, columnsOfCsv, parquetOf } from './makeColumns.js';

const DEMO = 'data-demo';
const made: string[] = [];

afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true });
});

function folderOf(files: ReadonlyMap<string, string | Uint8Array>): string {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-columns-'));
  made.push(folder);
  for (const [name, content] of files) writeFileSync(join(folder, name), content);
  return folder;
}

/** The demo plant with its tables written anew. */
function demoAs(ending: string, write: (text: string) => Uint8Array): string {
  const files = new Map<string, string | Uint8Array>();
  for (const name of readdirSync(DEMO).filter(
    (each) => /\.(csv|json)$/.test(each) && each !== 'truth.json',
  )) {
    const text = readFileSync(join(DEMO, name), 'utf8');
    if (name === 'site.json') files.set(name, text);
    else files.set(name.replace('.csv', ending), write(text));
  }
  return folderOf(files);
}

/** All but the hash of the bytes. */
const facts = ({ inputsHash: _, ...rest }: Fleet) => rest;

describe('the demo plant kept by columns', async () => {
  const plain = facts(await readFleet(DEMO));

  it.each([
    ['Parquet with types', '.parquet', (text: string) => parquetOf(columnsOfCsv(text), true)],
    ['Parquet of texts', '.parquet', (text: string) => parquetOf(columnsOfCsv(text), false)],
    ['Arrow with types', '.arrow', (text: string) => arrowOf(columnsOfCsv(text), true)],
    ['Feather of texts', '.feather', (text: string) => arrowOf(columnsOfCsv(text), false)],
  ])('%s is the plant of the CSV files, with its findings', async (_name, ending, write) => {
    expect(facts(await readFleet(demoAs(ending, write)))).toEqual(plain);
  });
});
