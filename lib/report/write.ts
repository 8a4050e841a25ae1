/** Writes files together or not at all. */
import { existsSync } from 'node:fs';
import { lstat, mkdir, mkdtemp, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { InputError } from '../errors.js';

/**
 * Writes files into a folder: first all of them into a temporary folder beside it, then each moved into place. If a
 * move fails, those already made are undone. Other files in the folder are left alone. Throws InputError where the
 * folder cannot be written.
 */
export async function writeTogether(files: ReadonlyMap<string, string>, folder: string): Promise<void> {
  const target = resolve(folder);
  await refuseLoss(folder, target, [...files.keys()]);
  const staging = await stagingFolder(target);
  try {
    for (const [name, text] of files) await writeFile(join(staging, name), text);
    if (existsSync(target)) await moveEach([...files.keys()], staging, target);
    else await rename(staging, target);
  } catch (cause) {
    throw notWritable(folder, cause);
  } finally {
    await rm(staging, { recursive: true, force: true });
  }
}

/** An empty name, the root of a disk, and anything but a file under the name of a file are never written over. */
async function refuseLoss(folder: string, target: string, names: readonly string[]): Promise<void> {
  if (folder.trim() === '') throw notWritable(folder, 'no folder is named');
  if (dirname(target) === target) throw notWritable(folder, 'it is the root of the disk');
  for (const name of names) {
    const there = await lstat(join(target, name)).catch(() => null);
    if (there !== null && !there.isFile()) throw notWritable(folder, `${name} in it is not a plain file`);
  }
}

async function stagingFolder(target: string): Promise<string> {
  try {
    if (existsSync(target) && !(await stat(target)).isDirectory())
      throw new Error('it is a file, not a folder');
    await mkdir(dirname(target), { recursive: true });
    return await mkdtemp(join(dirname(target), `.${basename(target)}-`));
  } catch (cause) {
    throw notWritable(target, cause);
  }
}

/** Moves files into a folder that is there; puts back what was there before if one of the moves fails. */
async function moveEach(names: readonly string[], staging: string, target: string): Promise<void> {
  const former = await mkdtemp(join(staging, 'former-'));
  const moved: string[] = [];
  try {
    for (const name of names) {
      if (existsSync(join(target, name))) await rename(join(target, name), join(former, name));
      moved.push(name);
      await rename(join(staging, name), join(target, name));
    }
  } catch (cause) {
    for (const name of moved) {
      await rm(join(target, name), { force: true, recursive: true });
      if (existsSync(join(former, name))) await rename(join(former, name), join(target, name));
    }
    throw cause;
  }
}

function notWritable(folder: string, cause: unknown): InputError {
  const reason = cause instanceof Error ? cause.message : String(cause);
  return new InputError(
    `Cannot write into the output folder: ${reason}.`,
    { file: folder },
    'Nothing was written. Name another folder with --out, or make this one writable.',
  );
}
