/** What is said of removals without a reason, against fits made again with other reasons. */
import { describe, expect, it } from 'vitest';
import { groupCells } from '../../lib/group/cells.js';
import { fitCell } from '../../lib/group/fitCell.js';
import { readHistory } from '../../lib/group/history.js';
import { weighUnknownReasons } from '../../lib/group/unknownReasons.js';
import { unknownSensitivity } from '../../lib/group/unknownSensitivity.js';
import { at, itemAt } from '../../lib/numeric/columns.js';
import { simulatedPlant } from './plant.js';

const FAULT = { share: 0.02, shape: 0.7, scale: 20 };
const fleet = simulatedPlant(
  {
    groups: [{ material: 'EPDM', size: 25, positions: 40, shape: 2.5, scale: 700, scheduled: 600 }],
    years: 8,
    faultShare: () => FAULT.share,
    fault: { shape: FAULT.shape, scale: FAULT.scale },
    openingsPerYear: 0.08,
    reasonLost: 0.3,
    before: 300,
  },
  9,
);
const history = readHistory(fleet);
weighUnknownReasons(fleet, history);
const cell = itemAt(groupCells(fleet, history, () => false).cells, 0);
const fitted = () => fitCell(history, cell, FAULT, 0);
const found = unknownSensitivity(fleet, history, fitted());
if (found === null) throw new Error('every reason is known');

/** Age by which 10 % have leaked with the hazard of what else may have ended one row set: 0 makes it a leak, Infinity none. */
function tenthWith(row: number, otherHazard: number): number {
  const before = at(history.otherHazard, row);
  history.otherHazard[row] = otherHazard;
  const again = unknownSensitivity(fleet, history, fitted());
  history.otherHazard[row] = before;
  return Number(again?.b10[2]);
}

describe('removals without a reason', () => {
  it('shorten the life the more of them were leaks', () => {
    const ages = found.b10.map(Number);
    // The last, every one a leak, is no such order: leaks at the scheduled age also make the shape steeper.
    const ordered = ages.slice(0, 4);
    expect(ordered).toEqual([...ordered].sort((a, b) => b - a));
    expect(ages[4]).toBeLessThan(ages[0] as number);
    expect(found.parts).toBe(true);
    expect((ages[0] as number) / (ages[3] as number)).toBeGreaterThan(1.05);
  });

  it('are listed by what knowing them would tell, at most twenty', () => {
    expect(found.rows).toHaveLength(20);
    const told = found.rows.map(({ effect, chance }) => Math.abs(effect) * Math.sqrt(chance * (1 - chance)));
    expect(told).toEqual([...told].sort((a, b) => b - a));
    expect(found.rows.every(({ chance }) => chance > 0 && chance < 1)).toBe(true);
  });

  it('move the age by about what is said: the fit made again with the row a leak, and none', () => {
    for (const { position, removed, effect } of found.rows.slice(0, 6)) {
      const row = Array.from({ length: history.length }, (_, i) => i).find(
        (i) => at(history.position, i) === position && fleet.lives.removed[at(history.life, i)] === removed,
      );
      if (row === undefined) throw new Error('the row is not in the history');
      // One Newton step from a leak of some chance to one and to none: first order only.
      expect(Math.abs((tenthWith(row, 0) - tenthWith(row, Infinity)) / effect - 1)).toBeLessThan(0.15);
    }
  });
});
