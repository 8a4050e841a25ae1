import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { chooseAge, costRate } from '../../lib/interval/chooseAge.js';
import { drawLives, meanLife, survival } from '../../lib/life/distribution/index.js';
import type { LifeModel } from '../../lib/life/model.js';
import { randomStream } from '../../lib/numeric/random.js';

const weibull = { kind: 'weibull' as const, shape: 3, scale: 900 };

describe('chooseAge', () => {
  it.each([
    ['no wear-out', { kind: 'weibull', shape: 1, scale: 900 }, 10],
    ['a falling leak rate', { kind: 'weibull', shape: 0.7, scale: 900 }, 10],
    ['an exponential', { kind: 'exponential', scale: 900 }, 10],
    ['a leak no dearer than a replacement', weibull, 1],
    ['a leak cheaper than a replacement', weibull, 0.5],
  ] as [string, LifeModel, number][])('runs with %s', (_, model, leak) => {
    const chosen = chooseAge(model, { replacement: 1, leak });
    expect(chosen.action).toBe('run');
    expect(chosen.age).toBeNull();
    expect(chosen.costRate).toBeCloseTo(leak / meanLife(model), 12);
    expect(chosen.within2percent[1]).toBeNull();
  });

  it('finds the deepest of two minima made by fitting faults', () => {
    // Faulty fittings leak round 60 days and cost much: replacing before then is a minimum, and after wear-out is another.
    const model = {
      kind: 'weibull' as const,
      shape: 4,
      scale: 900,
      fault: { share: 0.5, shape: 6, scale: 60 },
    };
    const costs = { replacement: 1, leak: { early: 3, wear: 20 } };
    const ages = Array.from({ length: 4000 }, (_, i) => 1 + i / 2);
    const rates = ages.map((age) => costRate(model, age, costs));
    const minima = ages.filter(
      (_, i) => (rates[i] ?? 0) < (rates[i - 1] ?? Infinity) && (rates[i] ?? 0) < (rates[i + 1] ?? Infinity),
    );
    expect(minima).toHaveLength(2);
    const chosen = chooseAge(model, costs);
    expect(chosen.costRate).toBeLessThanOrEqual(Math.min(...rates));
    const [early, late] = minima as [number, number];
    const deeper = costRate(model, early, costs) < costRate(model, late, costs) ? early : late;
    expect(Math.abs((chosen.age ?? 0) - deeper)).toBeLessThan(0.5);
    // With dear early leaks the other one is deeper.
    const other = chooseAge(model, { replacement: 1, leak: { early: 40, wear: 20 } });
    expect(Math.abs((other.age ?? 0) - (chosen.age ?? 0))).toBeGreaterThan(100);
  });

  it('openings that renew the diaphragm make replacing later worth while, and cost what they cost', () => {
    const plain = chooseAge(weibull, { replacement: 1, leak: 10 });
    const opened = chooseAge(weibull, { replacement: 1, leak: 10, opening: { rate: 0.002, cost: 1 } });
    expect(opened.age ?? 0).toBeGreaterThan(plain.age ?? 0);
    // No wear-out and an opening: leaks at 1 / 900 and openings at their rate, whatever the age.
    const steady = { kind: 'exponential' as const, scale: 900 };
    const costs = { replacement: 1, leak: 10, opening: { rate: 0.002, cost: 3 } };
    expect(costRate(steady, Infinity, costs)).toBeCloseTo(10 / 900 + 0.006, 12);
  });

  it('agrees with a closed form: uniform hazard and replacement at T', () => {
    // Exponential with mean m: cost rate = [c e^(-T/m) + k (1 - e^(-T/m))] / [m (1 - e^(-T/m))].
    const m = 500;
    const gone = 1 - Math.exp(-200 / m);
    const expected = (1 * (1 - gone) + 8 * gone) / (m * gone);
    expect(costRate({ kind: 'exponential', scale: m }, 200, { replacement: 1, leak: 8 })).toBeCloseTo(
      expected,
      13,
    );
  });

  it.each([
    { kind: 'lognormal', mu: Math.log(800), sigma: 0.4 },
    { kind: 'loglogistic', shape: 4, scale: 800 },
  ] as LifeModel[])('serves $kind: no age on a fine grid is cheaper', (model) => {
    const costs = { replacement: 1, leak: 10 };
    const chosen = chooseAge(model, costs);
    expect(chosen.action).toBe('replace');
    for (let age = 20; age < 3000; age += 3) {
      expect(costRate(model, age, costs)).toBeGreaterThanOrEqual(chosen.costRate * (1 - 1e-12));
    }
    // By the trapezoid rule with steps of a tenth of a day.
    const age = chosen.age ?? 0;
    const n = Math.round(age * 10);
    let uptime = 0;
    for (let i = 0; i < n; i++) uptime += survival(model, ((i + 0.5) * age) / n) * (age / n);
    const s = survival(model, age);
    expect(Math.abs((s + 10 * (1 - s)) / uptime / chosen.costRate - 1)).toBeLessThan(1e-7);
  });

  it('is what a plain simulation of cycles costs, within 4 standard errors', () => {
    const model = {
      kind: 'weibull' as const,
      shape: 2.5,
      scale: 700,
      fault: { share: 0.04, shape: 0.8, scale: 12 },
    };
    const random = randomStream(20_260, 'cost rate');
    const [count, age, rate] = [400_000, 400, 0.0004];
    const lives = drawLives(model, count, random);
    // Ratio estimate: cost and time of each cycle, and the standard error of their ratio by linearisation.
    let [cost, time, squares] = [0, 0, 0];
    const cycles = Array.from(lives, (life) => {
      const opening = -Math.log(random.uniform()) / rate;
      const end = Math.min(life, opening, age);
      return { end, cost: end === life ? 9 : end === opening ? 2 : 1 };
    });
    for (const cycle of cycles) {
      cost += cycle.cost;
      time += cycle.end;
    }
    const ratio = cost / time;
    for (const cycle of cycles) squares += (cycle.cost - ratio * cycle.end) ** 2;
    const error = Math.sqrt(squares) / time;
    const formula = costRate(model, age, { replacement: 1, leak: 9, opening: { rate, cost: 2 } });
    // Leaving openings out moves the rate by far more than eight of these errors.
    expect(Math.abs(costRate(model, age, { replacement: 1, leak: 9 }) - formula)).toBeGreaterThan(8 * error);
    expect(Math.abs(ratio - formula)).toBeLessThan(4 * error);
  });
});

describe('chooseAge refuses nonsense', () => {
  it.each([0, -1, Number.NaN, Infinity])('a replacement that costs %d', (replacement) => {
    expect(() => chooseAge(weibull, { replacement, leak: 10 })).toThrow(UsageError);
  });
  it.each([0, -5, Number.NaN])('a leak that costs %d', (leak) => {
    expect(() => chooseAge(weibull, { replacement: 1, leak })).toThrow(
      /cost of a leak must be a finite number above 0/,
    );
    expect(() => chooseAge(weibull, { replacement: 1, leak: { early: leak, wear: 3 } })).toThrow(UsageError);
  });
  it('openings, models and ages', () => {
    const costs = { replacement: 1, leak: 10 };
    expect(() => chooseAge(weibull, { ...costs, opening: { rate: -1, cost: 1 } })).toThrow(UsageError);
    expect(() => chooseAge({ ...weibull, shape: 0 }, costs)).toThrow(UsageError);
    expect(() => chooseAge({ ...weibull, fault: { share: 1, shape: 1, scale: 1 } }, costs)).toThrow(
      UsageError,
    );
    expect(() => costRate(weibull, 0, costs)).toThrow(UsageError);
    expect(() => costRate(weibull, Number.NaN, costs)).toThrow(UsageError);
  });
});
