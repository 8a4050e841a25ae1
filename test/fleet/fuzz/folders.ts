/** Folders that fuzzing starts from: pieces of the demo plant, the same as work orders, files from public reports, a workbook. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fleetOf } from '../../../lib/fleet/read.js';
import { ROOT } from '../../structure/source.js';
import { byPosition, canBeOrders, ordersCsv, ordersOf, plainLives } from '../workOrders/asOrders.js';

export type Folder = ReadonlyMap<string, Uint8Array>;

const DEMO = join(ROOT, 'data-demo');
const FIELD = join(ROOT, 'test/museum/field');
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Every 25th position, with its lives and readings. */
function demoPiece(): Map<string, Uint8Array> {
  const text = (name: string): string[] => readFileSync(join(DEMO, name), 'utf8').split('\n');
  const positions = text('positions.csv').filter((_, i) => i === 0 || i % 25 === 1);
  const tags = new Set(positions.map((line) => line.split(',')[0]));
  const ofTags = (name: string, most: number): string =>
    `${text(name)
      .filter((line, i) => i === 0 || tags.has(line.split(',')[0]))
      .slice(0, most)
      .join('\n')}\n`;
  return new Map([
    ['positions.csv', bytes(`${positions.join('\n')}\n`)],
    ['lives.csv', bytes(ofTags('lives.csv', 250))],
    ['readings.csv', bytes(ofTags('readings.csv', 100))],
    ...['items.csv', 'orders.csv', 'lots.csv', 'shutdowns.csv', 'site.json'].map(
      (name) => [name, readFileSync(join(DEMO, name))] as const,
    ),
  ]);
}

function asWorkOrders(demo: Folder): Map<string, Uint8Array> {
  const fleet = fleetOf({ files: demo, hash: '', unread: [] });
  const lives = [...byPosition(plainLives(fleet)).values()].filter(canBeOrders);
  const folder = new Map(demo);
  folder.delete('lives.csv');
  folder.set('work-orders.csv', bytes(ordersCsv(lives.flatMap(ordersOf))));
  return folder;
}

/** A file of a public report as lives.csv, its own columns named in site.json where there are such. */
function fieldFolder(file: string): Map<string, Uint8Array> {
  const content = readFileSync(join(FIELD, file));
  const header = (content.toString('utf8').split(/\r?\n/)[0] ?? '').split(/[,;]/);
  const material = ['status', 'note', 'size', 'part', 'cycles', 'days'].find((name) => header.includes(name));
  const columns = { tag: 'position', installed: 'fitted', ...(material && { [material]: 'material' }) };
  const named = Object.entries(columns).filter(([theirs]) => header.includes(theirs));
  const site = { data_until: '2024-12-31', columns: { 'lives.csv': Object.fromEntries(named) } };
  const tags = [...content.toString('utf8').matchAll(/^(DV-\d+|0?17|0170|0017)[,;]/gm)].map(([, tag]) => tag);
  return new Map([
    ['positions.csv', bytes(`position,size\n${[...new Set(tags)].map((tag) => `${tag},25`).join('\n')}\n`)],
    ['lives.csv', content],
    ['site.json', bytes(JSON.stringify(site))],
  ]);
}

const WORKBOOK_COLUMNS = { tag: 'position', installed: 'fitted', status: 'material' };

export function fuzzFolders(): Folder[] {
  const demo = demoPiece();
  const both = new Map([...asWorkOrders(demo), ['lives.csv', demo.get('lives.csv') as Uint8Array]]);
  const workbook = new Map([
    ['positions.csv', bytes('position,size\nDV-261,25\nDV-262,25\n')],
    ['lives.xlsx', readFileSync(join(ROOT, 'test/museum/mergedTags.xlsx'))],
    [
      'site.json',
      bytes(JSON.stringify({ data_until: '2024-12-31', columns: { 'lives.csv': WORKBOOK_COLUMNS } })),
    ],
  ]);
  const fields = readdirSync(FIELD)
    .filter((name) => name.endsWith('.csv'))
    .sort()
    .map(fieldFolder);
  // A Buffer's slice is no copy: harm done to one would stay for the next run.
  return [demo, asWorkOrders(demo), both, workbook, ...fields].map(
    (folder) => new Map([...folder].map(([name, content]) => [name, new Uint8Array(content)])),
  );
}
