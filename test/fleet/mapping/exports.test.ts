/** Exports of invented plants in twelve languages: what is proposed is right, and what is read with it is what was exported. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type MappedFolder, mapFolder } from '../../../lib/fleet/mapping/mapFolder.js';
import { proposeMapping } from '../../../lib/fleet/mapping/proposeMapping.js';
import { sourcesOf } from '../../../lib/fleet/mapping/sources.js';
import { isWritten } from '../../../lib/fleet/mapping/types.js';
import { readMappings } from '../../../lib/fleet/mappings.js';
import { readFleet } from '../../../lib/fleet/read.js';
import { rawSite } from '../../../lib/fleet/settings.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../../../lib/fleet/types.js';
import { columnHits, type Hits, isRightWord } from '../../fixtures/exports/columnHits.js';
import { DIALECTS, type Dialect } from '../../fixtures/exports/dialects.js';
import { HELD_OUT } from '../../fixtures/exports/heldOut.js';
import { HELD_OUT_LATER } from '../../fixtures/exports/heldOutLater.js';
import { HELD_OUT_UNSEEN } from '../../fixtures/exports/heldOutUnseen.js';
import { type Export, makeExport } from '../../fixtures/exports/makeExport.js';
import { type OrderPlant, orderPlant } from '../../fixtures/exports/orderPlant.js';
import { demoPart, type PlainRows, type Plant } from '../../fixtures/exports/plant.js';
import { livesOf, readFiles } from '../files.js';

interface Tried {
  dialect: Dialect;
  made: Export;
  mapped: MappedFolder;
  folder: string;
}

let plant: OrderPlant;
const tried: Tried[] = [];

beforeAll(async () => {
  plant = orderPlant(await demoPart());
  for (const dialect of DIALECTS) {
    const made = makeExport(plant, dialect);
    const folder = mkdtempSync(join(tmpdir(), 'weirwise-map-'));
    for (const [name, bytes] of made.files) writeFileSync(join(folder, name), bytes);
    tried.push({ dialect, made, folder, mapped: await mapFolder(folder) });
  }
}, 60_000);

afterAll(() => {
  for (const { folder } of tried) rmSync(folder, { recursive: true, force: true });
});

const cases = DIALECTS.map(({ name }, i) => [name, i] as const);

describe('columns of exports', () => {
  it('are found: none wrong, at least 95 in 100 right, the others asked', () => {
    const counts = tried.map(({ made, mapped }) => columnHits(made, mapped.proposal));
    const sum = (of: keyof Hits): number => counts.reduce((total, one) => total + one[of], 0);
    const all = { right: sum('right'), asked: sum('asked'), wrong: sum('wrong'), missed: sum('missed') };
    const share = all.right / (all.right + all.asked + all.wrong + all.missed);
    expect(all, JSON.stringify(all)).toMatchObject({ wrong: 0, missed: 0 });
    expect(share, `${JSON.stringify(all)}: ${(100 * share).toFixed(1)} % right`).toBeGreaterThan(0.95);
  });

  it.each(cases)('%s: words are right or asked', (_name, i) => {
    const { dialect, mapped } = tried[i] as Tried;
    const written = mapped.proposal.words.filter(
      ({ ours, sureness }) => ours !== null && sureness !== 'guess',
    );
    const wrong = written.filter(
      ({ column, ours, theirs }) => dialect.words[column]?.[ours ?? ''] !== theirs,
    );
    expect(wrong).toEqual([]);
    expect(written.length).toBeGreaterThan(0.85 * mapped.proposal.words.length);
  });
});

const ALL_HELD_OUT = [...HELD_OUT, ...HELD_OUT_LATER, ...HELD_OUT_UNSEEN];

describe('exports that no word was added for', () => {
  const ESSENTIAL = ['position', 'material', 'size', 'fitted', 'removed'];

  it.each(ALL_HELD_OUT.map((dialect) => [dialect.name, dialect] as const))(
    '%s: nothing is wrong, and what matters most is found',
    (_name, dialect) => {
      const made = makeExport(plant, dialect);
      const proposal = proposeMapping(sourcesOf(made.files, 1e9), readMappings({}));
      expect(columnHits(made, proposal)).toMatchObject({ wrong: 0 });
      for (const [table, columns] of made.truth) {
        const found = proposal.tables
          .find((one) => one.table === table)
          ?.columns.filter(({ asked }) => !asked);
        for (const ours of ESSENTIAL.filter((name) => columns.has(name))) {
          expect(found?.find((column) => column.ours === ours)?.theirs, `${table} ${ours}`).toBe(
            columns.get(ours),
          );
        }
      }
      const written = proposal.words.filter(isWritten);
      expect(
        written.filter(({ column, ours, theirs }) => !isRightWord(dialect, column, ours, theirs)),
      ).toEqual([]);
    },
  );

  it('ask which column is the reason where its words are not known', () => {
    const made = makeExport(plant, HELD_OUT[0] as Dialect);
    const { questions } = proposeMapping(sourcesOf(made.files, 1e9), readMappings({}));
    expect(questions.map(({ text }) => text).join()).toMatch(
      /Which column of lives\.csv is reason: "Ok" or "Állapot"\? Both are about as likely/,
    );
  });
});

describe('what is read with the proposal', () => {
  it.each(cases)('%s: is what was exported', async (_name, i) => {
    const one = tried[i] as Tried;
    writeFileSync(join(one.folder, 'site.json'), JSON.stringify(answered(one)));
    const fleet = await readFleet(one.folder);
    const expected = baseline(one);
    expect(positionsOf(fleet)).toEqual(positionsOf(expected));
    expect(livesAndWords(fleet)).toEqual(livesAndWords(expected));
    expect(readingsOf(fleet)).toEqual(readingsOf(expected));
    expect(fleet.items).toEqual(expected.items);
    expect(fleet.lives.length).toBeGreaterThan(400);
  });
});

/** The proposal after a person who knows the plant has answered what is asked. */
function answered({ dialect, made, mapped }: Tried): Record<string, unknown> {
  const site = rawSite(new TextEncoder().encode(mapped.text)) as Record<
    string,
    Record<string, Record<string, unknown>>
  >;
  const set = (section: string, part: string, key: string, value: string): void => {
    site[section] = { ...site[section], [part]: { ...site[section]?.[part], [key]: value } };
  };
  for (const { table, columns } of mapped.proposal.tables) {
    for (const { ours, asked } of columns) {
      const theirs = made.truth.get(table)?.get(ours);
      if (asked && theirs !== undefined) set('columns', table, theirs, ours);
    }
  }
  for (const { column, theirs, ours, sureness } of mapped.proposal.words) {
    const meant = Object.entries(dialect.words[column] ?? {}).find(([, word]) => word === theirs);
    if ((ours === null || sureness === 'guess') && meant !== undefined)
      set('values', column, theirs, meant[0]);
  }
  if (mapped.proposal.questions.some(({ text }) => text.includes('day or the month')))
    set('formats', 'readings.csv', 'dates', 'day first');
  return { ...site, data_until: '2026-09-30', records_from: '2018-10-01' };
}

/** The same columns by our own names, in the plain form. */
function baseline({ made }: Tried): Fleet {
  const files: Record<string, string> = {};
  for (const [table, columns] of made.truth) {
    const names = [...columns.keys()];
    const quoted = (text = ''): string => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
    const lines = rowsOf(table as keyof Plant, made).map((row) =>
      names.map((name) => quoted(row[name])).join(','),
    );
    files[table] = `${names.join(',')}\n${lines.join('\n')}\n`;
  }
  return readFiles({ ...files, 'site.json': { data_until: '2026-09-30', records_from: '2018-10-01' } });
}

/** Positions taken from lives are those that have one. */
function rowsOf(table: keyof Plant, made: Export): PlainRows {
  if (table !== 'positions.csv' || made.files.size > 1 || (made.truth.get(table)?.size ?? 0) > 5)
    return plant[table];
  const lived = new Set(plant['lives.csv'].map(({ position }) => position));
  return plant[table].filter(({ position }) => lived.has(position));
}

function positionsOf({ positions }: Fleet) {
  return [...positions].sort((a, b) => (a.position < b.position ? -1 : 1));
}

function livesAndWords(fleet: Fleet): string[] {
  const { lives, lotNames, fitters } = fleet;
  const texts = livesOf(fleet).map((text, i) => {
    const words = `${REASONS[lives.reason[i] ?? -1]} ${FINDINGS_AT_REMOVAL[lives.finding[i] ?? -1]}`;
    return `${text} ${words} ${lotNames[lives.lot[i] ?? -1]} ${fitters[lives.fittedBy[i] ?? -1]} ${lives.lastTight[i]} ${lives.recorded[i]}`;
  });
  return texts.sort();
}

function readingsOf({ readings, positions }: Fleet): string[] {
  return Array.from(
    readings.position,
    (p, i) =>
      `${positions[p]?.position} ${readings.date[i]} ${readings.strokes[i]} ${readings.steamCycles[i]} ${readings.hotCleans[i]}`,
  ).sort();
}
