/** What the records support, said before the fits, is what the plan then does. */
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { type GroupSupport, groupSupport } from '../../lib/group/groupSupport.js';
import type { Group } from '../../lib/group/types.js';
import { readFiles } from '../fleet/files.js';

const DEMO = fileURLToPath(new URL('../../data-demo', import.meta.url));

describe('on the demo', () => {
  let fleet: Fleet;
  let support: GroupSupport[];
  let groups: Group[];

  beforeAll(async () => {
    fleet = await readFleet(DEMO);
    support = groupSupport(fleet);
    groups = groupFleet(fleet, { seed: 1, draws: 100 }).groups;
  }, 60_000);

  it('has the groups of the plan and their counts', () => {
    const counts = ({ lives, wearLeaks, materialWearLeaks }: GroupSupport | Group) => [
      lives,
      wearLeaks,
      materialWearLeaks,
    ];
    expect(support.map(({ group }) => group)).toEqual(groups.map(({ name }) => name));
    expect(support.map(counts)).toEqual(groups.map(counts));
    expect(support.map(({ leaks }) => leaks)).toEqual(groups.map(({ failures }) => failures));
    expect(support.map(({ positions }) => positions)).toEqual(
      groups.map(({ positions }) => positions.length),
    );
  });

  it('promises a fit of its own where the plan has one, and a test where the plan does not warn', () => {
    const warned = (group: Group, code: string): boolean => group.warnings.some((one) => one.code === code);
    support.forEach(({ support: kind }, g) => {
      const group = groups[g] as Group;
      expect(kind === 'tested' || kind === 'own').toBe(group.method === 'likelihood');
      if (kind === 'tested') expect(warned(group, 'fit-not-judged')).toBe(false);
      if (kind === 'own') expect(warned(group, 'fit-not-judged')).toBe(true);
      expect(kind === 'assumed').toBe(warned(group, 'no-leak-in-material'));
    });
    expect(new Set(support.map(({ support: kind }) => kind)).size).toBeGreaterThanOrEqual(3);
  });
});

describe('at the thresholds', () => {
  // A leak a position, at ages that no curve finds odd.
  const supportWith = (leaks: Record<string, number>): GroupSupport[] => {
    const positions: string[] = [];
    const lives: string[] = [];
    for (const [kind, count] of Object.entries(leaks)) {
      const [material, size] = kind.split(' ');
      for (let i = 0; i < Math.max(count, 1); i++) {
        const tag = `${material}-${size}-${i}`;
        positions.push(`${tag},A,${size}`);
        const day = String(1 + i).padStart(2, '0');
        const month = String(3 + (i % 9)).padStart(2, '0');
        if (count > 0) lives.push(`${tag},${material},2020-01-01,2021-${month}-${day},leak,torn`);
        lives.push(`${tag},${material},2022-01-01,,,`);
      }
    }
    const fleet = readFiles({
      'positions.csv': `position,line,size\n${positions.join('\n')}\n`,
      'lives.csv': `position,material,fitted,removed,reason,finding\n${lives.join('\n')}\n`,
    });
    return groupSupport(fleet);
  };

  it.each([
    [4, 'pooled'],
    [5, 'own'],
    [9, 'own'],
    [10, 'tested'],
  ] as const)('%i leaks are %s', (leaks, kind) => {
    const [group] = supportWith({ 'EPDM 25': leaks });
    expect(group).toMatchObject({ group: 'EPDM DN 25', wearLeaks: leaks, leaks, support: kind });
  });

  it('says whether the material has a leak to lend', () => {
    const kinds = supportWith({ 'EPDM 25': 14, 'EPDM 40': 0, 'FKM 40': 1, 'VMQ 15': 0 });
    expect(kinds.map(({ group, support, text }) => [group, support, text.split(':')[0]])).toEqual([
      ['EPDM DN 25', 'tested', '14 wear-out leaks'],
      ['EPDM DN 40', 'pooled', 'no wear-out leak'],
      ['FKM DN 40', 'pooled', '1 wear-out leak'],
      ['VMQ DN 15', 'assumed', 'no wear-out leak'],
    ]);
  });
});
