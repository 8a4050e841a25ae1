import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOMS, ROOMS_TO_COME, roomFaults } from './rooms.js';
import { ROOT, sourceFiles } from './source.js';

describe('the order of the rooms', () => {
  it('holds in lib/', () => {
    const files = sourceFiles('lib');
    expect(files.length).toBeGreaterThan(20);
    expect(roomFaults(files)).toEqual([]);
  });

  it('has each room once', () => {
    expect(new Set(ROOMS).size).toBe(ROOMS.length);
  });
});

describe('the rooms of the house', () => {
  it('are there, all but those to come', () => {
    const missing = ROOMS.filter((room) => !existsSync(join(ROOT, 'lib', room)));
    expect(missing).toEqual(ROOMS_TO_COME);
  });

  it('are in the table of the guide for developers, and those to come are marked there', () => {
    const guide = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
    const rows = [...guide.matchAll(/^\| `lib\/([a-z]+)` +\| (.*?) *\|$/gim)];
    const listed = rows.map((row) => row[1] ?? '');
    const rooms = readdirSync(join(ROOT, 'lib'), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name);
    expect([...listed].sort()).toEqual([...rooms, ...ROOMS_TO_COME].sort());
    const toCome = rows.filter((row) => (row[2] ?? '').startsWith('(to come)')).map((row) => row[1]);
    expect(toCome).toEqual(ROOMS_TO_COME);
    expect(listed).toEqual(ROOMS.filter((room) => !room.endsWith('.ts')));
  });
});

describe('the public door', () => {
  it('has under each heading what belongs to that room', () => {
    const text = readFileSync(join(ROOT, 'lib', 'index.ts'), 'utf8');
    const sections = text.split(/^\/\/ /m).slice(1);
    expect(sections.length).toBeGreaterThan(10);
    const rooms = sections
      .map((section) => section.split(':')[0] ?? '')
      .filter((name) => ROOMS.includes(name));
    expect(rooms).toEqual(ROOMS.filter((name) => rooms.includes(name)));
    for (const section of sections) {
      const room = section.split(':')[0] ?? '';
      const froms = [...section.matchAll(/from '\.\/([a-z]+)\//g)].map((match) => match[1]);
      if (rooms.includes(room)) expect(new Set(froms), room).toEqual(new Set([room]));
    }
  });
});

describe('the check of that order', () => {
  it('lets a room import from itself and from below', () => {
    const text = "import { at } from '../numeric/columns.js';\nimport type { Group } from './types.js';\n";
    expect(roomFaults([{ path: 'lib/group/describe.ts', text }])).toEqual([]);
  });

  it('finds an import from above, of a type too', () => {
    const text = "import type { Plan } from '../planTypes.js';\n";
    expect(roomFaults([{ path: 'lib/stock/size.ts', text }])).toEqual([
      'lib/stock/size.ts imports lib/planTypes.ts, which is above it.',
    ]);
  });

  it('finds a re-export and a late import from above', () => {
    const text = "export * from '../../report/csv.js';\nawait import('../../plan.js');\n";
    expect(roomFaults([{ path: 'lib/life/estimate/fit.ts', text }])).toHaveLength(2);
  });

  it('finds a room that the house does not know', () => {
    const files = [
      { path: 'lib/misc/sums.ts', text: '' },
      { path: 'lib/cost/groupCost.ts', text: "import { sum } from '../misc/sums.js';" },
    ];
    expect(roomFaults(files)).toHaveLength(2);
  });

  it('finds an import from outside lib/', () => {
    const text = "import { folderFiles } from '../../test/plan/folders.js';";
    expect(roomFaults([{ path: 'lib/fleet/read.ts', text }])).toHaveLength(1);
  });
});
