/**
 * The renewal path and its ranges against values computed outside the library: path.json, which path.py makes with scipy
 * and recursions of its own. Methods: renewal equation (Cox 1962); Hong 2013; Hong, Meeker & McCalley 2009; Panjer 1981
 * (all from memory).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { countLaw } from '../../../lib/demand/countLaw.js';
import { STEP_DAYS } from '../../../lib/demand/grid.js';
import { compoundPoisson } from '../../../lib/demand/jobs.js';
import { addDraw, emptyMixture, mixtureQuantiles } from '../../../lib/demand/mixture.js';
import { classFlow, expectedEvents, preparePath, tablesOf } from '../../../lib/demand/path.js';
import { itemAt, sum } from '../../../lib/numeric/columns.js';
import { poissonQuantile } from '../../../lib/numeric/special.js';
import { plant } from '../../demand/plant.js';

interface Reference {
  joint: { plannedExpected: number; leaksFirst: number; secondLeaks: number; thirdLeaks: number };
  cohort: {
    eachLeaks: number;
    mean: number;
    pmf: number[];
    exact80: [number, number];
    mixedMean: number;
    mixed80: [number, number];
    mixed95: number;
    nodes: [scale: number, weight: number][];
  };
  jobs: { mean: number; variance: number; level95: number; noShortAt13: number; first: number[] };
  wayThere: { overdue: number; years: number[] };
  fault: { leaks: number[]; opened: number[]; planned: number[] };
}

const reference = JSON.parse(readFileSync(new URL('./path.json', import.meta.url), 'utf8')) as Reference;

describe('K7: 40 diaphragms that a shutdown in 180 days replaces unless they leak before', () => {
  const { fleet, grouped } = plant([{ shape: 3, scale: 800, ages: Array<number>(40).fill(300) }], {
    shutdowns: [
      { name: 'shutdown', inDays: 180 },
      { name: 'the one after', inDays: 400 },
    ],
  });
  const flow = (stepDays: number) => {
    const setup = preparePath(fleet, grouped, { name: 'proposed', intervalDays: [500] }, 180, { stepDays });
    return classFlow(setup, itemAt(setup.schedules, 0), tablesOf(setup, 0));
  };
  it('expects 33.9746 replacements and 6.0254 leaks: exact for the lives that run today', () => {
    const { first, firstLeaks } = flow(7.5);
    expect([...first.due.moment]).toEqual([180]);
    expect(first.due.amount[0]).toBeCloseTo(reference.joint.plannedExpected, 9);
    expect(first.due.amount[0]).toBeCloseTo(33.974621828986564, 9);
    expect(sum(firstLeaks)).toBeCloseTo(reference.joint.leaksFirst, 9);
  });
  it('adds second and third leaks: 40.01327 in all, where the naive sum has 46.0', () => {
    const { secondLeaks, thirdLeaks } = reference.joint;
    const later = sum(flow(0.5).laterLeaks);
    expect(Math.abs(later - secondLeaks - thirdLeaks)).toBeLessThan(1e-7);
    // 40.013265950711926 counts second leaks only; third ones are the four parts in a million between.
    expect(40 + later - thirdLeaks).toBeCloseTo(40.013265950711926, 6);
    expect(Math.abs(sum(flow(7.5).laterLeaks) - later)).toBeLessThan(2e-5);
  });
  it('needs 40 with 90 % safety, not 49', () => {
    const { first, firstLeaks, laterLeaks } = flow(7.5);
    const chance = (sum(firstLeaks) + (first.due.amount[0] ?? 0)) / 40;
    const mixture = emptyMixture();
    addDraw(mixture, {
      chance: Float64Array.of(Math.min(1, chance)),
      positions: Float64Array.of(40),
      poisson: sum(laterLeaks),
    });
    expect(mixtureQuantiles(mixture, null, [0.9])).toEqual([40]);
    expect(40 + poissonQuantile(0.9, sum(firstLeaks))).toBe(49);
  });
});

describe('the way from 730 to 400 days (recursion by an eighth of a day)', () => {
  const survival = (age: number): number => Math.exp(-((age / 900) ** 3));
  const held = Array.from({ length: 730 }, (_, day) => survival(day + 0.5));
  const ages: number[] = [];
  const all = held.reduce((a, b) => a + b, 0);
  let reached = 0;
  held.forEach((share, day) => {
    reached += (share / all) * 60_000;
    while (ages.length + 0.5 < reached && ages.length < 60_000) ages.push(day);
  });
  const { fleet, grouped } = plant([{ shape: 3, scale: 900, ages }]);
  it('starts with 39 % overdue', () => {
    expect(ages.filter((age) => age >= 400).length / 100).toBeCloseTo(reference.wayThere.overdue, 0);
  });
  it('makes 590.7 replacements and leaks in the first year', () => {
    const [events] = expectedEvents(fleet, grouped, { name: 'proposed', intervalDays: [400] }, 60);
    const year = (y: number): number => {
      const months = [...(events?.planned ?? [])].map((planned, m) => planned + (events?.leaks[m] ?? 0));
      return months.slice(12 * y, 12 * y + 12).reduce((a, b) => a + b, 0) / 100;
    };
    expect(Math.abs(year(0) / 590.7080340499406 - 1)).toBeLessThan(0.001);
    // The recursion holds a new diaphragm half an eighth of a day too young and too long: 1 part in 3000 a cycle.
    reference.wayThere.years.forEach((total, y) => {
      expect(Math.abs(year(y) / total - 1)).toBeLessThan(0.0015);
    });
  });
});

describe('one diaphragm with fitting faults and openings, replaced at 200 days', () => {
  const { fleet, grouped } = plant([
    { shape: 2.5, scale: 500, share: 0.05, openingsPerYear: 0.3, ages: [0] },
  ]);
  const events = (stepDays: number) =>
    itemAt(expectedEvents(fleet, grouped, { name: 'proposed', intervalDays: [200] }, 24, { stepDays }), 0);
  it.each(['leaks', 'opened', 'planned'] as const)('%s by month follow the fine recursion', (kind) => {
    const column = events(0.5)[kind];
    reference.fault[kind].forEach((expected, m) => {
      expect(Math.abs((column[m] ?? Number.NaN) - expected), `${kind} of month ${m}`).toBeLessThan(0.003);
    });
  });
  it.each(['leaks', 'opened', 'planned'] as const)(
    '%s add up as well in steps of a quarter month',
    (kind) => {
      const coarse = events(STEP_DAYS)[kind];
      const total = reference.fault[kind].reduce((a, b) => a + b, 0);
      expect(Math.abs(sum(coarse) / total - 1)).toBeLessThan(0.004);
    },
  );
});

describe('K20: 200 diaphragms of 400 days, leaks in 90 days', () => {
  const { cohort } = reference;
  it('ranges from 15 to 25, not from 14 to 26 as a Poisson number would', () => {
    const mixture = emptyMixture();
    addDraw(mixture, {
      chance: Float64Array.of(cohort.eachLeaks),
      positions: Float64Array.of(200),
      poisson: 0,
    });
    expect(mixtureQuantiles(mixture, null, [0.1, 0.9])).toEqual(cohort.exact80);
    expect([0.1, 0.9].map((p) => poissonQuantile(p, cohort.mean))).toEqual([14, 26]);
  });
  it('has the binomial chances to 1e-11', () => {
    const { start, chances } = countLaw({
      chance: Float64Array.of(cohort.eachLeaks),
      positions: Float64Array.of(200),
      poisson: 0,
    });
    cohort.pmf.forEach((expected, i) => {
      expect(chances[10 + 10 * i - start]).toBeCloseTo(expected, 11);
    });
    expect(sum(chances)).toBeCloseTo(1, 11);
  });
  it('ranges from 10 to 35 when the scale is known to 15 % only', () => {
    const mixture = emptyMixture();
    // Each node of the outside quadrature as so many equal draws.
    for (const [scale, weight] of cohort.nodes) {
      const chance = -Math.expm1((400 / scale) ** 3 - (490 / scale) ** 3);
      for (let i = 0; i < Math.round(weight * 4000); i++) {
        addDraw(mixture, { chance: Float64Array.of(chance), positions: Float64Array.of(200), poisson: 0 });
      }
    }
    expect(mixtureQuantiles(mixture, null, [0.1, 0.9, 0.95])).toEqual([...cohort.mixed80, cohort.mixed95]);
  });
});

describe('K21: openings that come in jobs: 2 jobs, geometric with mean 4', () => {
  const size = Float64Array.from({ length: 200 }, (_, v) => (v === 0 ? 0 : 0.25 * 0.75 ** (v - 1)));
  const chances = compoundPoisson(2, size);
  it('has the chances that the transform gives', () => {
    reference.jobs.first.forEach((expected, n) => {
      expect(chances[n]).toBeCloseTo(expected, 12);
    });
  });
  it('needs 23 with 95 % safety, where a Poisson number would need 13 and reach 80 %', () => {
    const cdf = (k: number): number => chances.slice(0, k + 1).reduce((a, b) => a + b, 0);
    expect(cdf(22)).toBeLessThan(0.95);
    expect(cdf(23)).toBeGreaterThanOrEqual(0.95);
    expect(reference.jobs.level95).toBe(23);
    expect(poissonQuantile(0.95, 8)).toBe(13);
    expect(cdf(13)).toBeCloseTo(0.8023801055664521, 10);
    expect(cdf(13)).toBeCloseTo(reference.jobs.noShortAt13, 10);
  });
});
