/** From an export to a plan on the command line: the same plan as with our own names. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderFiles, writeFolder } from '../plan/folders.js';
import { runCli } from './run.js';

const HEADERS: Record<string, string> = {
  position: 'Messstelle',
  line: 'Anlage',
  size: 'Nennweite',
  duty: 'Medium',
  criticality: 'Kritikalität',
  accessories: 'Zubehör',
  material: 'Werkstoff',
  fitted: 'Eingebaut am',
  removed: 'Ausgebaut am',
  reason: 'Grund',
  finding: 'Befund',
};
const WORDS: Record<string, string> = {
  leak: 'undicht',
  scheduled: 'turnusmäßig',
  torn: 'gerissen',
  sound: 'i.O.',
  normal: 'mittel',
};

let place: string;
let own: string;
let exported: string;

beforeAll(() => {
  place = mkdtempSync(join(tmpdir(), 'weirwise-map-'));
  const files = folderFiles({
    seed: 11,
    watchedDays: 2000,
    groups: [{ material: 'EPDM', size: 25, positions: 30, shape: 3, scale: 900, replacedAt: 730 }],
  });
  const settings = files.get('site.json') ?? '{}';
  own = writeFolder(new Map([...files].filter(([name]) => name !== 'items.csv')));
  exported = writeFolder(
    new Map([
      ['Ventile.csv', german(files.get('positions.csv') ?? '')],
      ['Wechselhistorie 2025.csv', german(files.get('lives.csv') ?? '')],
    ]),
  );
  writeFileSync(join(place, 'settings'), settings);
});

afterAll(() => {
  for (const folder of [place, own, exported]) rmSync(folder, { recursive: true, force: true });
});

/** The same table with German names, words, dates and marks. */
function german(text: string): string {
  const [header = '', ...rows] = text.trim().split('\n');
  const cell = (plain: string): string =>
    WORDS[plain] ?? (/^\d{4}-\d\d-\d\d$/.test(plain) ? plain.split('-').reverse().join('.') : plain);
  const names = header.split(',').map((name) => HEADERS[name] ?? name);
  return `${[names, ...rows.map((row) => row.split(',').map(cell))].map((cells) => cells.join(';')).join('\n')}\n`;
}

describe('weirwise map', () => {
  it('writes settings with which an export gives the same plan', () => {
    const run = runCli('map', exported);
    expect(run.err).toBe('');
    expect(run.out).toMatch(/LIVES\.CSV {2}Wechselhistorie 2025\.csv, header in row 1, \d+ rows \(sure/);
    expect(run.out).toMatch(/Eingebaut am +fitted +sure/);
    expect(run.out).toMatch(/undicht +leak +\d+ +sure/);
    expect(run.out).toMatch(/TO ANSWER {2}Nothing\./);
    expect(run.out).toMatch(/Wrote .*site\.json\. Look through it, then run: npm run plan/);
    expect(run.out).not.toMatch(/NaN|undefined/);

    // The plant's other settings are added to what was proposed, as a person would.
    const proposed = readFileSync(join(exported, 'site.json'), 'utf8');
    const settings = readFileSync(join(place, 'settings'), 'utf8').trim().slice(1, -1);
    writeFileSync(join(exported, 'site.json'), proposed.replace('{', `{ ${settings},`));
    expect(planOf(exported, 'exported')).toEqual(planOf(own, 'own'));
  });

  it('writes nothing over', () => {
    const before = readFileSync(join(exported, 'site.json'), 'utf8');
    const run = runCli('map', exported);
    expect(run.out).toMatch(/Wrote .*site\.proposed\.json; your site\.json stays as it is/);
    expect(readFileSync(join(exported, 'site.json'), 'utf8')).toBe(before);
    expect(runCli('map', exported).out).toMatch(/site\.proposed-2\.json/);
    expect(readdirSync(exported).filter((name) => name.endsWith('.json'))).toHaveLength(3);
  });

  it.each([
    ['no folder', [], /Name the one folder/],
    ['two folders', ['a', 'b'], /Name the one folder/],
    ['a folder that is not there', ['/nowhere/at/all'], /no such folder/],
  ])('fails plainly on %s', (_name, words, message) => {
    const run = runCli('map', ...words);
    expect(run.code).toBe(1);
    expect(run.err).toMatch(message);
    expect(run.err).not.toMatch(/\n\s+at /);
    expect(existsSync('/nowhere')).toBe(false);
  });
});

/** What a plan says but for where its rows came from. */
function planOf(folder: string, name: string): Record<string, unknown> {
  const out = join(place, name);
  const run = runCli(folder, '--out', out);
  expect(run.err).toBe('');
  const plan = JSON.parse(readFileSync(join(out, 'plan.json'), 'utf8')) as Record<string, unknown>;
  const { inputsHash: _hash, findings: _findings, ...rest } = plan;
  expect((plan.groups as unknown[]).length).toBeGreaterThan(0);
  return rest;
}
