import { describe, expect, it } from 'vitest';
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { servedAt, type TwoLevelGoal, twoLevelLevels } from '../../lib/stock/twoLevelLevels.js';
import { twoLevelStock } from '../../lib/stock/twoLevelStock.js';

const THREE = [
  { name: 'north', demandPerTime: 0.03, transportTime: 5 },
  { name: 'south', demandPerTime: 0.01, transportTime: 9 },
  { name: 'west', demandPerTime: 0.06, transportTime: 2 },
];
const demandOf = (stores: TwoLevelGoal['stores']): number =>
  stores.reduce((total, { demandPerTime }) => total + demandPerTime, 0);

/** Share served at given levels, by the measures of the two-level store. */
function servedBy(leadTime: number, stores: typeof THREE, central: number, levels: number[]): number {
  const found = twoLevelStock({
    central: { level: central, leadTime },
    stores: stores.map((store, i) => ({ ...store, level: itemAt(levels, i) })),
  });
  const all = demandOf(stores);
  return found.stores.reduce(
    (total, { fillRate }, i) => total + (itemAt(stores, i).demandPerTime / all) * fillRate,
    0,
  );
}

describe('fewest pieces, against every set of levels', () => {
  it.each([0.3, 0.7, 0.9, 0.95, 0.99])('target %f', (target) => {
    for (const leadTime of [0, 20, 45]) {
      const found = twoLevelLevels({ leadTime, stores: THREE, target });
      let [fewest, served] = [Infinity, 0];
      for (let central = 0; central <= 12; central++) {
        for (let code = 0; code < 7 ** 3; code++) {
          const levels = [code % 7, Math.floor(code / 7) % 7, Math.floor(code / 49)];
          const pieces = central + levels.reduce((total, each) => total + each, 0);
          if (pieces > found.pieces) continue;
          const share = servedBy(leadTime, THREE, central, levels);
          if (share < target - 1e-12) continue;
          if (pieces < fewest || (pieces === fewest && share > served)) [fewest, served] = [pieces, share];
        }
      }
      expect(found.pieces).toBe(fewest);
      expect(found.served).toBeCloseTo(served, 12);
      expect(
        servedBy(
          leadTime,
          THREE,
          found.central,
          found.stores.map(({ level }) => level),
        ),
      ).toBeCloseTo(found.served, 12);
    }
  });
});

/**
 * A plain run by moments alone: piece k leaves the central store when it is asked for, or when the order of the piece asked for
 * `level` pieces before it has come; a local store hands out its j-th piece once the piece asked for `level` before it has arrived. Share
 * served at once with its standard error, by blocks.
 */
function run(
  { leadTime, stores }: Pick<TwoLevelGoal, 'leadTime' | 'stores'>,
  central: number,
  levels: readonly number[],
  { seed, blocks, perBlock }: { seed: number; blocks: number; perBlock: number },
) {
  const random = randomStream(seed, 'levels');
  const total = demandOf(stores);
  const asked: number[] = [];
  const arrivals: number[][] = stores.map(() => []);
  const shares: number[] = [];
  let now = 0;
  for (let block = -1; block < blocks; block++) {
    let served = 0;
    for (let i = 0; i < perBlock; i++) {
      now -= Math.log(random.uniform()) / total;
      let left = random.uniform() * total;
      let s = 0;
      while (left >= itemAt(stores, s).demandPerTime && s < stores.length - 1) {
        left -= itemAt(stores, s).demandPerTime;
        s += 1;
      }
      asked.push(now);
      const covered = asked.length - 1 - central;
      const leaves = covered < 0 ? now : Math.max(now, itemAt(asked, covered) + leadTime);
      const { transportTime } = itemAt(stores, s);
      const own = itemAt(arrivals, s);
      const level = itemAt(levels, s);
      if (transportTime === null) served += leaves === now ? 1 : 0;
      else {
        const before = own.length - level;
        own.push(leaves + transportTime);
        const piece = level === 0 ? Infinity : before < 0 ? 0 : itemAt(own, before);
        served += piece <= now ? 1 : 0;
      }
    }
    if (block >= 0) shares.push(served / perBlock);
  }
  const mean = shares.reduce((a, b) => a + b, 0) / shares.length;
  const spread = shares.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (shares.length - 1);
  return { mean, error: Math.sqrt(spread / shares.length) };
}

describe('a plain run of both levels', () => {
  const goal = { leadTime: 60, stores: THREE, target: 0.9 };
  it('serves what the exact levels promise, and tells that from one level put wrong', () => {
    const found = twoLevelLevels(goal);
    const levels = found.stores.map(({ level }) => level);
    const seen = run(goal, found.central, levels, { seed: 31, blocks: 40, perBlock: 20_000 });
    const oneLess = servedBy(60, THREE, found.central - 1, levels);
    const effect = found.served - oneLess;
    expect(seen.error).toBeLessThan(effect / 8);
    expect(Math.abs(seen.mean - found.served)).toBeLessThan(4 * seen.error);
    expect(Math.abs(seen.mean - oneLess)).toBeGreaterThan(4 * seen.error);
  });
  it('over the counter of the central store too', () => {
    const stores = [...THREE.slice(0, 2), { name: 'counter', demandPerTime: 0.05, transportTime: null }];
    const found = twoLevelLevels({ ...goal, stores });
    expect(found.stores[2]?.level).toBe(0);
    const levels = found.stores.map(({ level }) => level);
    const seen = run({ ...goal, stores }, found.central, levels, { seed: 32, blocks: 40, perBlock: 20_000 });
    const shares = servedAt({ leadTime: 60, stores, central: found.central - 1 }, demandOf(stores));
    const oneLess = shares.reduce(
      (all, { weight, fill, counter }, i) => all + weight * (counter ?? (fill[itemAt(levels, i)] as number)),
      0,
    );
    expect(seen.error).toBeLessThan((found.served - oneLess) / 8);
    expect(Math.abs(seen.mean - found.served)).toBeLessThan(4 * seen.error);
  });
});

describe('two moments beside the exact split', () => {
  /** Largest difference in the share served by a store, over central levels, lead times and local levels. */
  function worst(shares: readonly number[]): number {
    const stores = shares.map((share, i) => ({
      name: `${i}`,
      demandPerTime: 0.1 * share,
      transportTime: 5,
    }));
    let most = 0;
    for (const leadTime of [10, 30, 60, 120]) {
      for (let central = 0; central < 20; central++) {
        const exact = servedAt({ leadTime, stores, central }, 0.1);
        const fast = servedAt({ leadTime, stores, central, method: 'twoMoment' }, 0.1);
        exact.forEach(({ fill }, i) => {
          const other = itemAt(fast, i).fill;
          for (let level = 1; level < Math.min(fill.length, other.length); level++) {
            most = Math.max(most, Math.abs((fill[level] as number) - (other[level] as number)));
          }
        });
      }
    }
    return most;
  }
  it('are good where many stores share the demand, and not where one has most of it', () => {
    // What is owed to one store alone is a Poisson number cut at 0, with a heap there that a negative binomial does not have; the
    // thinner a store's part of it, the nearer it is to Poisson. Found: 0.0023, 0.0076, 0.046.
    expect(worst(new Array(10).fill(0.1))).toBeLessThan(0.003);
    expect(worst(new Array(5).fill(0.2))).toBeLessThan(0.01);
    expect(worst([0.8, 0.2])).toBeLessThan(0.05);
    expect(worst([0.8, 0.2])).toBeGreaterThan(0.03);
  });
  it('lead to the same pieces for five stores', () => {
    const stores = Array.from({ length: 5 }, (_, i) => {
      return { name: `${i}`, demandPerTime: 0.02, transportTime: 3 + i };
    });
    for (const target of [0.8, 0.9, 0.95, 0.99]) {
      const exact = twoLevelLevels({ leadTime: 60, stores, target });
      const fast = twoLevelLevels({ leadTime: 60, stores, target, method: 'twoMoment' });
      expect(Math.abs(fast.pieces - exact.pieces)).toBeLessThanOrEqual(1);
    }
  });
});

describe('known ends', () => {
  it('one store at no distance needs what a single store needs', () => {
    const found = twoLevelLevels({
      leadTime: 50,
      stores: [{ name: 'counter', demandPerTime: 0.04, transportTime: null }],
      target: 0.95,
    });
    // Poisson with mean 2: P(D <= 4) = 0.9473, P(D <= 5) = 0.9834, so that six pieces are needed.
    expect(found).toEqual({
      central: 6,
      pieces: 6,
      served: expect.closeTo(0.98343639, 7),
      stores: [{ name: 'counter', level: 0, served: expect.closeTo(0.98343639, 7) }],
    });
  });
  it('a target of nothing needs nothing, and a higher one never fewer pieces', () => {
    expect(twoLevelLevels({ leadTime: 30, stores: THREE, target: 0 }).pieces).toBe(0);
    let before = 0;
    for (const target of [0.5, 0.8, 0.9, 0.99, 0.999, 0.999999]) {
      const { pieces } = twoLevelLevels({ leadTime: 30, stores: THREE, target });
      expect(pieces).toBeGreaterThanOrEqual(before);
      before = pieces;
    }
  });
  it('a store without demand gets nothing', () => {
    const stores = [...THREE, { name: 'idle', demandPerTime: 0, transportTime: 3 }];
    expect(twoLevelLevels({ leadTime: 30, stores, target: 0.95 }).stores[3]?.level).toBe(0);
  });
  it('refuses nonsense', () => {
    const good = { leadTime: 30, stores: THREE, target: 0.9 };
    const bad = (change: Partial<TwoLevelGoal>, words: RegExp): void => {
      expect(() => twoLevelLevels({ ...good, ...change })).toThrow(words);
    };
    bad({ leadTime: -1 }, /leadTime/);
    bad({ leadTime: Number.NaN }, /leadTime/);
    bad({ target: 1 }, /target/);
    bad({ target: -0.1 }, /target/);
    bad({ stores: [] }, /some store must have demand/);
    bad({ stores: [{ name: 'a', demandPerTime: -1, transportTime: 1 }] }, /stores\[0\].demandPerTime/);
    bad({ stores: [{ name: 'a', demandPerTime: 1, transportTime: Infinity }] }, /stores\[0\].transportTime/);
    bad({ leadTime: 1e5 }, /at most 400 pieces/);
  });
});
