/** The script of the report page, kept as text: it compiles under strict settings, lints clean, and stays small. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { pageScript, scriptSource } from '../../lib/report/pageScript.js';
import { ROOT } from '../structure/source.js';

const FILE = join(ROOT, 'page-script.js');

/** What the compiler has to say of a script that runs in a page. */
function faultsOf(code: string): string[] {
  const options: ts.CompilerOptions = {
    allowJs: true,
    checkJs: true,
    strict: true,
    noUncheckedIndexedAccess: true,
    noUnusedLocals: true,
    noImplicitReturns: true,
    noEmit: true,
    types: [],
    target: ts.ScriptTarget.ES2022,
    lib: ['lib.es2022.d.ts', 'lib.dom.d.ts', 'lib.dom.iterable.d.ts'],
  };
  const host = ts.createCompilerHost(options);
  const { getSourceFile } = host;
  host.getSourceFile = (name, version) =>
    name === FILE ? ts.createSourceFile(name, code, version, true) : getSourceFile(name, version);
  const program = ts.createProgram([FILE], options, host);
  const file = program.getSourceFile(FILE);
  return [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)].map(
    ({ messageText }) => ts.flattenDiagnosticMessageText(messageText, '\n'),
  );
}

describe('the script of the report page', () => {
  it('compiles under strict settings', () => {
    expect(faultsOf(scriptSource())).toEqual([]);
  }, 60_000);

  it('would not compile with a fault in it', () => {
    const broken = scriptSource().replace('row.hidden = true', "row.hidden = 'yes'");
    expect(broken).not.toBe(scriptSource());
    expect(faultsOf(broken)).toEqual([expect.stringContaining('not assignable')]);
  }, 60_000);

  it('lints clean, though it is kept as text', () => {
    const folder = mkdtempSync(join(tmpdir(), 'weirwise-script-'));
    const file = join(folder, 'page-script.js');
    writeFileSync(file, scriptSource());
    const biome = join(ROOT, 'node_modules', '@biomejs', 'biome', 'bin', 'biome');
    const words = [
      'lint',
      '--diagnostic-level=warn',
      '--vcs-enabled=false',
      `--config-path=${join(ROOT, '.biome.json')}`,
    ];
    const run = spawnSync(process.execPath, [biome, ...words, file], { cwd: folder, encoding: 'utf8' });
    rmSync(folder, { recursive: true });
    expect(`${run.stdout}${run.stderr}`).toMatch(/Checked 1 file/);
    expect(run.status, run.stderr).toBe(0);
  }, 60_000);

  it('carries no remark, needs nothing from outside and makes no markup or code from text', () => {
    const script = pageScript();
    expect(script).not.toMatch(/@param|@type|\/\/ /);
    expect(script).not.toMatch(
      /innerHTML|outerHTML|insertAdjacent|document\.write|eval|Function\(|fetch|XMLHttp|import\(/,
    );
    expect(script).not.toMatch(/<\/script|<!--/i);
    expect(script.length).toBeLessThan(10_500);
    expect(createHash('sha256').update(pageScript()).digest('hex')).toBe(
      createHash('sha256').update(script).digest('hex'),
    );
  });
});
