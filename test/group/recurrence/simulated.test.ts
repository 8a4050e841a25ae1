/**
 * Verdict and choice of lines on simulated plants, seeds fixed beforehand: a renewal plant is called something else no more often
 * than it says, where Laplace's test rejects nearly always; lives that get shorter are found; lines that are alike are seldom named.
 */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../../lib/fleet/types.js';
import { findRecurrence } from '../../../lib/group/recurrence/findRecurrence.js';
import type { Recurrence } from '../../../lib/group/recurrence/types.js';
import { drawLives, meanLife } from '../../../lib/life/distribution/index.js';
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';
import { DATA_UNTIL, fleetOf, type LifeFact, position } from '../plant.js';
import { followedFleet } from './followedFleet.js';

const RUNS = 400;
const MODEL = { kind: 'weibull', shape: 3, scale: 900 } as const;

interface Plant {
  lines: number;
  perLine: number;
  days: number;
  /** Age at which whatever is tight is replaced. */
  scheduled: number;
  /** Times as long that lives are, by year of fitting. */
  perYear?: number;
  /** Standard deviation of the log of what a position's lives are multiplied by. */
  between?: number;
  /** Times as long that the lives of a line are. */
  ofLine?: (line: number) => number;
}

function plantOf(seed: number, plant: Plant): Fleet {
  const random = randomStream(seed, 'recurrence');
  const from = DATA_UNTIL - plant.days;
  const lives: LifeFact[] = [];
  const positions = Array.from({ length: plant.lines * plant.perLine }, (_, p) => {
    const line = Math.floor(p / plant.perLine);
    lives.push(...livesOf(random, p, from, plant, plant.ofLine?.(line) ?? 1));
    return position(`V${p}`, 25, { line: `L${line}`, inServiceSince: from });
  });
  return fleetOf(positions, lives, from);
}

function livesOf(random: RandomStream, p: number, from: number, plant: Plant, ofLine: number): LifeFact[] {
  const { scheduled, perYear = 1, between = 0 } = plant;
  const own = ofLine * Math.exp(between * random.normal());
  const lives: LifeFact[] = [];
  for (let day = from; ; ) {
    const drawn = (drawLives(MODEL, 1, random)[0] as number) * own * perYear ** ((day - from) / 365.25);
    const life = Math.max(1, Math.round(Math.min(drawn, scheduled)));
    const fact = { position: p, material: 'EPDM', size: 25, fitted: day };
    if (day + life > DATA_UNTIL) return [...lives, { ...fact, removed: null }];
    day += life;
    lives.push({ ...fact, removed: day, reason: drawn < scheduled ? 'leak' : 'scheduled' });
  }
}

/** Where only lines are asked about. */
const NO_GROUPS = followedFleet(fleetOf([], []));

function runs(first: number, plant: Plant, count = RUNS, lives = true): Recurrence[] {
  return Array.from({ length: count }, (_, i) => {
    const fleet = plantOf(first + i, plant);
    return findRecurrence(fleet, lives ? followedFleet(fleet) : NO_GROUPS);
  });
}

const shareOf = (found: readonly Recurrence[], is: (one: Recurrence) => boolean): number =>
  found.filter(is).length / found.length;
const error = (share: number, count = RUNS): number => Math.sqrt((share * (1 - share)) / count);
const changes = ({ renewal }: Recurrence): boolean => renewal.plant.verdict === 'trend';

describe('a plant of pure renewal, shape 3, fifty positions over four mean lives', () => {
  const found = runs(81_001, {
    lines: 5,
    perLine: 10,
    days: Math.round(4 * meanLife(MODEL)),
    scheduled: Infinity,
  });

  it('is said to change in at most 5 of 100', () =>
    expect(shareOf(found, changes)).toBeLessThan(0.05 + 4 * error(0.05)));
  it("is rejected by Laplace's pooled test in most", () =>
    expect(shareOf(found, ({ plant }) => (plant.trend?.laplace ?? 1) < 0.05)).toBeGreaterThan(
      0.8865 - 4 * error(0.8865),
    ));
});

describe('with scheduled replacement at 600 days, which leaves a leak to four in five lives', () => {
  const plan = { lines: 5, perLine: 20, days: 2922, scheduled: 600 };

  it('renewal is said to be something else in at most 5 of 100', () =>
    expect(shareOf(runs(82_001, plan, 200), changes)).toBeLessThan(0.05 + 4 * error(0.05, 200)));
  it('lives that get shorter by 8 % a year are found in nine of ten, with the right sign', () => {
    const found = runs(83_001, { ...plan, perYear: 0.92 }, 100);
    expect(shareOf(found, changes)).toBeGreaterThan(0.9);
    const sizes = found.map(({ renewal }) => renewal.plant.trends[0]?.ratio ?? 1);
    const mean = sizes.reduce((sum, ratio) => sum + ratio, 0) / sizes.length;
    expect(Math.abs(mean - 0.92)).toBeLessThan(0.01);
    expect(found[0]?.renewal.plant.text).toMatch(
      /^Lives get shorter .*with each year of the date of fitting/,
    );
  });
});

describe('the choice of lines', () => {
  const anyNamed = ({ lines }: Recurrence): boolean =>
    lines.some(({ differs }) => differs === 'more' || differs === 'less');

  it.each([
    ['alike', { lines: 20, perLine: 8, days: 2922, scheduled: 600 }, 84_001],
    ['of positions that differ', { lines: 20, perLine: 8, days: 2922, scheduled: 600, between: 0.3 }, 85_001],
    [
      'of three positions that differ',
      { lines: 40, perLine: 3, days: 2922, scheduled: 500, between: 0.3 },
      86_001,
    ],
  ] as const)('names one among lines %s in at most 10 of 100 plants', (_name, plan, seed) =>
    expect(shareOf(runs(seed, plan, 150, false), anyNamed)).toBeLessThan(0.1 + 4 * error(0.1, 150)),
  );

  it('is false in at most 10 of 100 of those named, and finds four of five lines whose lives are 0.7 times as long', () => {
    // Shape 3: at each age a hazard of 0.7^-3 = 2.9 times.
    const short = (line: number): number => (line < 4 ? 0.7 : 1);
    const found = runs(
      87_001,
      { lines: 20, perLine: 10, days: 2922, scheduled: 600, between: 0.2, ofLine: short },
      100,
      false,
    );
    let [named, wrong, right] = [0, 0, 0];
    for (const { lines } of found) {
      lines.forEach(({ differs }, i) => {
        if (differs !== 'more' && differs !== 'less') return;
        named += 1;
        if (i < 4 && differs === 'more') right += 1;
        else wrong += 1;
      });
    }
    expect(wrong / named).toBeLessThan(0.1 + 4 * error(0.1, named));
    expect(right / (4 * found.length)).toBeGreaterThan(0.8);
  });
});
