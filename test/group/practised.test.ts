/** The practised schedule of groups that have few lives of their own, by small plants worked by hand. */
import { describe, expect, it } from 'vitest';
import type { Fleet, Position, Reason } from '../../lib/fleet/types.js';
import { groupCells } from '../../lib/group/cells.js';
import { readHistory } from '../../lib/group/history.js';
import { practisedSchedules } from '../../lib/group/practised.js';
import type { PractisedSchedule } from '../../lib/group/types.js';
import { DATA_UNTIL, fleetOf, type LifeFact, position } from './plant.js';

/** Three lives that ended at `age` for a reason, and one of 100 days that runs. */
function practice(index: number, material: string, age: number, reason: Reason): LifeFact[] {
  const last = DATA_UNTIL - 100;
  const life = { position: index, material, size: 25 };
  const ended = [3, 2, 1].map((k) => ({
    ...life,
    fitted: last - k * age,
    removed: last - (k - 1) * age,
    reason,
  }));
  return [...ended, { ...life, fitted: last, removed: null }];
}

function schedules(fleet: Fleet): Map<string, PractisedSchedule> {
  const { cells } = groupCells(fleet, readHistory(fleet), () => false);
  const found = practisedSchedules(fleet, cells);
  return new Map(cells.map(({ name }, i) => [name, found[i] as PractisedSchedule]));
}

const changing = (name: string, more: Partial<Position> = {}): Position =>
  position(name, 25, { materialNext: 'FKM', ...more });

describe('a material that is fitted for the first time', () => {
  it('takes over the schedule of the positions that get it, those of safety criticality included', () => {
    const positions = [changing('A'), changing('B', { criticality: 'safety' }), position('C', 25)];
    const lives = [
      ...practice(0, 'EPDM', 300, 'scheduled'),
      ...practice(1, 'EPDM', 300, 'scheduled'),
      ...practice(2, 'EPDM', 500, 'scheduled'),
    ];
    const found = schedules(fleetOf(positions, lives));
    expect(found.get('FKM DN 25')).toMatchObject({ days: 300, scheduledRemovals: 0, exceededShare: 0 });
    expect(found.get('FKM DN 25')?.range).toEqual([300, 300]);
    expect(found.get('EPDM DN 25')?.days).toBe(300);
  });

  it('has no schedule where its positions ran until they leaked', () => {
    const lives = [...practice(0, 'EPDM', 300, 'leak'), ...practice(1, 'EPDM', 500, 'scheduled')];
    const found = schedules(fleetOf([changing('A'), position('B', 25)], lives));
    expect(found.get('FKM DN 25')?.days).toBeNull();
  });

  it('takes the schedule of the group held there where the positions themselves show none', () => {
    const running = { position: 0, material: 'EPDM', size: 25, fitted: DATA_UNTIL - 50, removed: null };
    const lives = [running, ...practice(1, 'EPDM', 400, 'scheduled')];
    const found = schedules(fleetOf([changing('A'), position('B', 25)], lives));
    expect(found.get('FKM DN 25')?.days).toBe(400);
  });

  it('goes before what the material does elsewhere, and not before its own removals', () => {
    const elsewhere = practice(1, 'FKM', 200, 'scheduled').map((life) => ({ ...life, size: 50 }));
    const lives = [...practice(0, 'EPDM', 400, 'scheduled'), ...elsewhere];
    const positions = [changing('A'), position('B', 50)];
    expect(schedules(fleetOf(positions, lives)).get('FKM DN 25')?.days).toBe(400);
    const own = [...lives, ...practice(2, 'FKM', 250, 'scheduled')];
    expect(schedules(fleetOf([...positions, position('C', 25)], own)).get('FKM DN 25')?.days).toBe(250);
  });
});
