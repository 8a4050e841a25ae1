/** More rows than are sorted: merged by hash, or left as they are, and searched from the best place of some of them. */
import { describe, expect, it } from 'vitest';
import { fitRegression } from '../../../lib/life/estimate/regression/fitRegression.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { randomStream } from '../../../lib/numeric/random.js';

const ROWS = 24_000;
const LINES = ['a', 'b', 'c', 'd', 'e', 'f'];

function lives(round: (age: number) => number): {
  age: number[];
  upper: number[];
  line: string[];
  load: number[];
} {
  const random = randomStream(31, 'many rows');
  const line = Array.from({ length: ROWS }, () => LINES[random.below(6)] as string);
  const load = line.map(() => random.below(3));
  const life = load.map((x) => round(300 * Math.exp(0.2 * x) * (-Math.log(random.uniform())) ** 0.5));
  const age = life.map((days) => Math.min(days, 350));
  return { age, upper: life.map((days) => (days <= 350 ? days : Infinity)), line, load };
}

describe('24 000 lives', () => {
  it('in whole days are those of their distinct rows with counts', () => {
    const { age, upper, line, load } = lives((x) => Math.ceil(x / 10) * 10);
    const all = fitRegression(lifeSample({ lower: age, upper }), { line, load }, { kind: 'weibull' });
    const places = new Map<string, number>();
    const count: number[] = [];
    const first: number[] = [];
    age.forEach((_, i) => {
      const key = [age[i], upper[i], line[i], load[i]].join('/');
      const k = places.get(key) ?? count.length;
      places.set(key, k);
      if (count[k] === undefined) first.push(i);
      count[k] = (count[k] ?? 0) + 1;
    });
    const pick = <T>(column: T[]): T[] => first.map((i) => column[i] as T);
    const few = fitRegression(
      lifeSample({ lower: pick(age), upper: pick(upper), count }),
      { line: pick(line), load: pick(load) },
      { kind: 'weibull', covariance: 'plain' },
    );
    expect(first.length).toBeLessThan(2000);
    for (const [name, value] of Object.entries(few.coefficients)) {
      const error = few.standardErrors[name] as number;
      expect(Math.abs((all.coefficients[name] as number) - value)).toBeLessThan(1e-6 * error);
      expect((all.standardErrors[name] as number) / error).toBeCloseTo(1, 7);
    }
  });

  it('of distinct ages give the same as columns of zeros and ones', () => {
    const { age, upper, line, load } = lives((x) => x);
    const sample = lifeSample({ lower: age, upper });
    const byFactor = fitRegression(sample, { line, load }, { kind: 'weibull' });
    const zeroOne = LINES.slice(1).map((name) => [`is ${name}`, line.map((x) => (x === name ? 1 : 0))]);
    const byColumn = fitRegression(sample, { ...Object.fromEntries(zeroOne), load }, { kind: 'weibull' });
    const want = Object.values(byColumn.coefficients);
    const errors = Object.values(byColumn.standardErrors);
    Object.values(byFactor.coefficients).forEach((value, j) => {
      expect(Math.abs(value - (want[j] as number))).toBeLessThan(1e-6 * (errors[j] as number));
    });
    expect(byFactor.logLikelihood).toBeCloseTo(byColumn.logLikelihood, 5);
  });
});
