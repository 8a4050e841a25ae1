/** Every mistake that was put into the demo plant is found where it is, and nothing sound is taken for one. */
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { demoPlant } from '../../data-demo/plant/demo.js';
import type { PlantedFault } from '../../data-demo/plant/types.js';
import type { Problem } from '../../lib/findings.js';
import { readFleet } from '../../lib/fleet/read.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { ROOT } from '../structure/source.js';
import { readPlant } from './plant.js';

const { truth } = demoPlant();
let fleet: Fleet;
beforeAll(async () => {
  fleet = await readFleet(join(ROOT, 'data-demo'));
});

/** Codes that speak of a file as a whole, or follow from rows that were set aside. */
const CONSEQUENCES = new Set([
  'gap-between-lives',
  'life-built',
  'reason-missing',
  'retired-without-date',
  'tidied',
  'written-as',
]);

function placeOf({ file, code, row, column }: Problem | PlantedFault): string {
  return `${file}, ${code}, row ${row}, column ${column}`;
}

function count(places: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const place of places) counts.set(place, (counts.get(place) ?? 0) + 1);
  return counts;
}

describe('mistakes in the demo plant', () => {
  it('are of many kinds and at the rates of ordinary records', () => {
    const kinds = count(truth.faults.map(({ file, code }) => `${file} ${code}`));
    expect(kinds.size).toBeGreaterThan(18);
    const lives = truth.groups.reduce((sum, group) => sum + group.lives, 0);
    expect((kinds.get('lives.csv life-duplicate') ?? 0) / lives).toBeCloseTo(0.03, 3);
    expect((kinds.get('lives.csv removed-before-fitted') ?? 0) / lives).toBeCloseTo(0.015, 3);
    expect(truth.reasonsLost / lives).toBeGreaterThan(0.08);
    expect(truth.reasonsLost / lives).toBeLessThan(0.15);
  });

  it('are found one by one, with file, row and column', () => {
    const found = new Set(fleet.findings.problems.map(placeOf));
    expect(truth.faults.map(placeOf).filter((place) => !found.has(place))).toEqual([]);
  });

  it('leave the sound rows alone: what else is reported follows from them', () => {
    const planted = new Set(truth.faults.map(placeOf));
    const touched = new Set(truth.faults.map(({ file, row }) => `${file} ${row}`));
    const others = fleet.findings.problems.filter(
      (problem) => !planted.has(placeOf(problem)) && !CONSEQUENCES.has(problem.code),
    );
    // A mistaken row may be reported twice: a removal moved into the future leaves two diaphragms in one place.
    const onSoundRows = others.filter(({ file, row }) => !touched.has(`${file} ${row}`));
    const codes = [...new Set(onSoundRows.map(({ code }) => code))].sort();
    expect(codes).toEqual(['order-overdue', 'removed-on-fitting-day']);
    expect(onSoundRows.every(({ done }) => done === 'used')).toBe(true);
  });

  it('count up: rows in = rows used + rows set aside, and only mistaken rows are set aside', () => {
    const { findings } = fleet;
    expect(findings.rowsIn).toBe(findings.rowsUsed + findings.rowsSetAside);
    const touched = new Set(truth.faults.map(({ file, row }) => `${file} ${row}`));
    const aside = findings.problems.filter(({ done }) => done === 'set aside');
    expect(aside).toHaveLength(findings.rowsSetAside);
    expect(aside.filter(({ file, row }) => !touched.has(`${file} ${row}`))).toEqual([]);
  });

  it('are absent from a plant made without them', () => {
    const { fleet: sound, truth: known } = readPlant({ seed: 1, dataFaults: false });
    const codes = [...new Set(sound.findings.problems.map(({ code }) => code))].sort();
    const expected = ['fitted-missing', 'order-overdue', 'reason-missing', 'removed-on-fitting-day'];
    expect(codes.filter((code) => !CONSEQUENCES.has(code) && !expected.includes(code))).toEqual([]);
    expect(sound.findings.rowsSetAside).toBe(known.faults.length);
  });
});
