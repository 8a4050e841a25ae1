/**
 * The whole job on real data that nobody here made: valve-seat replacements of 41 diesel engines (Nelson & Doganaksoy
 * 1989, as R's survival package ships them). Published reading, from memory: replacements come at a near constant rate
 * until about 550 days and then rise where few engines are left; R gives a Weibull shape of 0.888 (normal 90 % bounds
 * 0.72 to 1.09, see valveSeat/expected.json). So ages between replacements show no wear-out, and no schedule is
 * supported by them.
 */
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { planFleet } from '../../lib/plan.js';
import type { Plan } from '../../lib/planTypes.js';

let plan: Plan;

beforeAll(async () => {
  plan = planFleet(await readFleet(fileURLToPath(new URL('./valveSeat/', import.meta.url))));
});

describe('the plan for the valve seats', () => {
  it('finds no wear-out: bounds that hold a constant rate, and the shape that R finds for all lives together', () => {
    const [group] = plan.groups;
    expect(plan.groups).toHaveLength(1);
    expect(group?.failures).toBe(48);
    // Eight replacements came within 60 days, so the plan takes early leaks apart from the rest.
    expect(group?.earlyLeaks).toBe(8);
    const [low, high] = group?.bounds.shape ?? [Number.NaN, Number.NaN];
    expect(low).toBeLessThan(0.888);
    expect(high).toBeGreaterThan(1);
    expect(high).toBeLessThan(2);
    expect(plan.intervals[0]?.because).toMatch(/may or may not wear out|no sign of wearing out/);
  });

  it('supports no schedule, and says that none is practised', () => {
    const [interval] = plan.intervals;
    expect(interval?.action).not.toBe('replace');
    expect(interval?.today).toBeNull();
    expect(interval?.days).toBeNull();
  });

  it('claims no saving and prices what it can', () => {
    expect(plan.cost.saving.perYear).toBe(0);
    expect(plan.cost.covers).toBe('downtime only');
    expect(plan.cost.today.leaksPerYear).toBeGreaterThan(0);
  });
});
