/** The README tells what the code does: the same event table, the same files and columns, the same money settings. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cleaningTableMarkdown } from '../../lib/fleet/cleaning/rules.js';
import { COLUMN_GUIDE } from '../../lib/fleet/columnGuide.js';
import { CSV_COLUMNS, CSV_FILES, columnsOf } from '../../lib/fleet/columnNames.js';
import { eventTableMarkdown } from '../../lib/fleet/eventTable.js';
import { ROOT } from './source.js';

const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');

describe('README', () => {
  it('begins with the job, then the two commands', () => {
    const job = readme.indexOf('diaphragm valves');
    const plan = readme.indexOf('npm ci && npm run plan');
    const test = readme.indexOf('npm ci && npm test');
    expect(job).toBeGreaterThan(0);
    expect(plan).toBeGreaterThan(job);
    expect(test).toBeGreaterThan(plan);
    expect(readme.slice(0, plan).split('\n').length).toBeLessThan(20);
  });

  it('carries the event table as the code has it', () => {
    const copy = /<!-- event table: begin -->\n([\s\S]*?)<!-- event table: end -->/.exec(readme)?.[1] ?? '';
    expect(unpadded(copy)).toBe(unpadded(eventTableMarkdown()));
  });

  it('carries the cleaning rules as the code has them', () => {
    const copy =
      /<!-- cleaning rules: begin -->\n([\s\S]*?)<!-- cleaning rules: end -->/.exec(readme)?.[1] ?? '';
    expect(unpadded(copy)).toBe(unpadded(cleaningTableMarkdown()));
  });

  it.each(CSV_FILES)('lists the columns of %s, and which are needed', (file) => {
    const rows = tableUnder(`### \`${file}\``);
    expect(rows.map(([column]) => plain(column)).sort()).toEqual(columnsOf(file).sort());
    const needed = rows.filter((cells) => cells[3] === 'yes').map(([column]) => plain(column));
    expect(needed.sort()).toEqual([...CSV_COLUMNS[file].needed].sort());
    for (const cells of rows) expect(cells.every((cell, i) => i === 3 || cell !== '')).toBe(true);
    const told = Object.entries(COLUMN_GUIDE[file].columns).map(([column, guide]) => [
      column,
      guide.meaning,
      guide.unit,
      guide.example.replaceAll('|', ' or '),
    ]);
    const read = rows.map((cells) => [cells[0], cells[1], cells[2], cells[4]].map(plain));
    expect(told).toEqual(read);
  });
});

/** The cells of the first table after a heading, without its two head lines. */
function tableUnder(heading: string): string[][] {
  const lines = readme.slice(readme.indexOf(heading)).split('\n');
  const first = lines.findIndex((line) => line.startsWith('|'));
  const length = lines.slice(first).findIndex((line) => !line.startsWith('|'));
  return lines.slice(first + 2, first + length).map((line) =>
    line
      .replaceAll('\\|', ' or ')
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

/** A table without the spaces and dashes that only line its columns up. */
function unpadded(table: string): string {
  return table
    .trim()
    .replace(/ +(?=\|)|(?<=\|) +/g, '')
    .replace(/-{3,}/g, '---');
}

function plain(text: string | undefined): string {
  return (text ?? '').replaceAll('`', '');
}
