/**
 * Checks the cells of every notebook under the library's own strict settings: the notebook kernel is lax about types.
 * Prints each fault with notebook, cell and line; exit code 1 if there is one.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = resolve(fileURLToPath(import.meta.url), '..', '..', '..');
const NOTEBOOKS = join(ROOT, 'notebooks');

/** Where our own package's names lead while nothing is built. */
const OWN_PACKAGE = {
  weirwise: [join(ROOT, 'lib', 'index.ts')],
  'weirwise/render': [join(ROOT, 'lib', 'render', 'index.ts')],
};

interface Cells {
  notebook: string;
  /** The code cells, one after another. */
  text: string;
  /** First line, from 0, of each cell in the text. */
  firstLines: number[];
}

function readCells(notebook: string): Cells {
  const { cells } = JSON.parse(readFileSync(join(NOTEBOOKS, notebook), 'utf8')) as {
    cells: { cell_type: string; source: string | string[] }[];
  };
  const lines: string[] = ['export {};'];
  const firstLines: number[] = [];
  for (const { cell_type, source } of cells) {
    if (cell_type !== 'code') continue;
    firstLines.push(lines.length);
    lines.push(...(typeof source === 'string' ? source : source.join('')).split('\n'));
  }
  return { notebook, text: lines.join('\n'), firstLines };
}

function settings(): ts.CompilerOptions {
  const path = join(ROOT, 'tsconfig.json');
  const { config, error } = ts.readConfigFile(path, ts.sys.readFile);
  if (error !== undefined) throw new Error(ts.flattenDiagnosticMessageText(error.messageText, '\n'));
  const { options } = ts.parseJsonConfigFileContent(config, ts.sys, ROOT);
  return { ...options, noUnusedLocals: false, baseUrl: ROOT, paths: OWN_PACKAGE };
}

/** The faults in the cells of these notebooks, each as a line of text. */
function faultsOf(all: Cells[]): string[] {
  const byPath = new Map(all.map((cells) => [join(NOTEBOOKS, `${cells.notebook}.cells.ts`), cells]));
  const options = settings();
  const host = ts.createCompilerHost(options);
  const { fileExists, readFile, getSourceFile } = host;
  host.fileExists = (path) => byPath.has(path) || fileExists(path);
  host.readFile = (path) => byPath.get(path)?.text ?? readFile(path);
  host.getSourceFile = (path, target, ...rest) => {
    const text = byPath.get(path)?.text;
    return text === undefined
      ? getSourceFile(path, target, ...rest)
      : ts.createSourceFile(path, text, target, true);
  };
  const program = ts.createProgram([...byPath.keys()], options, host);
  return [...byPath].flatMap(([path, cells]) =>
    ts.getPreEmitDiagnostics(program, program.getSourceFile(path)).map((fault) => faultText(fault, cells)),
  );
}

function faultText(fault: ts.Diagnostic, { notebook, firstLines }: Cells): string {
  const text = ts.flattenDiagnosticMessageText(fault.messageText, '\n');
  if (fault.file === undefined || fault.start === undefined) return `${notebook}: ${text}`;
  const { line } = fault.file.getLineAndCharacterOfPosition(fault.start);
  const cell = firstLines.filter((first) => first <= line).length;
  return `${notebook}, code cell ${cell}, line ${line - (firstLines[cell - 1] ?? 0) + 1}: ${text}`;
}

function main(): number {
  const names = readdirSync(NOTEBOOKS).filter((name) => name.endsWith('.ipynb'));
  const faults = faultsOf(names.sort().map(readCells));
  for (const fault of faults) process.stderr.write(`${fault}\n`);
  if (faults.length === 0) process.stdout.write(`The cells of ${names.length} notebooks type-check.\n`);
  return faults.length === 0 ? 0 : 1;
}

process.exitCode = main();
