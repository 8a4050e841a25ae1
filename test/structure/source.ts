/** Reading the library's own source, for the tests that keep its house in order. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

export const ROOT = resolve(fileURLToPath(import.meta.url), '..', '..', '..');

export interface SourceFile {
  /** Path from the root of the project, with forward slashes: 'lib/life/model.ts'. */
  path: string;
  text: string;
}

/** The TypeScript files under some folders of the project, in name order. */
export function sourceFiles(...folders: string[]): SourceFile[] {
  return folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
      .map((entry) => join(entry.parentPath, entry.name))
      .sort()
      .map((path) => ({
        path: relative(ROOT, path).split(sep).join('/'),
        text: readFileSync(path, 'utf8'),
      })),
  );
}

/** The modules that a file imports or re-exports, as written. */
export function importsOf({ text }: SourceFile): string[] {
  return ts.preProcessFile(text, true, true).importedFiles.map((file) => file.fileName);
}

const parsed = new WeakMap<SourceFile, ts.SourceFile>();

export function parse(file: SourceFile): ts.SourceFile {
  const known = parsed.get(file) ?? ts.createSourceFile(file.path, file.text, ts.ScriptTarget.ES2022, true);
  parsed.set(file, known);
  return known;
}

/** Every node under a node, itself first. */
export function* nodes(node: ts.Node): Generator<ts.Node> {
  const waiting = [node];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    yield next;
    const children: ts.Node[] = [];
    ts.forEachChild(next, (child) => {
      children.push(child);
    });
    waiting.push(...children.reverse());
  }
}

/** Line of a node, from 1. */
export function lineOf(node: ts.Node): number {
  return node.getSourceFile().getLineAndCharacterOfPosition(node.getStart()).line + 1;
}
