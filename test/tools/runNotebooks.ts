/**
 * Executes every notebook with a real Jupyter kernel and writes it as a page into notebooks/html.
 *
 *     npm run notebooks                  run all; stop at the first cell that fails and print that cell's own error; fail
 *                                        where outputs are not those that the notebook holds
 *     npm run notebooks -- --keep        write the new outputs into the notebooks instead
 *     npm run notebooks -- 1-life        only notebooks whose name starts so
 *
 * Needs Python with nbclient and nbconvert (Debian: jupyter-nbconvert jupyter-client). WEIRWISE_PYTHON names another one.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = resolve(fileURLToPath(import.meta.url), '..', '..', '..');
const NOTEBOOKS = join(ROOT, 'notebooks');
const PYTHONS = ['/usr/bin/python3', 'python3'];

function main(words: string[]): number {
  const keep = words.includes('--keep');
  const prefixes = words.filter((word) => !word.startsWith('--'));
  const names = notebookNames().filter(
    (name) => prefixes.length === 0 || prefixes.some((prefix) => name.startsWith(prefix)),
  );
  if (names.length === 0) return fail(`No notebook is called ${prefixes.join(' or ')}.`);
  const python = findPython();
  if (python === null) {
    return fail(
      'No Python with nbclient and nbconvert was found. Debian and Ubuntu: apt-get install jupyter-nbconvert ' +
        'jupyter-client. Elsewhere: pip install nbclient nbconvert, and name that Python in WEIRWISE_PYTHON.',
    );
  }
  linkOwnPackage();
  return run(python, names, keep);
}

function notebookNames(): string[] {
  return readdirSync(NOTEBOOKS)
    .filter((name) => name.endsWith('.ipynb'))
    .sort();
}

function findPython(): string | null {
  const named = process.env.WEIRWISE_PYTHON;
  const candidates = named === undefined ? PYTHONS : [named];
  const able = (python: string): boolean =>
    spawnSync(python, ['-c', 'import nbclient, nbconvert'], { stdio: 'ignore' }).status === 0;
  return candidates.find(able) ?? null;
}

/** The kernel looks packages up in node_modules only, so this package must be found there under its own name. */
function linkOwnPackage(): void {
  const link = join(ROOT, 'node_modules', 'weirwise');
  if (!existsSync(link)) symlinkSync('..', link, 'dir');
}

function run(python: string, names: string[], keep: boolean): number {
  const words = [join(ROOT, 'test', 'tools', 'notebook.py'), ...(keep ? ['--keep'] : []), ...names];
  const jupyterPath = join(NOTEBOOKS, 'jupyter');
  const result = spawnSync(python, words, {
    cwd: NOTEBOOKS,
    stdio: 'inherit',
    env: { ...process.env, JUPYTER_PATH: jupyterPath, NODE_NO_WARNINGS: '1', TZ: 'UTC' },
  });
  return result.status ?? 1;
}

function fail(text: string): number {
  process.stderr.write(`${text}\n`);
  return 1;
}

process.exitCode = main(process.argv.slice(2));
