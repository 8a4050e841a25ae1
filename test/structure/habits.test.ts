import { describe, expect, it } from 'vitest';
import {
  drawingFaults,
  eagerFaults,
  exportFaults,
  fileFaults,
  functionLengths,
  indexFaults,
  leftoverFaults,
  momentFaults,
} from './habits.js';
import { sourceFiles } from './source.js';

const lib = sourceFiles('lib');
const everything = sourceFiles('lib', 'test', 'data-demo');
const LONGEST_FILE = 300;
const LONGEST_FUNCTION = 80;

describe('habits of the library', () => {
  it('index files only re-export', () => expect(indexFaults(lib)).toEqual([]));
  it('only render/ loads what draws', () => expect(drawingFaults(lib)).toEqual([]));
  it('what draws is loaded only when something is drawn', () => expect(eagerFaults(lib)).toEqual([]));
  it('files are read and written at the ends only', () => expect(fileFaults(lib)).toEqual([]));
  it('nothing prints or asks for time or chance', () => expect(momentFaults(lib)).toEqual([]));
  it('no default exports, no classes but the errors', () => expect(exportFaults(lib)).toEqual([]));
  it('nothing is left unfinished', () => expect(leftoverFaults(everything)).toEqual([]));
});

describe('length', () => {
  it(`no file is longer than ${LONGEST_FILE} lines`, () => {
    const long = lib
      .map(({ path, text }) => ({ path, lines: text.split('\n').length - 1 }))
      .filter(({ path, lines }) => lines > LONGEST_FILE && !isTable(path));
    expect(long).toEqual([]);
  });

  it('functions are short: half within 15 lines, nine of ten within 30, none above 80', () => {
    const functions = lib.flatMap(functionLengths).sort((a, b) => a.lines - b.lines);
    const at = (share: number): number => functions[Math.floor(share * (functions.length - 1))]?.lines ?? 0;
    expect(at(0.5)).toBeLessThanOrEqual(15);
    expect(at(0.9)).toBeLessThanOrEqual(30);
    expect(functions.filter(({ lines }) => lines > LONGEST_FUNCTION)).toEqual([]);
  });
});

/** A table of data, not code to read. */
function isTable(path: string): boolean {
  return path === 'lib/chart/arialWidths.ts';
}

describe('the checks of those habits', () => {
  const file = (text: string, path = 'lib/cost/groupCost.ts') => [{ path, text }];

  it('find logic in an index file', () => {
    expect(indexFaults(file('export const level = 0.9;', 'lib/life/index.ts'))).toHaveLength(1);
    expect(indexFaults(file("export { fitLife } from './estimate/fit.js';", 'lib/life/index.ts'))).toEqual(
      [],
    );
  });

  it('find drawing outside render/', () => {
    expect(drawingFaults(file("import * as vega from 'vega';"))).toHaveLength(1);
    expect(drawingFaults(file("import * as vega from 'vega';", 'lib/render/svg.ts'))).toEqual([]);
  });

  it('find what draws loaded early, and let types and late loading be', () => {
    expect(eagerFaults(file("import { parse } from 'vega';", 'lib/render/svg.ts'))).toHaveLength(1);
    const late = "import type { View } from 'vega';\nexport const load = () => import('vega');";
    expect(eagerFaults(file(late, 'lib/render/svg.ts'))).toEqual([]);
  });

  it('find reading of files in the middle', () => {
    expect(fileFaults(file("import { readFileSync } from 'node:fs';"))).toHaveLength(1);
  });

  it('find printing, the clock and unseeded chance, and let dates of a day be', () => {
    const text =
      'console.log(1); Math.random(); Date.now(); new Date(); new Date(86_400_000); // Math.random()';
    expect(momentFaults(file(text))).toHaveLength(4);
  });

  it('find default exports and classes', () => {
    expect(exportFaults(file('export default 1;'))).toHaveLength(1);
    expect(exportFaults(file('export class Cost {}'))).toHaveLength(1);
    expect(exportFaults(file('switch (1) { default: break; }'))).toEqual([]);
  });

  it('find what was left unfinished', () => {
    expect(leftoverFaults(file(`// ${'TO'}${'DO'}: later`))).toHaveLength(1);
  });

  it('count the lines of a function', () => {
    const [source] = file('function f() {\n  return 1;\n}');
    expect(source && functionLengths(source)).toEqual([{ name: 'lib/cost/groupCost.ts f', lines: 3 }]);
  });
});
