/** The runner of notebooks, on small notebooks made here: what works becomes a page, what fails says so itself. */
import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../structure/source.js';

const PYTHON = process.env.WEIRWISE_PYTHON ?? '/usr/bin/python3';
const hasJupyter = spawnSync(PYTHON, ['-c', 'import nbclient, nbconvert']).status === 0;
const required = process.env.WEIRWISE_REQUIRE_JUPYTER === '1';

describe.skipIf(!hasJupyter && !required)('a notebook', () => {
  it('that works becomes a page with its results and without scripts', () => {
    const cells = ['# Two sums', { code: 'const two = 1 + 1;\ntwo' }, { code: 'two + 1' }];
    const { folder, run } = execute(cells, '--keep');
    expect(run.stderr).toBe('');
    expect(run.status).toBe(0);
    const page = readFileSync(join(folder, 'html', 'small.html'), 'utf8');
    expect(page).toContain('<title>Two sums</title>');
    expect(page).toContain('lang="en"');
    expect(page).toMatch(/aria-label="What cell 2 printed">3\n/);
    expect(page).not.toMatch(/<script|https?:|file:/);
  });

  it('whose outputs are those it holds passes, and fails with cell and difference where they are not', () => {
    const same = execute([
      { code: '1 + 1', prints: '2\n' },
      { code: '2 + 2', prints: '4\n' },
    ]).run;
    expect(same.stderr).toBe('');
    expect(same.status).toBe(0);
    const other = execute([
      { code: '1 + 1', prints: '2\n' },
      { code: '2 + 2', prints: '5\n' },
    ]).run;
    expect(other.status).toBe(1);
    expect(other.stderr).toContain('small.ipynb: outputs are not those kept in it');
    expect(other.stderr).toContain('code cell 2:');
    expect(other.stderr).not.toContain('code cell 1:');
    expect(other.stderr).toMatch(/-\s+"5",\n\s+\+\s+"4",/);
  });

  it('with a cell that throws fails with that error and that cell', () => {
    const { run } = execute([{ code: '1 + 1' }, { code: "throw new Error('no such group');" }]);
    expect(run.status).toBe(1);
    expect(run.stderr).toContain('small.ipynb: this cell failed');
    expect(run.stderr).toContain("    throw new Error('no such group');");
    expect(run.stderr).toContain('Error: no such group');
  });

  it('with a wrong type fails with the compiler’s words', () => {
    const { run } = execute([{ code: "const days: number = 'many';" }]);
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(/not assignable to type 'number'/);
  });
});

type SmallCell = string | { code: string; prints?: string };

function execute(
  cells: SmallCell[],
  ...options: string[]
): { folder: string; run: SpawnSyncReturns<string> } {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-notebook-'));
  writeFileSync(join(folder, 'small.ipynb'), JSON.stringify(notebook(cells)));
  const run = spawnSync(PYTHON, [join(ROOT, 'test', 'tools', 'notebook.py'), ...options, 'small.ipynb'], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, JUPYTER_PATH: join(ROOT, 'notebooks', 'jupyter'), NODE_NO_WARNINGS: '1' },
  });
  return { folder, run };
}

function notebook(cells: SmallCell[]): unknown {
  const kernelspec = { name: 'tslab', display_name: 'TypeScript', language: 'typescript' };
  return {
    cells: cells.map((cell, i) => {
      const common = { id: `cell-${i}`, metadata: {} };
      return typeof cell === 'string'
        ? { ...common, cell_type: 'markdown', source: cell }
        : { ...common, cell_type: 'code', source: cell.code, outputs: printed(cell), execution_count: null };
    }),
    metadata: { kernelspec, language_info: { name: 'typescript' } },
    nbformat: 4,
    nbformat_minor: 5,
  };
}

function printed({ prints }: { prints?: string }): unknown[] {
  return prints === undefined ? [] : [{ output_type: 'stream', name: 'stdout', text: prints }];
}
