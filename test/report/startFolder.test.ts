/** An empty fleet folder reads without a fault but for its rows of examples, and its settings are those that are known. */
import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { CSV_FILES } from '../../lib/fleet/columnNames.js';
import { fleetOf } from '../../lib/fleet/read.js';
import { rowBook } from '../../lib/fleet/rowBook.js';
import { readSettings } from '../../lib/fleet/settings.js';
import { startFiles } from '../../lib/report/startFolder.js';
import { brief } from '../fleet/files.js';

const files = startFiles();
const bytesOf = (texts: ReadonlyMap<string, string>): Map<string, Uint8Array> =>
  new Map([...texts].map(([name, text]) => [name, new TextEncoder().encode(text)]));

describe('an empty fleet folder', () => {
  it('asks for rows of its own, and does not take the examples for data', () => {
    expect(() => fleetOf({ files: bytesOf(files), hash: '', unread: [] })).toThrow(InputError);
    expect(() => fleetOf({ files: bytesOf(files), hash: '', unread: [] })).toThrow(
      /positions\.csv.*example of an empty folder/s,
    );
  });

  it('reads with the first rows, the examples set aside one for each table', () => {
    const widths = (name: string): number =>
      (files.get(name) ?? '').split('\n', 1)[0]?.split(',').length ?? 0;
    const row = (name: string, cells: string[]): string =>
      [...cells, ...Array.from({ length: widths(name) - cells.length }, () => '')].join(',');
    const texts = new Map([
      ...files,
      ['positions.csv', `${files.get('positions.csv')}${row('positions.csv', ['V1', '25'])}\n`],
      ['lives.csv', `${files.get('lives.csv')}${row('lives.csv', ['V1', 'EPDM'])}\n`],
    ]);
    const fleet = fleetOf({ files: bytesOf(texts), hash: '', unread: [] }, { dataUntil: '2025-12-31' });
    expect(fleet.positions.map(({ position }) => position)).toEqual(['V1']);
    expect(brief(fleet).filter((line) => line.startsWith('row-of-examples'))).toHaveLength(CSV_FILES.length);
    expect(brief(fleet).filter((line) => /column-unknown|row-width|setting-unknown/.test(line))).toEqual([]);
  });

  it('has settings that are all known once their slashes are gone', () => {
    const lines = (files.get('site.json') ?? '').split('\n');
    const open = lines.map((line) => line.replace(/^ {2}\/\/ (?=[,{}"]| {2})/, '  ')).join('\n');
    const book = rowBook('site.json');
    const { site, dataUntil, mappings } = readSettings(new TextEncoder().encode(open), book);
    expect(book.problems()).toEqual([]);
    expect(dataUntil).not.toBe(null);
    expect(site.money.batchValue?.likely ?? site.money.batchValue).toBeTruthy();
    expect(mappings.aliases.get('V-0017')).toBe('V-17');
    expect(site.limits.length).toBe(1);
  });

  it('explains every column on its page, without a script', () => {
    const page = files.get('start-here.html') ?? '';
    expect(page).toContain('material_next');
    expect(page).not.toMatch(/<script/i);
    expect(page.match(/<table/g)).toHaveLength(CSV_FILES.length + 1);
  });
});
