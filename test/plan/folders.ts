/**
 * Small fleet folders made for tests, written without any code of the library but its random stream and days, so
 * that what the library concludes can be held against what was put in.
 */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { textFromDay } from '../../lib/numeric/day.js';
import { type RandomStream, randomStream } from '../../lib/numeric/random.js';

export interface TruthGroup {
  material: string;
  size: number;
  positions: number;
  shape: number;
  scale: number;
  /** Scheduled replacement age, days; Infinity = none. */
  replacedAt: number;
  /** Lives of this law in place of the Weibull. */
  lognormal?: { mu: number; sigma: number };
}

export interface FolderOptions {
  seed: number;
  groups: TruthGroup[];
  /** Days of history before the extract. */
  watchedDays: number;
  /** Days that diaphragms ran before records began, 0 = all fitted new when records begin. */
  daysBeforeRecords?: number;
  money?: Record<string, unknown>;
  tag?: (index: number) => string;
  line?: string;
}

const DATA_UNTIL = 20_454; // 2026-01-01
const HEADER_POSITIONS = 'position,line,size,duty,criticality,accessories';
const HEADER_LIVES = 'position,material,size,fitted,removed,reason,finding';

/** What things cost at a plain plant. */
export const MONEY = {
  labour_per_hour: 60,
  fitting_hours: 0.75,
  retighten_hours: 0.25,
  recalibration_hours_per_accessory: 0.25,
  downtime_per_hour: 500,
  leak_downtime_hours: 4,
  lost_batch_probability: 0.05,
  batch_value: 40_000,
  cleanup_cost: 500,
};

/** The texts of a folder by file name. */
export function folderFiles(options: FolderOptions): Map<string, string> {
  const positions: string[] = [HEADER_POSITIONS];
  const lives: string[] = [HEADER_LIVES];
  const recordsFrom = DATA_UNTIL - options.watchedDays;
  let index = 0;
  for (const group of options.groups) {
    for (let i = 0; i < group.positions; i++, index++) {
      const tag = quoted(options.tag?.(index) ?? `V-${String(index + 1).padStart(4, '0')}`);
      positions.push(`${tag},${quoted(options.line ?? 'A')},${group.size},,normal,1`);
      lives.push(...livesOf(tag, index, group, options, recordsFrom));
    }
  }
  const items = itemsOf(options.groups);
  const site = {
    name: 'Test plant',
    currency: 'EUR',
    records_from: textFromDay(recordsFrom),
    data_until: textFromDay(DATA_UNTIL),
    event: 'leak',
    money: options.money ?? MONEY,
  };
  return new Map([
    ['positions.csv', `${positions.join('\n')}\n`],
    ['lives.csv', `${lives.join('\n')}\n`],
    ['items.csv', items],
    ['site.json', JSON.stringify(site)],
  ]);
}

/** Writes files into a new temporary folder and returns its path. */
export function writeFolder(files: ReadonlyMap<string, string>): string {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-folder-'));
  for (const [name, text] of files) writeFileSync(join(folder, name), text);
  return folder;
}

function livesOf(
  tag: string,
  index: number,
  group: TruthGroup,
  options: FolderOptions,
  recordsFrom: number,
): string[] {
  const random = randomStream(options.seed, `position ${index}`);
  const rows: string[] = [];
  // A diaphragm fitted before records began is on record only if it was still in place when they did.
  let day = recordsFrom - Math.floor((options.daysBeforeRecords ?? 0) * random.uniform());
  while (day < DATA_UNTIL) {
    const life = lifeOf(group, random);
    const end = day + Math.max(1, Math.round(Math.min(life, group.replacedAt)));
    const leaked = life <= group.replacedAt;
    const start = textFromDay(day);
    if (end > DATA_UNTIL) rows.push(`${tag},${quoted(group.material)},${group.size},${start},,,`);
    else if (end > recordsFrom) {
      const why = leaked ? 'leak,torn' : 'scheduled,sound';
      rows.push(`${tag},${quoted(group.material)},${group.size},${start},${textFromDay(end)},${why}`);
    }
    day = end;
  }
  return rows;
}

function lifeOf({ shape, scale, lognormal }: TruthGroup, random: RandomStream): number {
  if (lognormal !== undefined) return Math.exp(lognormal.mu + lognormal.sigma * random.normal());
  return scale * (-Math.log(random.uniform())) ** (1 / shape);
}

function itemsOf(groups: TruthGroup[]): string {
  const kinds = new Map(groups.map((group) => [`${group.material}/${group.size}`, group]));
  const rows = [...kinds.values()].map(
    ({ material, size }, i) => `P-${i + 1},${quoted(material)},${size},40,45,10,5,5,12`,
  );
  return [
    'item,material,size,price,lead_time_days,lead_time_sd_days,pack,min_order,on_hand',
    ...rows,
    '',
  ].join('\n');
}

function quoted(text: string): string {
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
