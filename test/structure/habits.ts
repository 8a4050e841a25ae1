/** Habits of the library that a reader may rely on, each as a function from files to what breaks it. */
import ts from 'typescript';
import { importsOf, lineOf, nodes, parse, type SourceFile } from './source.js';

/** Packages that draw; only the room for drawing loads them. */
const DRAWING = /^(vega|vega-lite|vega-embed|vega-interpreter|tslab)(\/|$)/;
/** Rooms at the two ends, where files are read and written. */
const ENDS = /^lib\/(fleet|render|report)\/|^lib\/cli\.ts$/;
/** Calls that would make a result depend on the moment it is made. */
const MOMENTS = new Set([
  'Math.random',
  'Date.now',
  'performance.now',
  'process.hrtime',
  'crypto.randomUUID',
]);

/** Index files only re-export. */
export function indexFaults(files: SourceFile[]): string[] {
  return files
    .filter(({ path }) => path.endsWith('/index.ts'))
    .flatMap((file) =>
      parse(file)
        .statements.filter((statement) => !reExports(statement))
        .map((statement) => `${file.path}:${lineOf(statement)} does more than re-export.`),
    );
}

function reExports(statement: ts.Statement): boolean {
  return ts.isExportDeclaration(statement) && statement.moduleSpecifier !== undefined;
}

/** Packages that draw are imported by render/ alone. */
export function drawingFaults(files: SourceFile[]): string[] {
  return files
    .filter(({ path }) => !path.startsWith('lib/render/'))
    .flatMap((file) =>
      importsOf(file)
        .filter((name) => DRAWING.test(name))
        .map((name) => `${file.path} imports ${name}: only lib/render may.`),
    );
}

/** They are loaded when something is drawn: one of them awaits while loading, and a notebook's kernel cannot require that. */
export function eagerFaults(files: SourceFile[]): string[] {
  return files.flatMap((file) =>
    parse(file)
      .statements.filter((statement) => loadsDrawing(statement))
      .map((statement) => `${file.path}:${lineOf(statement)} loads what draws before anything is drawn.`),
  );
}

function loadsDrawing(statement: ts.Statement): boolean {
  if (!ts.isImportDeclaration(statement) || !ts.isStringLiteral(statement.moduleSpecifier)) return false;
  const typeOnly = statement.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword;
  return !typeOnly && DRAWING.test(statement.moduleSpecifier.text);
}

/** Files are read and written at the two ends only. */
export function fileFaults(files: SourceFile[]): string[] {
  return files
    .filter(({ path }) => !ENDS.test(path))
    .flatMap((file) =>
      importsOf(file)
        .filter((name) => /^(node:)?(fs|child_process|http|https|net)(\/|$)/.test(name))
        .map((name) => `${file.path} imports ${name}: files are read and written at the ends only.`),
    );
}

/** Nothing prints, and nothing asks for the time or for chance without a seed. */
export function momentFaults(files: SourceFile[]): string[] {
  return files.flatMap((file) =>
    [...nodes(parse(file))].flatMap((node) => {
      const what = momentOf(node);
      return what === null ? [] : [`${file.path}:${lineOf(node)} uses ${what}.`];
    }),
  );
}

function momentOf(node: ts.Node): string | null {
  if (ts.isPropertyAccessExpression(node)) {
    const text = node.getText();
    return text.startsWith('console.') || MOMENTS.has(text) ? text : null;
  }
  const bare = ts.isNewExpression(node) && node.expression.getText() === 'Date';
  return bare && (node.arguments?.length ?? 0) === 0 ? 'new Date()' : null;
}

/** No default exports, and no classes but the two errors. */
export function exportFaults(files: SourceFile[]): string[] {
  return files.flatMap((file) =>
    [...nodes(parse(file))].flatMap((node) => {
      if (node.kind === ts.SyntaxKind.DefaultKeyword || ts.isExportAssignment(node)) {
        return [`${file.path}:${lineOf(node)} has a default export.`];
      }
      const isClass = ts.isClassLike(node) && file.path !== 'lib/errors.ts';
      return isClass ? [`${file.path}:${lineOf(node)} has a class.`] : [];
    }),
  );
}

/** Unfinished work and paths of one machine. */
export function leftoverFaults(files: SourceFile[]): string[] {
  const marks = ['TO' + 'DO', 'FIX' + 'ME', 'XX' + 'X', '/wo' + 'rk/', '/ho' + 'me/', 'shar' + 'ed/'];
  const pattern = new RegExp(marks.join('|'));
  return files.flatMap(({ path, text }) =>
    text.split('\n').flatMap((line, i) => {
      const found = pattern.exec(line)?.[0];
      return found === undefined ? [] : [`${path}:${i + 1} has "${found}".`];
    }),
  );
}

/** Lines of every function of a file: from its first line to its last. */
export function functionLengths(file: SourceFile): { name: string; lines: number }[] {
  return [...nodes(parse(file))]
    .filter((node) => ts.isFunctionDeclaration(node) && node.body !== undefined)
    .map((node) => {
      const { name } = node as ts.FunctionDeclaration;
      return { name: `${file.path} ${name?.text ?? ''}`, lines: node.getText().split('\n').length };
    });
}
