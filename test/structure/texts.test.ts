/** Fixed words of pages and charts stand in one file per room, and every one of them is used. */
import { describe, expect, it } from 'vitest';
import * as chartTexts from '../../lib/chart/texts.js';
import * as reportTexts from '../../lib/report/texts.js';
import { type SourceFile, sourceFiles } from './source.js';

/** Static words where a translator would not look: headings, titles of columns, axes, titles of charts. */
const LOOSE: Record<string, RegExp> = {
  'lib/report': /<h[123][^>`$]*>[^<>`$\\]+<\/h[123]>|\btitle: '[^']+'(?=[ ,}])/,
  'lib/chart': /\b(?:unit|across): '[^']+'|\bconst title = '/,
};
/** Files that are no report of a plan: the empty folder and its page, and words kept for the page's script. */
const APART = /start(?:Page|Folder)\.ts$|\/script\/|texts\.ts$/;

function looseWords(files: readonly SourceFile[], pattern: RegExp): string[] {
  return files
    .filter(({ path }) => !APART.test(path))
    .flatMap(({ path, text }) => {
      const found = pattern.exec(text)?.[0];
      return found === undefined ? [] : [`${path}: ${found}`];
    });
}

describe.each([
  ['lib/report', reportTexts],
  ['lib/chart', chartTexts],
])('fixed words of %s', (room, texts) => {
  const files = sourceFiles(room);

  it('stand in its texts.ts', () => {
    expect(looseWords(files, LOOSE[room] as RegExp)).toEqual([]);
  });

  it('are all used', () => {
    const source = files.map(({ text }) => text).join('\n');
    const unused = Object.entries(texts)
      .filter(([part]) => part !== 'SCRIPT_TEXTS')
      .flatMap(([part, words]) => Object.keys(words).map((key) => `${part}.${key}`))
      .filter((name) => !new RegExp(`\\b${name}\\b`).test(source));
    expect(unused).toEqual([]);
  });
});

describe('the check of loose words', () => {
  it('finds a heading, a title of a column and an axis', () => {
    const file = (text: string): SourceFile[] => [{ path: 'lib/report/x.ts', text }];
    const report = LOOSE['lib/report'] as RegExp;
    expect(looseWords(file('html`<h3>Chase</h3>`'), report)).toHaveLength(1);
    expect(looseWords(file("columns: [{ title: 'Group' }]"), report)).toHaveLength(1);
    expect(looseWords(file('columns: [{ title: COLUMN.group }]'), report)).toEqual([]);
    expect(looseWords(file("unit: 'Leaks a year',"), LOOSE['lib/chart'] as RegExp)).toHaveLength(1);
  });
});
