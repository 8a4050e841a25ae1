/** `weirwise check` as a user runs it: files beside each other, exit codes, and errors in a sentence. */
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FAULTY } from '../fleet/quality/faulty.js';
import { writeFolder } from '../plan/folders.js';
import { runCli } from './run.js';

let place: string;
let folder: string;

beforeAll(() => {
  place = mkdtempSync(join(tmpdir(), 'weirwise-check-'));
  folder = writeFolder(FAULTY);
});

afterAll(() => {
  for (const one of [place, folder]) rmSync(one, { recursive: true, force: true });
});

describe('weirwise check', () => {
  it('prints, writes check.html and check.csv, and exits with 0', () => {
    const out = join(place, 'out');
    const run = runCli('check', folder, '--out', out);
    expect(run.err).toBe('');
    expect(run.code).toBe(0);
    expect(run.out).toContain('21 rows = 13 used + 8 set aside');
    expect(run.out).toMatch(/\nFIRST {2}.*\n$/);
    expect(readdirSync(out).sort()).toEqual(['check.csv', 'check.html']);
    expect(readdirSync(folder).sort()).toEqual([...FAULTY.keys()].sort());
  });

  it('exits with 1 where no plan can be made, and says why as a plan does', () => {
    const broken = writeFolder(new Map([...FAULTY, ['lives.csv', 'position,material\n']]));
    const out = join(place, 'none');
    const [check, plan] = [runCli('check', broken, '--out', out), runCli(broken, '--out', out)];
    expect([check.code, plan.code]).toEqual([1, 1]);
    expect(check.err).toBe(plan.err);
    expect(check.err).toContain('lives.csv');
    expect(existsSync(out)).toBe(false);
    rmSync(broken, { recursive: true, force: true });
  });

  it.each([
    ['no folder', [], /Name the one folder/],
    ['two folders', ['a', 'b'], /Name the one folder/],
    ['a folder that is not there', ['/nowhere/at/all'], /no such folder/],
  ])('fails plainly on %s', (_name, words, message) => {
    const run = runCli('check', ...words);
    expect(run.code).toBe(1);
    expect(run.err).toMatch(message);
    expect(run.err).not.toMatch(/\n\s+at /);
  });
});
