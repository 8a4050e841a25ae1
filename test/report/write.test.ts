import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { writeTogether } from '../../lib/report/write.js';

/** The target of a move that fails, as a full disk or a lost share would make it. */
const failing = vi.hoisted(() => ({ move: '' }));

vi.mock('node:fs/promises', async (original) => {
  const real = await original<typeof import('node:fs/promises')>();
  const rename: typeof real.rename = async (from, to) => {
    if (to === failing.move) throw new Error('no space left on device');
    return real.rename(from, to);
  };
  return { ...real, rename };
});

let place: string;

beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), 'weirwise-write-'));
});

afterEach(() => rmSync(place, { recursive: true, force: true }));

const files = new Map([
  ['one.csv', 'a,b\n1,2\n'],
  ['two.json', '{}\n'],
]);

describe('writeTogether', () => {
  it('makes the folder with all files and leaves nothing beside it', async () => {
    await writeTogether(files, join(place, 'deep', 'out'));
    expect(readdirSync(join(place, 'deep', 'out')).sort()).toEqual(['one.csv', 'two.json']);
    expect(readFileSync(join(place, 'deep', 'out', 'one.csv'), 'utf8')).toBe('a,b\n1,2\n');
    expect(readdirSync(join(place, 'deep'))).toEqual(['out']);
  });

  it('replaces its own files and leaves those of others alone', async () => {
    mkdirSync(join(place, 'out'));
    writeFileSync(join(place, 'out', 'one.csv'), 'old');
    writeFileSync(join(place, 'out', 'notes.txt'), 'mine');
    await writeTogether(files, join(place, 'out'));
    expect(readFileSync(join(place, 'out', 'one.csv'), 'utf8')).toBe('a,b\n1,2\n');
    expect(readFileSync(join(place, 'out', 'notes.txt'), 'utf8')).toBe('mine');
    expect(readdirSync(place)).toEqual(['out']);
  });

  it('puts the former files back where one cannot be moved', async () => {
    mkdirSync(join(place, 'out'));
    writeFileSync(join(place, 'out', 'one.csv'), 'old');
    failing.move = join(place, 'out', 'two.json');
    await expect(writeTogether(files, join(place, 'out'))).rejects.toThrow(/Nothing was written/);
    failing.move = '';
    expect(readFileSync(join(place, 'out', 'one.csv'), 'utf8')).toBe('old');
    expect(readdirSync(join(place, 'out'))).toEqual(['one.csv']);
    expect(readdirSync(place)).toEqual(['out']);
  });

  it('says what to do where the output folder is a file, and writes nothing', async () => {
    writeFileSync(join(place, 'out'), 'a file');
    await expect(writeTogether(files, join(place, 'out'))).rejects.toThrow(InputError);
    await expect(writeTogether(files, join(place, 'out'))).rejects.toThrow(/not a folder.*--out/s);
    expect(readdirSync(place)).toEqual(['out']);
  });

  it('never takes a folder of that name away, nor writes without a name or into the root', async () => {
    mkdirSync(join(place, 'out', 'one.csv', 'mine'), { recursive: true });
    await expect(writeTogether(files, join(place, 'out'))).rejects.toThrow(
      /one\.csv in it is not a plain file/,
    );
    expect(existsSync(join(place, 'out', 'one.csv', 'mine'))).toBe(true);
    expect(readdirSync(join(place, 'out'))).toEqual(['one.csv']);
    await expect(writeTogether(new Map(), '')).rejects.toThrow(/no folder is named/);
    await expect(writeTogether(new Map(), '/')).rejects.toThrow(/root of the disk/);
    expect(readdirSync(place)).toEqual(['out']);
  });

  it('says what to do where the path leads through a file', async () => {
    writeFileSync(join(place, 'plain'), 'a file');
    await expect(writeTogether(files, join(place, 'plain', 'out'))).rejects.toThrow(/output folder/);
    expect(existsSync(join(place, 'plain', 'out'))).toBe(false);
  });
});
