import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestMasses } from '../../../lib/life/empirical/bestMasses.js';
import { innermost, type Support } from '../../../lib/life/empirical/turnbullSupport.js';
import { mergeSample } from '../../../lib/life/mergeSample.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { at } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';

/** Lives looked at now and then, each at ages of its own, some first seen at an age. */
function lookedAt(seed: number, lives: number, gap: number, entered: number): LifeSample {
  const random = randomStream(seed, 'test/looked-at');
  const [lower, upper, entry]: number[][] = [[], [], []];
  while ((lower?.length ?? 0) < lives) {
    const age = 900 * Math.sqrt(-Math.log(random.uniform()));
    const from = random.uniform() < entered ? 500 * random.uniform() : 0;
    let [sound, found] = [0, 0];
    while (found < age) [sound, found] = [found, found + gap * random.uniform()];
    if (found > 1200) [sound, found] = [Math.min(sound, 1200), Infinity];
    if (age <= from || found <= from) continue;
    lower?.push(sound);
    upper?.push(found);
    entry?.push(from);
  }
  return mergeSample(lifeSample({ lower: lower ?? [], upper: upper ?? [], entry: entry ?? [] }));
}

/** Slow: self-consistency alone (Turnbull 1976), written by the definition. */
function slowMasses(rows: LifeSample, support: Support, turns: number): { mass: number[]; log: number } {
  const size = support.to.length;
  let mass: number[] = Array.from({ length: size }, () => 1 / size);
  const total = (from: number, to: number): number => mass.slice(from, to).reduce((x, y) => x + y, 0);
  let log = 0;
  for (let turn = 0; turn < turns; turn++) {
    const next = mass.map(() => 0);
    log = 0;
    for (let i = 0; i < rows.lower.length; i++) {
      const [n, first, last] = [at(rows.count, i), at(support.first, i), at(support.last, i)];
      const seen = at(support.seen, i);
      const [own, known] = [total(first, last), total(seen, size)];
      log += n * Math.log(own / known);
      for (let j = first; j < last; j++) next[j] = at(next, j) + (n * at(mass, j)) / own;
      for (let j = 0; j < seen; j++) next[j] = at(next, j) + (n * at(mass, j)) / known;
    }
    const whole = next.reduce((x, y) => x + y, 0);
    mass = next.map((m) => m / whole);
  }
  return { mass, log };
}

describe('bestMasses', () => {
  it.each([
    ['wide intervals that overlap', 1, 40, 900, 0],
    ['narrow ones', 2, 60, 200, 0],
    ['with entries', 3, 40, 500, 0.5],
  ] as const)('agrees with self-consistency carried on for long: %s', (_, seed, lives, gap, entered) => {
    const rows = lookedAt(seed, lives, gap, entered);
    const support = innermost(rows);
    const quick = bestMasses(rows, support, rows.count, 1e-10, 5000);
    const slow = slowMasses(rows, support, 8000);
    expect(quick.converged).toBe(true);
    expect(quick.iterations).toBeLessThan(200);
    // The gap promises 1e-10 for each life; the slow way is behind, by what it still crawls.
    expect(quick.logLikelihood).toBeGreaterThan(slow.log - 1e-10 * lives);
    expect(quick.logLikelihood).toBeLessThan(slow.log + 1e-4);
    let [one, other] = [0, 0];
    for (let j = 0; j < slow.mass.length; j++) {
      one += at(quick.mass, j);
      other += at(slow.mass, j);
      // Near its end self-consistency moves masses that vanish by one part in so many turns: 1 / 8000 and some.
      expect(Math.abs(one - other)).toBeLessThan(1e-3);
    }
  });

  it('meets the conditions of the best: no slope above 1, and 1 where there is mass', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 2, max: 80 }), (seed, lives) => {
        const rows = lookedAt(seed, lives, 700, 0);
        const support = innermost(rows);
        const { mass, converged } = bestMasses(rows, support, rows.count, 1e-10, 5000);
        expect(converged).toBe(true);
        for (let j = 0; j < mass.length; j++) {
          let slope = 0;
          for (let i = 0; i < rows.lower.length; i++) {
            const [first, last] = [at(support.first, i), at(support.last, i)];
            if (j < first || j >= last) continue;
            slope += at(rows.count, i) / mass.subarray(first, last).reduce((x, y) => x + y, 0);
          }
          expect(slope / lives).toBeLessThan(1 + 1e-8);
          // What the slope lacks, times the mass, is what moving the mass could gain.
          expect(at(mass, j) * (1 - slope / lives)).toBeLessThan(1e-8);
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it('is one turn or two for exact ages: equal masses', () => {
    const ages = Array.from({ length: 50 }, (_, i) => 1 + i);
    const rows = mergeSample(lifeSample({ lower: ages, upper: ages }));
    const { mass, iterations } = bestMasses(rows, innermost(rows), rows.count, 1e-10, 5000);
    expect(iterations).toBeLessThan(3);
    mass.forEach((m) => {
      expect(m).toBeCloseTo(0.02, 12);
    });
  });
});
