import { describe, expect, it } from 'vitest';
import { ROOMS, roomFaults } from './rooms.js';
import { sourceFiles } from './source.js';

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
