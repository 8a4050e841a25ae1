import { describe, expect, it } from 'vitest';
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { type LocalStore, type TwoLevelInput, twoLevelStock } from '../../lib/stock/twoLevelStock.js';

const FIVE: LocalStore[] = Array.from({ length: 5 }, () => ({
  level: 2,
  demandPerTime: 0.02,
  transportTime: 10,
}));

/** Plain run of both levels, first asked first served: pieces owed by all local stores, and their share served at once. */
function run({ central, stores }: TwoLevelInput, seed: number, blocks: number, perBlock: number) {
  const random = randomStream(seed, 'two levels');
  const total = stores.reduce((sum, { demandPerTime }) => sum + demandPerTime, 0);
  // Net stock of each store; what comes where and when, in two queues in order of time (equal transport times).
  const net = stores.map(({ level }) => level);
  const toCentral: number[] = [];
  const toStore: { moment: number; store: number }[] = [];
  const owedTo: number[] = [];
  let [centralShelf, now] = [central.level, 0];
  let [owedTime, time] = [0, 0];
  const transport = itemAt(stores, 0).transportTime;
  const owed = (): number => net.reduce((sum, each) => sum + Math.max(0, -each), 0);
  const pass = (moment: number): void => {
    owedTime += owed() * (moment - now);
    time += moment - now;
    now = moment;
  };
  const send = (store: number): void => {
    toStore.push({ moment: now + transport, store });
  };
  const advance = (until: number): void => {
    for (;;) {
      const first = toCentral[0] ?? Infinity;
      const second = toStore[0]?.moment ?? Infinity;
      const next = Math.min(first, second);
      if (next > until) break;
      pass(next);
      if (second <= first) {
        const { store } = toStore.shift() as { store: number };
        net[store] = itemAt(net, store) + 1;
      } else {
        toCentral.shift();
        const waiting = owedTo.shift();
        if (waiting === undefined) centralShelf += 1;
        else send(waiting);
      }
    }
    pass(until);
  };
  const rows: { owed: number; fill: number }[] = [];
  for (let block = -1; block < blocks; block++) {
    let filled = 0;
    [owedTime, time] = [0, 0];
    for (let k = 0; k < perBlock; k++) {
      advance(now - Math.log(random.uniform()) / total);
      let left = random.uniform() * total;
      const store = Math.max(
        0,
        stores.findIndex(({ demandPerTime }) => {
          left -= demandPerTime;
          return left < 0;
        }),
      );
      if (itemAt(net, store) > 0) filled += 1;
      net[store] = itemAt(net, store) - 1;
      toCentral.push(now + central.leadTime);
      if (centralShelf > 0) {
        centralShelf -= 1;
        send(store);
      } else owedTo.push(store);
    }
    if (block >= 0) rows.push({ owed: owedTime / time, fill: filled / perBlock });
  }
  const seen = (values: number[]) => {
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    const spread = values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (values.length - 1);
    return { mean, error: Math.sqrt(spread / values.length) };
  };
  return { owed: seen(rows.map((row) => row.owed)), fill: seen(rows.map((row) => row.fill)) };
}

describe('five stores of two behind a central store of four', () => {
  const input = { central: { level: 4, leadTime: 60 }, stores: FIVE };
  const exact = twoLevelStock(input);
  it('agrees with a plain run, which the one-moment model does not', () => {
    const oneMoment = twoLevelStock({ ...input, method: 'oneMoment' });
    const { owed, fill } = run(input, 21, 40, 10_000);
    const effect = exact.expectedShortage - oneMoment.expectedShortage;
    expect(owed.error).toBeLessThan(effect / 8);
    expect(Math.abs(exact.expectedShortage - owed.mean)).toBeLessThan(4 * owed.error);
    expect(Math.abs(oneMoment.expectedShortage - owed.mean)).toBeGreaterThan(4 * owed.error);
    expect(Math.abs((exact.stores[0]?.fillRate as number) - fill.mean)).toBeLessThan(4 * fill.error);
  });
  it('the one-moment model owes a third too little, two moments are within one in a hundred', () => {
    const share = (method: 'oneMoment' | 'twoMoment'): number =>
      twoLevelStock({ ...input, method }).expectedShortage / exact.expectedShortage - 1;
    expect(share('oneMoment')).toBeCloseTo(-0.3179, 4);
    expect(Math.abs(share('twoMoment'))).toBeLessThan(0.01);
  });
});

describe('known ends', () => {
  it('F2: one store next door owes what the central one does: mean and variance of (N - S)+', () => {
    for (const [mean, level, owed, variance] of [
      [0.2, 1, 0.01873075307798186, 0.020918405811149815],
      [1, 2, 0.10363832351432696, 0.1498618920419281],
      [1, 6, 9.473792185355435e-5, 0.00012048623304008411],
      [2.5, 3, 0.4131956096908741, 0.763138793578426],
      [2.5, 7, 0.005741411551871832, 0.009598964187252168],
    ] as const) {
      const { central, stores } = twoLevelStock({
        central: { level, leadTime: mean },
        stores: [{ level: 0, demandPerTime: 1, transportTime: 0 }],
      });
      expect(central.expectedShortage / owed).toBeCloseTo(1, 10);
      expect((stores[0]?.outstandingMean as number) / owed).toBeCloseTo(1, 10);
      expect((stores[0]?.outstandingVariance as number) / variance).toBeCloseTo(1, 9);
      expect((stores[0]?.expectedShortage as number) / owed).toBeCloseTo(1, 10);
    }
  });
  it('without central stock each store waits for both times, with plenty only for transport', () => {
    const shortage = (level: number): number =>
      itemAt(twoLevelStock({ central: { level, leadTime: 60 }, stores: FIVE }).stores, 0).outstandingMean;
    expect(shortage(0)).toBeCloseTo(0.02 * 70, 12);
    expect(shortage(40)).toBeCloseTo(0.02 * 10, 12);
    const methods = (['exact', 'twoMoment', 'oneMoment'] as const).map(
      (method) =>
        twoLevelStock({ central: { level: 0, leadTime: 60 }, stores: FIVE, method }).expectedShortage,
    );
    expect(methods[1]).toBeCloseTo(itemAt(methods, 0), 12);
    expect(methods[2]).toBeCloseTo(itemAt(methods, 0), 12);
  });
  it('more stock at either level never hurts', () => {
    let before = Infinity;
    for (let level = 0; level < 15; level++) {
      const { expectedShortage } = twoLevelStock({ central: { level, leadTime: 60 }, stores: FIVE });
      expect(expectedShortage).toBeLessThan(before);
      before = expectedShortage;
    }
  });
  it('holds for many pieces, no lead time, a store without demand', () => {
    const many = {
      central: { level: 5000, leadTime: 60 },
      stores: FIVE.map((s) => ({ ...s, demandPerTime: 20 })),
    };
    const [exact, fast] = [twoLevelStock(many), twoLevelStock({ ...many, method: 'twoMoment' })];
    expect(fast.expectedShortage / exact.expectedShortage).toBeCloseTo(1, 4);
    const idle = twoLevelStock({
      central: { level: 0, leadTime: 0 },
      stores: [...FIVE, { level: 1, demandPerTime: 0, transportTime: 3 }],
    });
    expect(idle.stores[5]?.expectedShortage).toBe(0);
    for (const value of Object.values(idle.stores[5] ?? {})) expect(value).not.toBeNaN();
  });
  it('refuses nonsense', () => {
    const input = { central: { level: 1, leadTime: 60 }, stores: FIVE };
    const bad = (change: object, words: RegExp): void => {
      expect(() => twoLevelStock({ ...input, ...change })).toThrow(words);
    };
    bad({ central: { level: -1, leadTime: 60 } }, /level/);
    bad({ central: { level: 1, leadTime: -1 } }, /leadTime/);
    bad({ stores: [] }, /some store must have demand/);
    bad({ stores: [{ level: 1.5, demandPerTime: 1, transportTime: 1 }] }, /level/);
    bad({ stores: [{ level: 1, demandPerTime: -1, transportTime: 1 }] }, /stores\[0\].demandPerTime/);
    bad({ stores: [{ level: 1, demandPerTime: 1, transportTime: Number.NaN }] }, /stores\[0\].transportTime/);
    bad({ method: 'none' }, /method must be/);
    bad({ central: { level: 0, leadTime: 1e6 } }, /use twoMoment/);
    bad({ central: { level: 0, leadTime: 1e9 }, method: 'twoMoment' }, /check the units of time/);
  });
});
