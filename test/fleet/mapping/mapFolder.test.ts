/** Awkward folders: what is asked, what is kept, what is refused, and settings that are always settings. */
import { mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { type MappedFolder, mapFolder } from '../../../lib/fleet/mapping/mapFolder.js';
import { proposeMapping } from '../../../lib/fleet/mapping/proposeMapping.js';
import { siteText } from '../../../lib/fleet/mapping/siteText.js';
import { sourcesOf } from '../../../lib/fleet/mapping/sources.js';
import { readMappings } from '../../../lib/fleet/mappings.js';
import { rawSite, readSite } from '../../../lib/fleet/settings.js';
import { mapText } from '../../../lib/report/mapText.js';

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

function folderWith(files: Record<string, string>): string {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-map-'));
  made.push(folder);
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}

const map = (files: Record<string, string>): Promise<MappedFolder> => mapFolder(folderWith(files));
const site = ({ text }: MappedFolder) =>
  rawSite(new TextEncoder().encode(text)) as Record<string, Record<string, Record<string, unknown>>>;
const questions = ({ proposal }: MappedFolder): string =>
  proposal.questions.map(({ text }) => text).join('\n');

const two = (number: number): string => String(number).padStart(2, '0');
/** Twenty valves with three diaphragms each, the last still running: day i of a month, so that dates tell their order. */
const VALVES = Array.from({ length: 20 }, (_, i) => ({
  tag: `FV-${100 + i}`,
  size: [15, 25, 40][i % 3] ?? 15,
}));
const LIVES = VALVES.flatMap(({ tag, size }, i) =>
  [2021, 2022, 2023].map((year) => ({
    tag,
    size,
    material: i % 2 === 0 ? 'EPDM' : 'FKM',
    from: `${two(1 + i)}.03.${year}`,
    to: year === 2023 ? '' : `${two(1 + i)}.03.${year + 1}`,
    why: year === 2023 ? '' : i % 4 === 0 ? 'undicht' : 'turnusmäßig',
  })),
);
const valveList = (header = 'Ventil;Nennweite'): string =>
  `${header}\n${VALVES.map(({ tag, size }) => `${tag};${size}`).join('\n')}\n`;
const history = (
  header: string,
  more: (row: (typeof LIVES)[number], i: number) => string = () => '',
): string =>
  `${header}\n${LIVES.map((row, i) => `${row.tag};${row.material};${row.from};${row.to};${row.why}${more(row, i)}`).join('\n')}\n`;
const HISTORY = 'Ventil;Werkstoff;Eingebaut;Ausgebaut;Grund';

describe('columns without names that say anything', () => {
  it('are known by their cells', async () => {
    const mapped = await map({ 'a.csv': valveList('Feld A;Feld B'), 'b.csv': history('F1;F2;F3;F4;F5') });
    expect(site(mapped).columns).toEqual({
      'positions.csv': { 'Feld A': 'position', 'Feld B': 'size' },
      'lives.csv': { F1: 'position', F2: 'material', F3: 'fitted', F4: 'removed', F5: 'reason' },
    });
    expect(mapped.reading.findings?.rowsUsed).toBe(80);
  });

  it('or with one name twice, or none, are named by their place', async () => {
    const mapped = await map({
      'Ventile.csv': valveList(),
      'Historie.csv': history('Ventil;;Datum;Datum;Grund'),
    });
    expect(site(mapped).columns?.['lives.csv']).toEqual({
      Ventil: 'position',
      '#2': 'material',
      '#3': 'fitted',
      '#4': 'removed',
      Grund: 'reason',
    });
    expect(mapped.reading.findings?.rowsUsed).toBe(80);
  });

  it('are asked about where two of them are as likely as each other', async () => {
    const twice = history(`${HISTORY};Werkstoff`, ({ material }) => `;${material}`);
    const mapped = await map({ 'Ventile.csv': valveList(), 'Historie.csv': twice });
    expect(questions(mapped)).toMatch(/Which column of lives\.csv is material: "Werkstoff" or "Werkstoff"/);
    expect(site(mapped).columns?.['lives.csv']).not.toHaveProperty('Werkstoff');
    expect(mapped.reading.findings).toBeNull();
  });

  it('and dates that do not tell what they are are asked about', async () => {
    // Half of the rows have the one date first, half the other.
    const rows = LIVES.filter(({ to }) => to !== '').map(
      ({ tag, material, from, to }, i) =>
        `${tag};${material};${i % 2 === 0 ? `${from};${to}` : `${to};${from}`}`,
    );
    const mapped = await map({
      'Ventile.csv': valveList(),
      'Historie.csv': `Ventil;Werkstoff;Datum 1;Datum 2\n${rows.join('\n')}\n`,
    });
    const dates = mapped.proposal.tables
      .flatMap(({ columns }) => columns)
      .filter(({ theirs }) => theirs.startsWith('Datum'));
    expect(dates.filter(({ asked }) => !asked)).toEqual([]);
  });
});

describe('what is asked', () => {
  it('is day or month first, where no date tells', async () => {
    const rows = LIVES.map(
      ({ tag, material }, i) => `${tag};${material};0${1 + (i % 9)}.03.2021;0${1 + (i % 9)}.04.2022`,
    );
    const mapped = await map({
      'Ventile.csv': valveList(),
      'Historie.csv': `Ventil;Werkstoff;Eingebaut;Ausgebaut\n${rows.join('\n')}\n`,
    });
    expect(questions(mapped)).toMatch(/day or the month come first in the dates of lives\.csv/);
    expect(mapped.reading.findings).toBeNull();
  });

  it('is what words mean that are not known, and what may deny what they say', async () => {
    const words = history(HISTORY).replaceAll('turnusmäßig', 'nicht undicht').replace('undicht', 'Xyzzy');
    const mapped = await map({ 'Ventile.csv': valveList(), 'Historie.csv': words });
    expect(questions(mapped)).toMatch(
      /What do these words of reason mean: .*"nicht undicht" \(30 rows, perhaps leak\)/,
    );
    expect(questions(mapped)).toMatch(/"Xyzzy" \(1 row\)/);
    expect(site(mapped).values).toEqual({ reason: { undicht: 'leak' } });
  });

  it('is not which of two histories is meant, where they are of one kind: both are joined', async () => {
    const mapped = await map({
      'Ventile.csv': valveList(),
      'Wechsel 2023.csv': history(HISTORY),
      'Wechsel 2024.csv': history(HISTORY),
    });
    expect(questions(mapped)).toBe('');
    expect(site(mapped).files?.['lives.csv']).toEqual(['Wechsel 2023.csv', 'Wechsel 2024.csv']);
    // The one repeats the other.
    expect(mapped.reading.findings).toMatchObject({ rowsIn: 140, rowsSetAside: 60 });
  });

  it('is where the needed tables are', async () => {
    const mapped = await map({
      'notes.csv': 'a,b\nhello,world\n',
      'Historie.csv': history('Ventil;Notiz;Eingebaut;Ausgebaut;Grund').replace(/EPDM|FKM/g, ''),
    });
    expect(questions(mapped)).toMatch(/No table is one of lives .* has no column for material/);
    expect(mapText(mapped)).toMatch(/cannot be planned before that is answered/);
    await expect(map({ 'readme.md': 'x' })).rejects.toThrow(/no table that can be read/);
  });
});

describe('awkward tables', () => {
  it('have 300 columns, titles above the header and a row of totals', async () => {
    const wide = history(
      `${HISTORY};${Array.from({ length: 295 }, (_, i) => `Merkmal ${i}`).join(';')}`,
      () => ';x'.repeat(295),
    );
    const titled = `Werk 7\n\nAuszug vom 30.06.2024;\n${wide}Summe;;${';'.repeat(297)}\n`;
    const mapped = await map({ 'Ventile.csv': valveList(), 'Historie.csv': titled });
    expect(site(mapped).files?.['lives.csv']).toEqual({ file: 'Historie.csv', header_row: 4 });
    expect(mapped.reading.findings).toMatchObject({ rowsIn: 81, rowsUsed: 80 });
  });

  it('have columns with our names that are something else', async () => {
    const numbered = history(`Armatur;Werkstoff;Eingebaut;Ausgebaut;Grund;position`, (_, i) => `;${i + 1}`);
    const mapped = await map({ 'Ventile.csv': valveList(), 'Historie.csv': numbered });
    expect(site(mapped).columns?.['lives.csv']).toMatchObject({ Armatur: 'position', position: '' });
    expect(mapped.reading.findings?.rowsUsed).toBe(80);
  });

  it('have names that a program may stumble over, as plain texts', async () => {
    const odd = history('__proto__;Werkstoff;Eingebaut;Ausgebaut;constructor')
      .replaceAll('FV-100', '__proto__')
      .replaceAll('undicht', 'toString');
    const mapped = await map({
      'Ventile.csv': valveList('__proto__;Nennweite').replaceAll('FV-100', '__proto__'),
      'Historie.csv': odd,
    });
    expect(mapped.text).toContain('"__proto__": "position"');
    expect(questions(mapped)).toContain('"toString" (10 rows)');
    expect(mapped.reading.findings?.rowsUsed).toBe(80);
  });

  it('hold positions and lives in one', async () => {
    const one = history(`${HISTORY};DN;Linie`, ({ size }, i) => `;${i === 4 ? 99 : size};L${i % 2}`);
    const mapped = await map({ 'Export.csv': one });
    expect(site(mapped).files).toEqual({ 'positions.csv': { from: 'lives.csv' }, 'lives.csv': 'Export.csv' });
    expect(site(mapped).columns?.['positions.csv']).toMatchObject({ Ventil: 'position', DN: 'size' });
    expect(mapText(mapped)).toMatch(/The rows of FV-101 have 2 values of size: 25 \(2 rows\), 99 \(1 row\)/);
  });

  it('are written in code pages, and links that lead out are not looked at', async () => {
    const folder = folderWith({ 'Ventile.csv': valveList() });
    writeFileSync(join(folder, 'Historie.csv'), Buffer.from(history(HISTORY), 'latin1'));
    const outside = folderWith({ 'more.csv': history(HISTORY) });
    symlinkSync(join(outside, 'more.csv'), join(folder, 'more.csv'));
    const mapped = await mapFolder(folder);
    expect(mapped.proposal.unused.join()).toMatch(/more\.csv.*leads out of the fleet folder/);
    expect(site(mapped).values?.reason).toEqual({ turnusmäßig: 'scheduled', undicht: 'leak' });
  });
});

describe('what else is proposed', () => {
  it('is which tags are the same but for marks and capitals, and no others', async () => {
    const written = history(HISTORY).replaceAll('FV-101;', 'fv 101;').replaceAll('FV-102;', 'FV-1O2;');
    const mapped = await map({ 'Ventile.csv': valveList(), 'Historie.csv': written });
    expect(site(mapped).aliases).toEqual({ 'fv 101': 'FV-101' });
    expect(mapped.reading.findings).toMatchObject({ rowsIn: 80, rowsSetAside: 3 });
  });

  it('is the unit that a name says, and inches where the sizes are such', async () => {
    const inches = `Valve;Size\n${VALVES.map(({ tag }, i) => `${tag};${['0.5', '1', '1.5'][i % 3]}`).join('\n')}\n`;
    const items =
      'Artikel;Werkstoff;Nennweite;Lieferzeit (Wochen)\nP1;EPDM;15;6\nP2;FKM;25;8\nP3;EPDM;40;12\n';
    const mapped = await map({
      'Ventile.csv': inches,
      'Historie.csv': history(HISTORY),
      'Artikel.csv': items,
    });
    expect(site(mapped).formats).toMatchObject({
      'positions.csv': { units: { size: 'inch' } },
      'items.csv': { units: { lead_time_days: 'weeks' } },
    });
    expect(mapped.reading.findings?.rowsUsed).toBe(83);
  });

  it('says what is not looked into, and shows names without what could move the cursor', async () => {
    const mapped = await map({
      'Ventile.csv': valveList('Ventil;Nennweite\u001b[31m'),
      'Historie.csv': history(`${HISTORY}\u0007`),
      'old.ods': 'x',
    });
    const text = mapText(mapped);
    expect(text).toMatch(/old\.ods: Tables of this kind are not looked into/);
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
    expect(mapped.proposal.questions).toEqual([]);
  });
});

describe('settings there are', () => {
  it('stay as they are, hold, and are in the proposal', async () => {
    const given =
      '{ // mine\n"name": "Plant 7", "money": { "labour_per_hour": 60 }, "columns": { "lives.csv": { "Grund": "finding" } }, "values": { "reason": { "x": "leak" } } }';
    const folder = folderWith({
      'Ventile.csv': valveList(),
      'Historie.csv': history(HISTORY),
      'site.json': given,
    });
    const mapped = await mapFolder(folder);
    expect(mapped.name).toBe('site.proposed.json');
    expect(readFileSync(join(folder, 'site.json'), 'utf8')).toBe(given);
    expect(site(mapped)).toMatchObject({
      name: 'Plant 7',
      money: { labour_per_hour: 60 },
      values: { reason: { x: 'leak' } },
    });
    expect(site(mapped).columns?.['lives.csv']).toMatchObject({ Grund: 'finding', Eingebaut: 'fitted' });
    writeFileSync(join(folder, 'site.proposed.json'), '{}');
    expect((await mapFolder(folder)).name).toBe('site.proposed-2.json');
  });

  it('need nothing more where all names are ours', async () => {
    const mapped = await map({
      'positions.csv': 'position,size\nV1,25\nV2,25\n',
      'lives.csv':
        'position,material,fitted,removed,reason\nV1,EPDM,2023-01-01,2023-06-01,leak\nV2,EPDM,2023-01-01,,\n',
    });
    expect(site(mapped)).toEqual({});
    expect(mapped.proposal.questions).toEqual([]);
  });
});

describe('the proposed settings', () => {
  const cell = fc.oneof(
    fc.constantFrom(
      'V-1',
      'V-2',
      'EPDM',
      '25',
      '01.02.2020',
      '2021-03-04',
      'undicht',
      '',
      '"',
      '//',
      '{',
      '__proto__',
      'position',
      'size',
      'Datum',
      'a;b',
      'Total',
    ),
    fc.string({ maxLength: 12, unit: 'grapheme' }),
  );
  const rows = fc.array(fc.array(cell, { minLength: 1, maxLength: 7 }), { minLength: 1, maxLength: 8 });

  it('are settings, whatever lies in the folder', () => {
    fc.assert(
      fc.property(
        fc.array(rows, { minLength: 1, maxLength: 3 }),
        fc.constantFrom(',', ';', '\t'),
        (tables, separator) => {
          const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
          const files = tables.map(
            (table, i) =>
              [
                `t${i}.csv`,
                new TextEncoder().encode(table.map((row) => row.map(quoted).join(separator)).join('\n')),
              ] as const,
          );
          const proposal = proposeMapping(sourcesOf(new Map(files), 1e8), readMappings({}));
          const text = new TextEncoder().encode(siteText(proposal, {}));
          const mappings = readMappings(readSite(text));
          expect([...mappings.places.keys()].length).toBe(
            proposal.tables.filter(
              ({ file, table, sheet, headerRow, takenFrom }) =>
                takenFrom !== null || file !== table || sheet !== null || headerRow > 1,
            ).length,
          );
        },
      ),
      { numRuns: 60 },
    );
  });
});
