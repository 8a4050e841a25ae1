/**
 * Runs again every R and Python script under test/reference and compares what it computes with the values kept beside
 * it: `name.R` or `name.py` prints what `name.json` holds, or writes it to the path it is given. Exit code 1 where one differs.
 *
 *     npm run reference                compare
 *     npm run reference -- --write     take the new values over, after looking into why they differ
 */
import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = resolve(fileURLToPath(import.meta.url), '..', '..', '..');
const FOLDER = join(ROOT, 'test', 'reference');
/** Relative; other versions of R and scipy stop their searches elsewhere in the last digits. */
const TOLERANCE = 1e-6;

function scripts(): string[] {
  return readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(R|py)$/.test(name))
    .sort()
    .map((name) => join(FOLDER, name));
}

/** What differs for one script, a line each. */
function differences(script: string, folder: string, write: boolean): string[] {
  const fresh = join(folder, 'fresh.json');
  const kept = keptValues(script);
  rmSync(fresh, { force: true });
  const program = script.endsWith('.R') ? 'Rscript' : (process.env.WEIRWISE_PYTHON ?? '/usr/bin/python3');
  const run = spawnSync(program, [script, fresh], { encoding: 'utf8', cwd: dirname(script), maxBuffer: 1e9 });
  if (run.error !== undefined) return [`${program} does not run: ${run.error.message}`];
  if (run.status !== 0) return [`it failed: ${run.stderr.trim()}`];
  if (!existsSync(fresh)) writeFileSync(fresh, run.stdout);
  if (!existsSync(kept)) return ['no values are kept beside it'];
  if (write) copyFileSync(fresh, kept);
  return unlike(readJson(kept), readJson(fresh), '');
}

/** The file that a script says it fills ("Run: ... > values.json"), else the one of its own name. */
function keptValues(script: string): string {
  const said = />\s*(\S+\.json)/.exec(readFileSync(script, 'utf8'))?.[1];
  return said === undefined ? script.replace(/\.(R|py)$/, '.json') : join(dirname(script), basename(said));
}

function readJson(path: string): unknown {
  return JSON.parse(readFileSync(path, 'utf8'));
}

function unlike(kept: unknown, fresh: unknown, path: string): string[] {
  if (typeof kept === 'number' && typeof fresh === 'number') {
    const close = Math.abs(kept - fresh) <= TOLERANCE * Math.max(Math.abs(kept), Math.abs(fresh), 1e-300);
    return close ? [] : [`${path}: kept ${kept}, now ${fresh}`];
  }
  if (isObject(kept) && isObject(fresh)) {
    const names = new Set([...Object.keys(kept), ...Object.keys(fresh)]);
    return [...names].flatMap((name) => unlike(kept[name], fresh[name], `${path}/${name}`));
  }
  return kept === fresh ? [] : [`${path}: kept ${JSON.stringify(kept)}, now ${JSON.stringify(fresh)}`];
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function main(words: string[]): number {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-reference-'));
  let differing = 0;
  for (const script of scripts()) {
    const name = relative(FOLDER, script);
    const lines = differences(script, folder, words.includes('--write'));
    process.stdout.write(lines.length === 0 ? `${name}: as kept\n` : `${name}: differs\n`);
    for (const line of lines) process.stdout.write(`    ${line}\n`);
    differing += lines.length > 0 ? 1 : 0;
  }
  rmSync(folder, { recursive: true });
  return differing === 0 ? 0 : 1;
}

process.exitCode = main(process.argv.slice(2));
