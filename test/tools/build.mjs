/**
 * Compiles lib/ into dist/. With --if-stale only where a source is newer than the last build, so that the command that
 * plans always runs what the sources say and starts without compiling. Plain JavaScript: it runs before anything is built.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = resolve(fileURLToPath(import.meta.url), '..', '..', '..');
const DIST = join(ROOT, 'dist');
const STAMP = join(DIST, '.built');
const SOURCES = ['lib', 'package.json', 'package-lock.json', 'tsconfig.json'];

function newest(path) {
  const entry = statSync(path);
  if (!entry.isDirectory()) return entry.mtimeMs;
  return Math.max(entry.mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))));
}

function isFresh() {
  if (!existsSync(STAMP)) return false;
  const built = statSync(STAMP).mtimeMs;
  return SOURCES.every((name) => newest(join(ROOT, name)) <= built);
}

if (!(process.argv.includes('--if-stale') && isFresh())) {
  rmSync(DIST, { recursive: true, force: true });
  const compiler = join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc');
  const run = spawnSync(process.execPath, [compiler, '-p', join(ROOT, 'lib', 'tsconfig.json')], {
    stdio: 'inherit',
  });
  if (run.status === 0) writeFileSync(STAMP, '');
  process.exitCode = run.status ?? 1;
}
