import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { VERSION } from '../../lib/version.js';
import { folderFiles, writeFolder } from '../plan/folders.js';
import { runCli } from './run.js';

const OUTPUTS = [
  'change-sheets.html',
  'demand.csv',
  'due-dates.csv',
  'intervals.csv',
  'kits.csv',
  'order-list.csv',
  'pick-lists.csv',
  'pick-lists.html',
  'plan.json',
  'recurrence.csv',
  'report.html',
  'shutdown-plan.csv',
  'stand-outs.csv',
  'stock-buy-next.csv',
  'stock.csv',
  'wear.csv',
];

let place: string;
let folder: string;

beforeAll(() => {
  place = mkdtempSync(join(tmpdir(), 'weirwise-cli-'));
  folder = writeFolder(
    folderFiles({
      seed: 5,
      watchedDays: 2000,
      groups: [{ material: 'EPDM', size: 25, positions: 30, shape: 3, scale: 900, replacedAt: 730 }],
    }),
  );
});

afterAll(() => {
  rmSync(place, { recursive: true, force: true });
  rmSync(folder, { recursive: true, force: true });
});

/** A failure that a person can act on: exit code 1, one message, no stack trace, nothing written. */
function expectPlainFailure(run: ReturnType<typeof runCli>, out: string): void {
  expect(run.code).toBe(1);
  expect(run.out).toBe('');
  expect(run.err).toMatch(/^weirwise: /);
  expect(run.err).not.toMatch(/\n\s+at |node:internal|NaN/);
  expect(existsSync(out)).toBe(false);
}

describe('the command line', () => {
  it('plans a folder, prints a summary and writes every file', () => {
    const out = join(place, 'good');
    const run = runCli(folder, '--out', out);
    expect(run.err).toBe('');
    expect(run.code).toBe(0);
    expect(readdirSync(out).sort()).toEqual(OUTPUTS);
    expect(run.out).toMatch(/READ {2}\d+ rows = \d+ used \+ \d+ set aside/);
    expect(run.out).toMatch(/Leaks on record by name: /);
    expect(JSON.parse(readFileSync(join(out, 'plan.json'), 'utf8'))).toMatchObject({
      version: VERSION,
      seed: 1,
    });
  });

  it('writes the same bytes twice, and records another seed', () => {
    const [first, second, other] = ['first', 'second', 'other'].map((name) => join(place, name)) as [
      string,
      string,
      string,
    ];
    runCli(folder, '--out', first);
    runCli(folder, '--out', second);
    runCli(folder, '--out', other, '--seed', '7');
    for (const name of OUTPUTS) {
      expect(readFileSync(join(second, name)).equals(readFileSync(join(first, name))), name).toBe(true);
    }
    expect(JSON.parse(readFileSync(join(other, 'plan.json'), 'utf8'))).toMatchObject({ seed: 7 });
  });

  it('starts an empty folder, and writes nothing over', () => {
    const fresh = join(place, 'fresh');
    const run = runCli('start', fresh);
    expect(run.err).toBe('');
    expect(run.out).toMatch(/^Wrote 11 files to .*start-here\.html/);
    expect(readdirSync(fresh)).toContain('lives.csv');
    const again = runCli('start', fresh);
    expect(again.code).toBe(1);
    expect(again.err).toMatch(
      /holds positions\.csv, lives\.csv, work-orders\.csv already, and nothing is written over/,
    );
    expect(runCli('start').err).toMatch(/Name the one folder to start/);
    expect(runCli(fresh, '--out', join(place, 'none')).err).toMatch(/example of an empty folder/);
  });

  it('explains itself', () => {
    expect(runCli('--help').out).toMatch(/fleet folder/);
    expect(runCli('--version').out).toBe(`${VERSION}\n`);
  });

  it.each([
    ['a folder that is not there', ['/nowhere/at/all'], /nowhere\/at\/all/],
    ['an unknown word', ['--quick'], /quick/],
    ['a seed that is no number', ['--seed', 'x1'], /seed.*whole number/i],
    ['a limit that is no number', ['--most-mb', '0'], /most-mb.*whole number/i],
    ['two folders', ['a', 'b'], /one folder/i],
  ])('fails plainly on %s', (_name, words, message) => {
    const out = join(place, 'never');
    const run = runCli(...words, '--out', out);
    expectPlainFailure(run, out);
    expect(run.err).toMatch(message);
  });

  it.each([
    ['an empty file', 'lives.csv', '', /lives\.csv/],
    ['a header without rows', 'lives.csv', 'position,material,fitted,removed\n', /lives\.csv/],
    ['a missing column', 'lives.csv', 'position,fitted\nV-0001,2020-01-01\n', /material/],
    ['settings that are no JSON', 'site.json', '{ "name": ', /site\.json/],
  ])('fails plainly on %s', (_name, file, text, message) => {
    const bad = writeFolder(new Map([...folderFilesOf(folder), [file, text]]));
    const out = join(place, 'never');
    const run = runCli(bad, '--out', out);
    rmSync(bad, { recursive: true });
    expectPlainFailure(run, out);
    expect(run.err).toMatch(message);
  });

  it('fails plainly where the output folder is a file', () => {
    const out = join(place, 'a-file');
    writeFileSync(out, 'mine');
    const run = runCli(folder, '--out', out);
    expect(run.code).toBe(1);
    expect(run.err).toMatch(/output folder/);
    expect(run.err).not.toMatch(/\n\s+at /);
    expect(readFileSync(out, 'utf8')).toBe('mine');
  });
});

function folderFilesOf(path: string): Map<string, string> {
  return new Map(readdirSync(path).map((name) => [name, readFileSync(join(path, name), 'utf8')]));
}
