/** The records that a group's own law was fitted to. */
import { describe, expect, it } from 'vitest';
import { groupFleet } from '../../lib/group/groupFleet.js';
import type { Group } from '../../lib/group/types.js';
import { at, itemAt } from '../../lib/numeric/columns.js';
import { DATA_UNTIL, fleetOf, type LifeFact, position } from './plant.js';

const base = { position: 0, material: 'EPDM', size: 25 };

function groupOf(lives: LifeFact[]): Group {
  const positions = lives.map((_, i) => position(`V${i + 1}`, 25));
  const placed = lives.map((life, i) => ({ ...life, position: i }));
  return itemAt(groupFleet(fleetOf(positions, placed, DATA_UNTIL - 4000), { seed: 1 }).groups, 0);
}

const leaked = (fitted: number, age: number): LifeFact => ({
  ...base,
  fitted,
  removed: fitted + age,
  reason: 'leak',
  finding: 'torn',
});
/** Enough leaks for a fit of its own, fitted on days of their own. */
const LEAKS = [310, 420, 480, 550, 640, 700, 760].map((age, i) => leaked(DATA_UNTIL - 2000 - 10 * i, age));

describe('wearRecords', () => {
  it('has a row a life, watched to the day of the data, or to its age if it runs', () => {
    const scheduled: LifeFact = {
      ...base,
      fitted: DATA_UNTIL - 900,
      removed: DATA_UNTIL - 400,
      reason: 'scheduled',
      finding: 'sound',
    };
    const running: LifeFact = { ...base, fitted: DATA_UNTIL - 250, removed: null };
    const { records } = groupOf([...LEAKS, scheduled, running]);
    const lower = Array.from(records?.sample.lower ?? []);
    const closing = (age: number): number => at(records?.closing ?? [], lower.indexOf(age));
    // The leak at 310 days was fitted 2000 days before the data end, and could have been watched so long.
    expect(closing(309.5)).toBe(2000);
    expect(closing(759.5)).toBe(2060);
    expect(closing(500)).toBe(900);
    expect(closing(250)).toBe(250);
    // Nobody was seen beyond the end of the watching.
    lower.forEach((age, i) => {
      expect(at(records?.closing ?? [], i)).toBeGreaterThanOrEqual(age);
    });
  });

  it('has known faulty fittings censored, and removals without a reason beside what else may have ended them', () => {
    const creased: LifeFact = { ...leaked(DATA_UNTIL - 1500, 15), finding: 'creased' };
    const unknown: LifeFact = {
      ...base,
      fitted: DATA_UNTIL - 1400,
      removed: DATA_UNTIL - 900,
      reason: 'unknown',
    };
    const due = [610, 650].map(
      (age, i): LifeFact => ({
        ...base,
        fitted: DATA_UNTIL - 1300 - i,
        removed: DATA_UNTIL - 1300 - i + age,
        reason: 'scheduled',
        finding: 'sound',
      }),
    );
    const { records } = groupOf([...LEAKS, creased, unknown, ...due]);
    const sample = records?.sample;
    const young = Array.from(sample?.lower ?? []).filter(
      (age, i) => age < 60 && at(sample?.upper ?? [], i) !== Infinity,
    );
    expect(young).toEqual([]);
    const i = Array.from(sample?.lower ?? []).indexOf(499.5);
    expect(at(sample?.otherHazard ?? [], i)).toBeGreaterThan(0);
    expect(records?.fault.share).toBeGreaterThan(0);
    expect(records?.fault.share).toBeLessThan(0.1);
  });

  it('is none where a group has no fit of its own', () => {
    expect(groupOf(LEAKS.slice(0, 4)).records).toBeNull();
    expect(groupOf(LEAKS).records?.sample.lower).toHaveLength(LEAKS.length);
  });
});
