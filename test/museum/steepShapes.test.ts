/** Shapes above 29, whose hazard at the first ages is too small for a number. */
import { describe, expect, it } from 'vitest';
import { chooseAge } from '../../lib/interval/chooseAge.js';
import { meanLife } from '../../lib/life/distribution/index.js';

describe('a wear-out so steep that its early hazard underflows', () => {
  // The hazard stayed 0 to the end: nothing leaked before it was used up, and the answer was to run until it leaks.
  it.each([25, 29, 30, 50, 200])('shape %d: is replaced before it wears out', (shape) => {
    const model = { kind: 'weibull' as const, shape, scale: 1000 };
    const best = chooseAge(model, { replacement: 1, leak: 1000 });
    expect(best.action).toBe('replace');
    // At the optimum the hazard is rate / (leak - replacement).
    const hazard = (shape / 1000) * ((best.age ?? 0) / 1000) ** (shape - 1);
    expect(Math.abs((hazard * 999) / best.costRate - 1)).toBeLessThan(1e-9);
    expect(Math.abs((best.costRateRun * meanLife(model)) / 1000 - 1)).toBeLessThan(1e-11);
  });
});
