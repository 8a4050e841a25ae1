/** The age from which a stop that happens anyway is worth taking, against quadrature and a plain simulation. */
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { singleDraw, weibullCycle } from '../../lib/interval/cycle.js';
import { keepingCost, keepingCosts, opportunityAge } from '../../lib/interval/opportunity.js';
import { weigh } from '../../lib/interval/weigh.js';
import { randomStream } from '../../lib/numeric/random.js';
import { exact, RATIO_TEN, TODAY, testPlant, withRemovals } from './fixtures.js';

const COSTS = { replacement: 16, earlyLeak: 100, wearLeak: 100, opening: 10 };
const DAYS = 400;
const FAULT = { share: 0.03, shape: 0.8, scale: 10 };
const cycle = weibullCycle(singleDraw(3, 900, FAULT), { openingsPerDay: 0.0004, exact: true });
const whole = cycle.partsAt(DAYS);
const valueAt = (age: number): number => keepingCost(cycle.partsAt(age), whole, COSTS) as number;

/** Survival to an age, openings left out. */
const alive = (age: number): number =>
  (1 - FAULT.share * -Math.expm1(-((age / FAULT.scale) ** FAULT.shape))) * Math.exp(-((age / 900) ** 3));

describe('what keeping a diaphragm costs above a fresh one', () => {
  it('is nothing when it is fresh and a replacement when its interval is up', () => {
    expect(Math.abs(valueAt(1e-9))).toBeLessThan(1e-6);
    expect(valueAt(DAYS)).toBeCloseTo(COSTS.replacement, 9);
  });

  it('falls below nothing while a fresh one may still have a fitting fault', () => {
    expect(valueAt(10)).toBeLessThan(-0.5);
  });

  it('is that of a slow sum day by day', () => {
    const step = 0.05;
    let [time, cost] = [0, 0];
    const paid = new Map<number, { time: number; cost: number }>();
    for (let k = 0; k < DAYS / step; k++) {
      if (Math.abs(k * step - 200) < 1e-9 || k === 0) paid.set(Math.round(k * step), { time, cost });
      const [from, to] = [k * step, (k + 1) * step];
      const opened = Math.exp(-0.0004 * (from + step / 2));
      time += step * opened * 0.5 * (alive(from) + alive(to));
      cost += opened * 100 * (alive(from) - alive(to)) + 10 * 0.0004 * step * opened * alive(from + step / 2);
    }
    cost += COSTS.replacement * alive(DAYS) * Math.exp(-0.0004 * DAYS);
    const at = paid.get(200) as { time: number; cost: number };
    const left = alive(200) * Math.exp(-0.0004 * 200);
    const expected = (cost - at.cost - (cost / time) * (time - at.time)) / left;
    expect(valueAt(200) / expected).toBeCloseTo(1, 3);
  });

  it('is the difference of two simulated plants, one with old diaphragms and one with fresh ones', () => {
    // Paid within 20 000 days from an age of 300 and from 0; the effect is about 9, its standard error must be under 1.1.
    const random = randomStream(20261128, 'old against fresh');
    const [runs, horizon] = [40_000, 20_000];
    const draw = (): { end: number; cost: number } => {
      const wear = 900 * (-Math.log(random.uniform())) ** (1 / 3);
      const faulty = random.uniform() < FAULT.share;
      const early = faulty ? FAULT.scale * (-Math.log(random.uniform())) ** (1 / FAULT.shape) : Infinity;
      const opened = -Math.log(random.uniform()) / 0.0004;
      const end = Math.min(wear, early, opened, DAYS);
      return { end, cost: end === DAYS ? 16 : end === opened ? 10 : 100 };
    };
    const firstFrom = (age: number): { end: number; cost: number } => {
      for (;;) {
        const life = draw();
        if (life.end > age) return { end: life.end - age, cost: life.cost };
      }
    };
    // Runs end at the horizon; what the last cycle will have paid by then is the same for both but for its phase, which is lost.
    const paidFrom = (age: number): number => {
      let { end, cost } = firstFrom(age);
      while (end < horizon) {
        const next = draw();
        if (end + next.end >= horizon) break;
        end += next.end;
        cost += next.cost;
      }
      return cost;
    };
    const differences = Float64Array.from({ length: runs }, () => paidFrom(300) - paidFrom(0));
    const mean = differences.reduce((sum, each) => sum + each, 0) / runs;
    const variance = differences.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (runs - 1);
    const error = Math.sqrt(variance / runs);
    const expected = valueAt(300);
    expect(error).toBeLessThan(expected / 8);
    expect(Math.abs(mean - expected)).toBeLessThan(4 * error);
  });
});

describe('age from which a stop that happens anyway is taken', () => {
  it('is where keeping costs as much as replacing without the stop', () => {
    const values = keepingCosts(cycle, COSTS, DAYS);
    expect(values[values.length - 1]).toEqual({ age: DAYS, value: 16 });
    const stop = { start: TODAY + 50, stopFor: 'replacements' as const };
    const { fleet, grouped } = testPlant(
      [{ shape: 3, scale: 900, failures: 30, todayDays: 730, ages: [10, 200, 300] }],
      { shutdowns: [stop], money: { ...RATIO_TEN, resteriliseCost: exact(60), plannedStopHours: exact(0) } },
    );
    const removed = withRemovals(fleet, [
      { position: 0, removed: TODAY - 100, reason: 'scheduled' as const },
    ]);
    const [group] = grouped.groups;
    if (group === undefined) throw new Error('no group');
    const weighed = weigh(group, groupCost(removed, group), null);
    const { costs } = weighed;
    expect(costs.replacement - costs.opening).toBeCloseTo(60, 6);
    const days = weighed.best.age as number;
    const age = opportunityAge(weighed, days) as number;
    expect(age).toBeLessThan(days);
    const at = (a: number): number =>
      keepingCost(weighed.cycle.partsAt(a), weighed.cycle.partsAt(days), costs) as number;
    expect(at(age - 3)).toBeLessThan(costs.opening);
    expect(at(age + 3)).toBeGreaterThan(costs.opening);
  });

  it('is none without an interval, nor where a stop that happens anyway saves nothing at the best age', () => {
    const { fleet, grouped } = testPlant([
      { shape: 3, scale: 900, failures: 30, todayDays: 730, ages: [10, 200, 300] },
    ]);
    const [group] = grouped.groups;
    if (group === undefined) throw new Error('no group');
    const weighed = weigh(group, groupCost(fleet, group), null);
    expect(opportunityAge(weighed, null)).toBeNull();
    expect(opportunityAge(weighed, Math.floor(weighed.best.age as number))).toBeNull();
    // An interval beyond the best age is passed before it is up.
    const late = opportunityAge(weighed, 1.5 * (weighed.best.age as number)) as number;
    expect(late).toBeLessThan(1.5 * (weighed.best.age as number));
  });
});
