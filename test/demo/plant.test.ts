/** The demo plant is what its README says, and its simulation follows the laws it was given. */
import { describe, expect, it } from 'vitest';
import { demoPlant } from '../../data-demo/plant/demo.js';
import { DUTIES } from '../../data-demo/plant/design.js';
import { weibull } from '../../data-demo/plant/draws.js';
import { FINDINGS_AT_REMOVAL, REASONS } from '../../lib/fleet/types.js';
import { at, itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { readPlant } from './plant.js';

const demo = readPlant({ seed: demoPlant().truth.seed });
const { truth, fleet } = demo;

describe('the demo plant', () => {
  it('has 24 groups, four in each of six duties, from DN 8 to DN 80, of four materials', () => {
    expect(truth.groups).toHaveLength(24);
    expect(new Set(truth.groups.map(({ name }) => name)).size).toBe(24);
    for (const { name } of DUTIES) expect(truth.groups.filter(({ duty }) => duty === name)).toHaveLength(4);
    expect(new Set(truth.groups.map(({ material }) => material)).size).toBe(4);
    const sizes = truth.groups.map(({ size }) => size);
    expect([Math.min(...sizes), Math.max(...sizes)]).toEqual([8, 80]);
    const positions = truth.groups.map((group) => group.positions);
    expect(Math.min(...positions)).toBeGreaterThanOrEqual(8);
    expect(Math.max(...positions)).toBeLessThanOrEqual(45);
    expect(positions.reduce((sum, count) => sum + count, 0)).toBe(fleet.positions.length);
  });

  it('has at least three groups with three leaks or fewer', () => {
    expect(truth.groups.filter(({ leaks }) => leaks <= 3).length).toBeGreaterThanOrEqual(3);
  });

  it('runs over eight years of records and begins before them', () => {
    expect([truth.recordsFrom, truth.dataUntil]).toEqual(['2018-10-01', '2026-09-30']);
    const from = fleet.site.recordsFrom ?? Number.NaN;
    const older = Array.from(fleet.lives.fitted).filter((day) => day < from).length;
    const undated = Array.from(fleet.lives.fitted).filter((day) => Number.isNaN(day)).length;
    expect(older / fleet.lives.length).toBeGreaterThan(0.04);
    expect(undated).toBeGreaterThan(50);
  });

  it('holds every reason and every finding', () => {
    const reasons = new Set(Array.from(fleet.lives.reason, (word) => itemAt(REASONS, word)));
    const findings = new Set(Array.from(fleet.lives.finding, (word) => itemAt(FINDINGS_AT_REMOVAL, word)));
    expect([...reasons].sort()).toEqual([...REASONS].sort());
    expect([...findings].sort()).toEqual([...FINDINGS_AT_REMOVAL].sort());
  });

  it('has worse positions, a poor lot used up, renamed and retired valves, and awkward tags', () => {
    expect(truth.worse.positions).toHaveLength(Math.round(0.04 * fleet.positions.length));
    expect(truth.poorLot?.fitted).toBeGreaterThan(30);
    expect(truth.renamed.length).toBeGreaterThan(4);
    expect(truth.retired.length).toBeGreaterThan(8);
    const tags = fleet.positions.map(({ position }) => position);
    expect(tags.filter((tag) => tag.startsWith('0'))).toHaveLength(1);
    expect(tags.filter((tag) => tag.includes(','))).toHaveLength(1);
  });

  it('opens several valves of a line within three days far more often than chance would', () => {
    const opened = Array.from({ length: fleet.lives.length }, (_, i) => i).filter(
      (i) => itemAt(REASONS, at(fleet.lives.reason, i)) === 'opened',
    );
    const inCompany = opened.filter((i) =>
      opened.some(
        (j) =>
          i !== j &&
          lineOf(i) === lineOf(j) &&
          Math.abs(at(fleet.lives.removed, i) - at(fleet.lives.removed, j)) <= 3,
      ),
    );
    expect(inCompany.length / opened.length).toBeGreaterThan(0.7);
  });
});

function lineOf(life: number): string {
  return itemAt(fleet.positions, at(fleet.lives.position, life)).line;
}

describe('draws of the plant', () => {
  it('follow the Weibull law: mean and share beyond the scale', () => {
    const random = randomStream(31, 'weibull');
    const draws = Array.from({ length: 40_000 }, () => weibull(random, 2.8, 1000));
    // Mean 1000 gamma(1 + 1 / 2.8) = 890.451, sd 344.268 (scipy.stats.weibull_min); 4 standard errors.
    const mean = draws.reduce((sum, draw) => sum + draw, 0) / draws.length;
    expect(Math.abs(mean - 890.451)).toBeLessThan((4 * 344.268) / Math.sqrt(draws.length));
    const beyond = draws.filter((draw) => draw > 1000).length / draws.length;
    expect(Math.abs(beyond - Math.exp(-1))).toBeLessThan(4 * Math.sqrt((0.3679 * 0.6321) / draws.length));
  });
});
