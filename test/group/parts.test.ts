/** Parts of lib/group by small cases worked by hand. */
import { describe, expect, it } from 'vitest';
import { PLAN_READING } from '../../lib/group/fitCell.js';
import { readHistory, UNKNOWN } from '../../lib/group/history.js';
import { inflationOf } from '../../lib/group/repeats.js';
import { leakWeightOf, sampleOf } from '../../lib/group/samples.js';
import { testDuties } from '../../lib/group/splitByDuty.js';
import { weighUnknownReasons } from '../../lib/group/unknownReasons.js';
import { effectiveSize, splitRHat } from '../../lib/life/estimate/pooling/quality.js';
import { weibullLogLikelihood } from '../../lib/life/estimate/weibull/weibullLikelihood.js';
import { mergeSample } from '../../lib/life/mergeSample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';
import { DATA_UNTIL, fleetOf, type GroupTruth, type LifeFact, position, simulatedPlant } from './plant.js';

describe('unknown reasons', () => {
  const until = DATA_UNTIL;
  const ended = (i: number, age: number, reason: LifeFact['reason'], material = 'EPDM'): LifeFact => ({
    position: i,
    material,
    size: 25,
    fitted: until - age,
    removed: until,
    ...(reason === undefined ? {} : { reason }),
  });
  const spike = Array.from({ length: 60 }, (_, i) =>
    ended(i, 365 + (i % 5) - 2, i < 3 ? 'leak' : 'scheduled'),
  );
  const between = Array.from({ length: 45 }, (_, i) =>
    ended(60 + i, 150 + i, i % 3 === 0 ? 'opened' : 'leak'),
  );
  const unknown = [ended(105, 365, 'unknown'), ended(106, 170, 'unknown')];
  const lives = [...spike, ...between, ...unknown];
  const fleet = fleetOf(
    lives.map((_, i) => position(`V${i}`, 25)),
    lives,
  );
  const history = readHistory(fleet);
  const found = weighUnknownReasons(fleet, history);

  it('count as leaks by the removals near the same age', () => {
    const weight = (age: number): number =>
      history.leakWeight[
        Array.from(history.life).findIndex(
          (life) => life >= 105 && until - (fleet.lives.fitted[life] as number) === age,
        )
      ] as number;
    // In the spike the nearest forty lie within two days: all sixty removals by ties, three of them leaks.
    expect(weight(365)).toBeCloseTo(3 / 60, 1);
    // Far from the spike two of three known removals were leaks.
    expect(weight(170)).toBeCloseTo(2 / 3, 1);
  });

  it('are counted', () => {
    expect(found.rows).toBe(2);
    expect(found.openedChance.size).toBe(2);
  });
});

/** Any place will do. */
const TRIED = { shape: 2, scale: 600, fault: { share: 0.02, shape: 0.7, scale: 20 } };

describe('odds of a leak where the reason is not known', () => {
  const ended = (i: number, age: number, reason: LifeFact['reason']): LifeFact => ({
    position: i,
    material: 'EPDM',
    size: 25,
    fitted: DATA_UNTIL - age,
    removed: DATA_UNTIL,
    ...(reason === undefined ? {} : { reason }),
  });
  const ages = [120, 240, 300, 365, 365, 420, 500, 610];
  const known = ages.map((age, i) => ended(i, age, i % 2 === 0 ? 'leak' : 'scheduled'));
  const historyOf = (as: LifeFact['reason']) => {
    const lives = [...known, ...[200, 350, 480].map((age, i) => ended(ages.length + i, age, as))];
    const fleet = fleetOf(
      lives.map((_, i) => position(`V${i}`, 25)),
      lives,
    );
    const history = readHistory(fleet);
    weighUnknownReasons(fleet, history);
    return history;
  };
  const sampleWith = (as: LifeFact['reason'], unknownOdds: number): LifeSample => {
    const history = historyOf(as);
    const rows = Array.from({ length: history.length }, (_, i) => i);
    return mergeSample(sampleOf(history, rows, { ...PLAN_READING, unknownOdds }));
  };

  it('at k = 0 they are censored, at k infinite they are leaks', () => {
    expect(sampleWith('unknown', 0)).toEqual(sampleWith('scheduled', 1));
    expect(sampleWith('unknown', Infinity)).toEqual(sampleWith('leak', 1));
    expect(sampleWith('unknown', 1)).not.toEqual(sampleWith('scheduled', 1));
  });

  it('k divides the hazard of what else may have ended them; far out it comes to the two ends', () => {
    const logLikelihoodAt = (k: number) => weibullLogLikelihood(sampleWith('unknown', k), TRIED);
    const ratio = (k: number): number[] => {
      const one = sampleWith('unknown', 1).otherHazard as Float64Array;
      const other = sampleWith('unknown', k).otherHazard as Float64Array;
      return Array.from(other).flatMap((x, i) => (x > 0 ? [x / (one[i] as number)] : []));
    };
    expect(ratio(2)).toHaveLength(3);
    for (const x of ratio(2)) expect(x).toBeCloseTo(0.5, 12);
    expect(logLikelihoodAt(1e9)).toBeCloseTo(logLikelihoodAt(Infinity), 6);
    // With k near 0 a row only adds the log of a constant near 1: half a day of hazard apart from the censored row.
    expect(Math.abs(logLikelihoodAt(1e-9) - logLikelihoodAt(0))).toBeLessThan(0.01);
  });

  it('k multiplies the odds', () => {
    const history = historyOf('unknown');
    const row = Array.from(history.kind).indexOf(UNKNOWN);
    const weight = history.leakWeight[row] as number;
    expect(weight).toBeGreaterThan(0.1);
    for (const k of [0.5, 2]) {
      const under = leakWeightOf(history, row, { ...PLAN_READING, unknownOdds: k });
      expect(under / (1 - under)).toBeCloseTo((k * weight) / (1 - weight), 12);
    }
  });
});

describe('duties', () => {
  const duty = (name: string, scale: number): GroupTruth => ({
    material: 'EPDM',
    size: 25,
    duty: name,
    positions: 50,
    shape: 2.5,
    scale,
    scheduled: 600,
  });
  const verdict = (groups: GroupTruth[], seed: number) => {
    const fleet = simulatedPlant(
      {
        groups,
        years: 8,
        faultShare: () => 0.02,
        fault: { shape: 0.7, scale: 20 },
        openingsPerYear: 0.05,
        reasonLost: 0,
        before: 300,
      },
      seed,
    );
    const history = readHistory(fleet);
    const rows = Array.from({ length: history.length }, (_, i) => i);
    return testDuties(fleet, history, rows, PLAN_READING, 'EPDM', 1);
  };

  it('that differ are split', () => {
    const test = verdict([duty('dairy', 600), duty('water', 1200)], 5);
    expect(test.split).toBe(true);
    expect(test.note).toContain('split by duty');
  });

  it('that are alike are split in about 1 % of plants', () => {
    const splits = Array.from({ length: 100 }, (_, i) =>
      verdict([duty('dairy', 900), duty('water', 900)], 100 + i),
    );
    // Binomial(100, 0.01): six or more has chance 0.0005; the smallest spread asked for lowers it further.
    expect(splits.filter(({ split }) => split).length).toBeLessThanOrEqual(5);
  });
});

describe('repeats', () => {
  it('never sharpen a likelihood', () => {
    expect(inflationOf([{ factor: 0.5, leaks: 10 }])).toBe(1);
    expect(inflationOf([])).toBe(1);
    expect(
      inflationOf([
        { factor: 2, leaks: 30 },
        { factor: 1, leaks: 10 },
      ]),
    ).toBeCloseTo(1.75, 12);
    expect(inflationOf([{ factor: Number.NaN, leaks: 30 }])).toBe(1);
  });
});

describe('chains', () => {
  it('have the effective size of an autoregression: n (1 - r) / (1 + r)', () => {
    const random = randomStream(4, 'chains');
    const chains = [0, 1].map(() => {
      const values = new Float64Array(20_000);
      for (let i = 1; i < values.length; i++) values[i] = 0.8 * (values[i - 1] as number) + random.normal();
      return values;
    });
    expect(effectiveSize(chains) / (40_000 / 9)).toBeGreaterThan(0.85);
    expect(effectiveSize(chains) / (40_000 / 9)).toBeLessThan(1.15);
    expect(splitRHat(chains)).toBeLessThan(1.01);
  });

  it('that sit apart do not agree', () => {
    const random = randomStream(4, 'apart');
    const at = (mean: number): Float64Array =>
      Float64Array.from({ length: 500 }, () => mean + random.normal());
    expect(splitRHat([at(0), at(3)])).toBeGreaterThan(1.5);
  });
});
