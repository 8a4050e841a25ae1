/**
 * Age replacement against values computed outside the library: ageReplacement.json, which ageReplacement.py makes with
 * scipy. The same cases were computed before with 40-digit arithmetic and with R (`optimize`, `integrate`), whose
 * digits stand beside the checks where they are not the same to the last one shown.
 * Source of the method: Barlow & Proschan 1965, ch. 4; fitting faults: Chan & Meeker 1999 (both from memory).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chooseAge, costRate } from '../../lib/interval/chooseAge.js';
import { singleDraw, weibullCycle } from '../../lib/interval/cycle.js';
import { leastCost } from '../../lib/interval/leastCost.js';
import { safestAct } from '../../lib/interval/survivalTarget.js';
import { survival } from '../../lib/life/distribution/index.js';
import { gaussHermite } from './gaussHermite.js';

interface Best {
  age: number;
  rate: number;
  run: number;
}
interface Reference {
  leastCost: (Best & { shape: number; ratio: number })[];
  curve: { shape: number; replacement: number; leak: number; points: { age: number; rate: number }[] };
  wholeLeakCost: Best;
  faults: Best;
  stops: Record<'whole' | 'shared' | 'free', Best>;
  expected: { age: number; rate: number; within2percent: [number, number] };
  survivalTarget: { fresh: number; left: Record<string, number>; firstAgeWhereReplacingHelps: number };
}

const reference = JSON.parse(
  readFileSync(new URL('./ageReplacement.json', import.meta.url), 'utf8'),
) as Reference;

function close(value: number | null, expected: number, relative: number): void {
  expect(Math.abs((value ?? Number.NaN) / expected - 1)).toBeLessThan(relative);
}

describe('least cost age of a Weibull', () => {
  it.each(reference.leastCost)(
    'E1: shape $shape, leak $ratio times a replacement',
    ({ shape, ratio, age, rate, run }) => {
      const chosen = chooseAge({ kind: 'weibull', shape, scale: 1 }, { replacement: 1, leak: ratio });
      expect(chosen.action).toBe('replace');
      close(chosen.age, age, 1e-9);
      close(chosen.costRate, rate, 1e-9);
      close(chosen.costRateRun, run, 1e-9);
    },
  );

  it('E9: cost rates at fixed ages, shape 2, ratio 5', () => {
    const { shape, replacement, leak, points } = reference.curve;
    expect(points).toHaveLength(8);
    for (const { age, rate } of points) {
      close(costRate({ kind: 'weibull', shape, scale: 1 }, age, { replacement, leak }), rate, 1e-10);
    }
  });

  it('takes the cost of a leak as the whole, not as the extra over a replacement', () => {
    // A replacement of 1 and an extra of 4: the leak costs 5. As an extra it would be 554.15, added twice 466.10.
    const chosen = chooseAge({ kind: 'weibull', shape: 3, scale: 1000 }, { replacement: 1, leak: 5 });
    close(chosen.age, reference.wholeLeakCost.age, 1e-9);
    expect(chosen.age).toBeCloseTo(502.61, 2);
    expect(chosen.costs).toEqual({ replacement: 1, earlyLeak: 5, wearLeak: 5, opening: 0 });
  });
});

describe('with fitting faults', () => {
  const model = {
    kind: 'weibull' as const,
    shape: 3,
    scale: 900,
    fault: { share: 0.03, shape: 0.8, scale: 10 },
  };
  const costs = { replacement: 1, leak: { early: 4, wear: 10 } };

  it('K9: finds the age and its cost', () => {
    const chosen = chooseAge(model, costs);
    // Found before by function values alone: 357.78110 (1e-8 away), 0.004741011675451547.
    close(chosen.age, reference.faults.age, 1e-9);
    close(chosen.age, 357.78110060466554, 1e-7);
    close(chosen.costRate, reference.faults.rate, 1e-10);
    close(chosen.costRateRun, reference.faults.run, 1e-9);
  });

  it('K9: one Weibull over everything would be 66 % dearer', () => {
    close(costRate(model, 762.4165591687777, costs), 0.007861009681611563, 1e-9);
    close(costRate(model, 344.209983146334, costs), 0.004747701755795458, 1e-9);
  });

  it('K10: a fresh diaphragm can be the riskier one: leaving it is better until 132 days of age', () => {
    const { fresh, left, firstAgeWhereReplacingHelps } = reference.survivalTarget;
    const draws = singleDraw(3, 900, model.fault);
    for (const [age, share] of Object.entries(left)) {
      const act = safestAct(draws, Number(age), 180, draws, { target: 0.98 });
      close(act.left, share, 1e-10);
      close(act.replaced, fresh, 1e-10);
    }
    expect(safestAct(draws, firstAgeWhereReplacingHelps, 180).act).toBe('replace');
    expect(safestAct(draws, firstAgeWhereReplacingHelps - 1, 180).act).toBe('leave');
    // Neither act meets 0.98 at 180 days of age; the one left at 30 days does.
    expect(safestAct(draws, 180, 180, draws, { target: 0.98 }).meetsTarget).toBe(false);
    expect(safestAct(draws, 30, 180, draws, { target: 0.98 }).meetsTarget).toBe(true);
    close(survival(model, 180), fresh, 1e-12);
  });
});

describe('who pays for the stop', () => {
  it.each([
    ['whole', 16_300],
    ['shared', 700],
    ['free', 300],
  ] as const)('K18, %s: a replacement costs %d, a leak 40 000', (who, replacement) => {
    const chosen = chooseAge({ kind: 'weibull', shape: 3, scale: 900 }, { replacement, leak: 40_000 });
    close(chosen.age, reference.stops[who].age, 1e-9);
    close(chosen.costRate, reference.stops[who].rate, 1e-9);
    close(chosen.costRateRun, reference.stops[who].run, 1e-9);
  });
});

describe('expected cost over what is not known', () => {
  // log shape ~ N(log 3, 0.3²), log scale ~ N(log 900, 0.2²), correlation -0.5, by 40 x 40 Gauss-Hermite nodes.
  const { nodes, weights } = gaussHermite(40);
  const pairs = nodes.flatMap((a, i) =>
    nodes.map((b, j) => ({ a, b, weight: (weights[i] ?? 0) * (weights[j] ?? 0) })),
  );
  const draws = {
    shape: Float64Array.from(pairs, ({ a }) => 3 * Math.exp(0.3 * a)),
    scale: Float64Array.from(pairs, ({ a, b }) => 900 * Math.exp(0.2 * (-0.5 * a + Math.sqrt(0.75) * b))),
    share: new Float64Array(pairs.length),
    faultShape: 1,
    faultScale: 100,
  };
  const costs = { replacement: 1, earlyLeak: 10, wearLeak: 10, opening: 0 };
  const weight = Float64Array.from(pairs, (pair) => pair.weight);

  it('K26: the best age, its cost and its 2 % span, exactly', () => {
    const best = leastCost(weibullCycle(draws, { exact: true }), costs, weight);
    close(best.age, reference.expected.age, 1e-9);
    close(best.rate, reference.expected.rate, 1e-10);
    close(best.within2percent[0], reference.expected.within2percent[0], 1e-9);
    close(best.within2percent[1], reference.expected.within2percent[1], 1e-9);
  });

  it('and on the coarse rule that plans use, to 1e-5 of the age and 1e-8 of the cost', () => {
    const best = leastCost(weibullCycle(draws), costs, weight);
    close(best.age, reference.expected.age, 1e-5);
    close(best.rate, reference.expected.rate, 1e-8);
  });

  it('K26: the plug-in claims 8.5 % too little', () => {
    const plugIn = chooseAge({ kind: 'weibull', shape: 3, scale: 900 }, { replacement: 1, leak: 10 });
    close(plugIn.age, 344.209983146334, 1e-7);
    expect(reference.expected.rate / plugIn.costRate - 1).toBeCloseTo(0.08521, 5);
  });
});
